# Needs: the cut pieces of all sizes, and what reading found.
# Makes: <work>/<pattern>/checked.json, and findings.json with the same until a bundle knows more; then the gate, which
# lets those patterns on that have nothing that blocks.


def reading_of(wildcards):
    """What reading each size found; nothing for a pattern whose pattern.toml was refused."""
    pattern = BUILDS.get(wildcards.pattern)
    return [WORK / wildcards.pattern / "read" / f"{size}.json" for size in pattern.sizes] if pattern else []


rule findings:
    input:
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
        read=reading_of,
        pieces=lambda wildcards: pieces_of(wildcards) if wildcards.pattern in BUILDS else [],
        kept=lambda wildcards: SOURCES[wildcards.pattern].kept("lays.json", "layout.json"),
    output:
        checked=WORK / "{pattern}/checked.json",
    log:
        WORK / "{pattern}/log/findings.log",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        pictures=lambda wildcards: WORK / wildcards.pattern / "proof",
        told=lambda wildcards: plan.digest(SOURCES[wildcards.pattern].findings),
        code=plan.code_digest("pipeline.steps.findings"),
    shell:
        "{PYTHON:q} -m pipeline.steps.findings --log {log:q} --folder {params.folder:q}"
        " --read {input.read:q} --pieces {input.pieces:q} --checked {output.checked:q}"
        " --pictures {params.pictures:q}"


checkpoint gate:
    input:
        checked=expand(WORK / "{pattern}/checked.json", pattern=SOURCES),
    output:
        gate=WORK / "gate.json",
    log:
        WORK / "log/gate.log",
    params:
        code=plan.code_digest("pipeline.steps.gate"),
    shell:
        "{PYTHON:q} -m pipeline.steps.gate --log {log:q} --checked {input.checked:q} --gate {output.gate:q}"


rule check:
    input:
        gate=rules.gate.output.gate,
    log:
        WORK / "log/check.log",
    params:
        findings=expand(WORK / "{pattern}/findings.json", pattern=SOURCES),
    shell:
        "{PYTHON:q} -m pipeline.steps.verdict --log {log:q} --findings {params.findings:q}"

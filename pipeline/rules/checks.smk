# Needs: the cut pieces of all sizes, and what reading found.
# Makes: <work>/<pattern>/findings.json; then the gate, which lets those patterns on that have nothing that blocks.


def reading_of(wildcards):
    """What reading each size found; nothing for a pattern whose pattern.toml was refused."""
    pattern = BUILDS.get(wildcards.pattern)
    return [WORK / wildcards.pattern / "read" / f"{size}.json" for size in pattern.sizes] if pattern else []


rule findings:
    input:
        description=lambda wildcards: SOURCES[wildcards.pattern].folder / "pattern.toml",
        read=reading_of,
        pieces=lambda wildcards: pieces_of(wildcards) if wildcards.pattern in BUILDS else [],
    output:
        findings=WORK / "{pattern}/findings.json",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        told=lambda wildcards: plan.digest(SOURCES[wildcards.pattern].findings),
        code=plan.code_digest("pipeline.steps.findings"),
    log:
        WORK / "{pattern}/log/findings.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.findings --log {log:q} --folder {params.folder:q}"
        " --read {input.read:q} --pieces {input.pieces:q} --findings {output.findings:q}"


checkpoint gate:
    input:
        findings=expand(WORK / "{pattern}/findings.json", pattern=SOURCES),
    output:
        gate=WORK / "gate.json",
    params:
        code=plan.code_digest("pipeline.steps.gate"),
    log:
        WORK / "log/gate.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.gate --log {log:q} --findings {input.findings:q} --gate {output.gate:q}"


rule check:
    input:
        findings=rules.gate.input.findings,
        gate=rules.gate.output.gate,
    log:
        WORK / "log/check.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.verdict --log {log:q} --findings {input.findings:q}"

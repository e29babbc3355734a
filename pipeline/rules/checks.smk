# Needs: the cut pieces of all sizes, and what reading found.
# Makes: <work>/<pattern>/checked.json, and a picture of each finding that blocks in proof/; then the gate, which lets those
# patterns on that have nothing that blocks.


def reading_of(wildcards):
    """What reading each size found; nothing for a pattern whose pattern.toml was refused."""
    pattern = BUILDS.get(wildcards.pattern)
    return [WORK / wildcards.pattern / "read" / f"{size}.json" for size in pattern.sizes] if pattern else []


rule findings:
    input:
        found=lambda wildcards: found_file(SOURCES[wildcards.pattern]),
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
        read=reading_of,
        pieces=lambda wildcards: pieces_of(wildcards) if wildcards.pattern in BUILDS else [],
    output:
        checked=WORK / "{pattern}/checked.json",
        pictures=directory(WORK / "{pattern}/proof"),
    log:
        WORK / "{pattern}/log/findings.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "findings"),
    shell:
        STEP + " findings --folder {params.folder:q} --found {input.found:q} --read {input.read:q}"
        " --pieces {input.pieces:q} --checked {output.checked:q} --pictures {output.pictures:q}"


checkpoint gate:
    input:
        checked=expand(WORK / "{pattern}/checked.json", pattern=SOURCES),
    output:
        gate=WORK / OF_RUN / "gate.json",
    log:
        WORK / OF_RUN / "log/gate.log",
    params:
        depends=DEPENDS(OF_RUN, "gate"),
        former=start.former_file(WORK),
    shell:
        STEP + " gate --checked {input.checked:q} --gate {output.gate:q} --work {WORK:q} --former {params.former:q}"


def let_on(wildcards):
    """The patterns that the gate lets on: nothing that was found blocks."""
    return json.loads(Path(checkpoints.gate.get().output.gate).read_bytes())


rule check:
    input:
        gate=rules.gate.output.gate,
        checked=rules.gate.input.checked,
    log:
        WORK / OF_RUN / "log/check.log",
    shell:
        ASIDE + " verdict --findings {input.checked:q} --released"

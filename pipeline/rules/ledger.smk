# Needs: a bundle in its place for `seal`; every built file for `compare`, also where no bundle may be made of them.
# Makes: an entry in source/<pattern>/ledger.json, or <work>/<pattern>/changes.json, and lines for the summary beside the log.


rule sealing:
    input:
        stamp=rules.bundle.output.stamp,
        pieces=pieces_of,
    output:
        asked=touch(temp(WORK / "{pattern}/sealing.done")),
    log:
        WORK / "{pattern}/log/seal.log",
    params:
        folder=folder_of,
        origin=lambda wildcards: SOURCES[wildcards.pattern].origin,
        told=lambda wildcards: WORK / wildcards.pattern / "log/seal.told",
    shell:
        ASIDE + " seal --folder {params.folder:q} --origin {params.origin:q} --work {WORK:q} --stamp {input.stamp:q}"
        " --pieces {input.pieces:q} --told {params.told:q}"


rule comparing:
    input:
        files=rules.changes.input.files,
        pieces=pieces_of,
    output:
        asked=touch(temp(WORK / "{pattern}/comparing.done")),
    log:
        WORK / "{pattern}/log/compare.log",
    threads: 8
    params:
        folder=folder_of,
        origin=lambda wildcards: SOURCES[wildcards.pattern].origin,
        against=config.get("against", ""),
        changes=lambda wildcards: WORK / wildcards.pattern / "changes.json",
        told=lambda wildcards: WORK / wildcards.pattern / "log/compare.told",
    shell:
        ASIDE
        + " compare --folder {params.folder:q} --origin {params.origin:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --files {input.files:q}"
        " --against {params.against:q} --processes {threads} --changes {params.changes:q} --told {params.told:q}"


rule seal:
    input:
        rules.verdict.output.released,
        sealed=lambda wildcards: [WORK / name / "sealing.done" for name in let_on(wildcards)],


rule compare:
    input:
        checked=rules.gate.input.checked,
        compared=lambda wildcards: [WORK / name / "comparing.done" for name in let_on(wildcards)],
    log:
        WORK / OF_RUN / "log/compare.log",
    shell:
        ASIDE + " verdict --findings {input.checked:q} --released"

# Needs: every file of a bundle, built under <work>/<pattern>/out/ by its own name.
# Makes: release/<pattern>/<version>/, which is no output of a rule (outputs are deleted before a job runs); the
# stamp <work>/<pattern>/bundle.json says which bytes were put there. `verdict` ends every run.


rule data:
    input:
        pieces=pieces_of,
    output:
        data=WORK / "{pattern}/out/data/pieces.json",
    log:
        WORK / "{pattern}/log/data.log",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        counts=lambda wildcards: plan.counts_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.data"),
    shell:
        "{PYTHON:q} -m pipeline.steps.data --log {log:q} --folder {params.folder:q} --pieces {input.pieces:q}"
        " --data {output.data:q}"


rule bundle:
    input:
        files=lambda wildcards: [
            WORK / wildcards.pattern / built for built, _ in plan.built_outputs(BUILDS[wildcards.pattern])
        ],
        told=lambda wildcards: [
            WORK / wildcards.pattern / f for f in ("checked.json", "lays-told.json", "tables-told.json")
        ],
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
    output:
        stamp=WORK / "{pattern}/bundle.json",
    log:
        WORK / "{pattern}/log/bundle.log",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        release=RELEASE,
        code=plan.code_digest("pipeline.steps.bundle"),
    shell:
        "{PYTHON:q} -m pipeline.steps.bundle --log {log:q} --folder {params.folder:q} --work {WORK:q}"
        " --told {input.told:q} --release {params.release:q} --stamp {output.stamp:q}"


def released(wildcards):
    """The stamps of the patterns that the gate let on."""
    gate = checkpoints.gate.get().output.gate
    return [WORK / name / "bundle.json" for name in plan.let_on(gate)]


rule verdict:
    input:
        stamps=released,
    output:
        released=touch(WORK / "released"),
    log:
        WORK / "log/verdict.log",
    params:
        findings=expand(WORK / "{pattern}/findings.json", pattern=SOURCES),
    shell:
        "{PYTHON:q} -m pipeline.steps.verdict --log {log:q} --findings {params.findings:q}"


rule verify:
    log:
        WORK / "log/verify.log",
    params:
        patterns=list(SOURCES),
    shell:
        "{PYTHON:q} -m pipeline.steps.verify --log {log:q} --source {SOURCE:q} --release {RELEASE:q} --only {params.patterns:q}"

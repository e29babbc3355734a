# Needs: every file of a bundle, built under <work>/<pattern>/out/ by its own name.
# Makes: release/<pattern>/<version>/, which is no output of a rule (outputs are deleted before a job runs); the
# stamp <work>/<pattern>/bundle.json says which bytes were put there. `verdict` ends every run.


rule data:
    input:
        pieces=pieces_of,
    output:
        data=WORK / "{pattern}/out/data/pieces.json",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        counts=lambda wildcards: plan.counts_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.data"),
    log:
        WORK / "{pattern}/log/data.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.data --log {log:q} --folder {params.folder:q} --pieces {input.pieces:q}"
        " --data {output.data:q}"


rule bundle:
    input:
        files=lambda wildcards: [WORK / wildcards.pattern / "out" / f for f in plan.built_outputs(BUILDS[wildcards.pattern])],
        findings=WORK / "{pattern}/findings.json",
        description=lambda wildcards: SOURCES[wildcards.pattern].folder / "pattern.toml",
        changes=lambda wildcards: SOURCES[wildcards.pattern].folder / "CHANGES.md",
    output:
        stamp=WORK / "{pattern}/bundle.json",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        release=RELEASE,
        code=plan.code_digest("pipeline.steps.bundle"),
    log:
        WORK / "{pattern}/log/bundle.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.bundle --log {log:q} --folder {params.folder:q} --work {WORK:q}"
        " --release {params.release:q} --stamp {output.stamp:q}"


def released(wildcards):
    """The stamps of the patterns that the gate let on."""
    gate = checkpoints.gate.get().output.gate
    return [WORK / name / "bundle.json" for name in plan.let_on(gate)]


rule verdict:
    input:
        findings=rules.gate.input.findings,
        stamps=released,
    output:
        released=touch(WORK / "released"),
    log:
        WORK / "log/verdict.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.verdict --log {log:q} --findings {input.findings:q}"


rule verify:
    params:
        patterns=list(SOURCES),
    log:
        WORK / "log/verify.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.verify --log {log:q} --release {RELEASE:q} --only {params.patterns:q}"

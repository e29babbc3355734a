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
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "data"),
    shell:
        STEP + " data --folder {params.folder:q} --pieces {input.pieces:q} --data {output.data:q}"


def built_of(wildcards):
    """The files that a bundle is made of; of a folder of files, its place."""
    pattern = BUILDS[wildcards.pattern]
    return [
        *sold_from(wildcards),
        *(WORK / wildcards.pattern / built for built, _ in promised.archive_outputs(pattern)),
    ]


def sold_from(wildcards):
    """The same without archives, which are made of these."""
    pattern = BUILDS[wildcards.pattern]
    more = promised.correction_outputs(pattern) if former_of(wildcards) else ()
    return [WORK / wildcards.pattern / built for built, _ in (*promised.built_outputs(pattern), *more)]


def told_of(wildcards):
    """What stages have to tell of what they made."""
    names = ["checked.json", "lays-told.json", "tables-told.json", *["changes-told.json"][: len(former_of(wildcards))]]
    names += [f"drawings-told{ending}.json" for ending in spoken(BUILDS[wildcards.pattern])]
    names += ["archives-told.json"] if BUILDS[wildcards.pattern].channels else []
    return [WORK / wildcards.pattern / name for name in names]


rule archives:
    input:
        files=sold_from,
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
        former=former_of,
    output:
        archives=directory(WORK / "{pattern}/out/archives"),
        findings=WORK / "{pattern}/archives-told.json",
    log:
        WORK / "{pattern}/log/archives.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "archives"),
    shell:
        STEP + " archives --folder {params.folder:q} --work {WORK:q} --former {input.former:q}"
        " --archives {output.archives:q} --findings {output.findings:q}"


rule bundle:
    input:
        files=built_of,
        told=told_of,
        former=former_of,
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
    output:
        stamp=WORK / "{pattern}/bundle.json",
        findings=WORK / "{pattern}/built.json",
    log:
        WORK / "{pattern}/log/bundle.log",
    params:
        folder=folder_of,
        origin=lambda wildcards: SOURCES[wildcards.pattern].origin,
        release=RELEASE,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "bundle"),
    shell:
        STEP + " bundle --folder {params.folder:q} --origin {params.origin:q} --work {WORK:q} --told {input.told:q}"
        " --former {input.former:q}"
        " --release {params.release:q} --stamp {output.stamp:q} --findings {output.findings:q}"


rule verdict:
    input:
        checked=expand(WORK / "{pattern}/checked.json", pattern=SOURCES),
        built=lambda wildcards: [WORK / name / "built.json" for name in let_on(wildcards)],
    output:
        released=WORK / OF_RUN / "released",
    log:
        WORK / OF_RUN / "log/verdict.log",
    params:
        depends=DEPENDS(OF_RUN, "verdict"),
    shell:
        STEP + " verdict --findings {input.built:q} {input.checked:q} --released {output.released:q}"


rule verify:
    log:
        WORK / OF_RUN / "log/verify.log",
    params:
        patterns=list(SOURCES),
        verified=WORK / OF_RUN / "verified.json",
    shell:
        ASIDE + " verify --source {SOURCE:q} --release {RELEASE:q} --only {params.patterns:q}"
        " --verified {params.verified:q}"

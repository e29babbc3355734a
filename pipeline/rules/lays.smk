# Needs: the cut pieces of all sizes; source/<pattern>/lays.json, the best lays found so far.
# Makes: <work>/<pattern>/lays.json, a proven lay for every size, material and width; pictures under <work>/<pattern>/out/lays/.


rule proven_lays:
    input:
        pieces=pieces_of,
        kept=lambda wildcards: SOURCES[wildcards.pattern].kept("lays.json"),
    output:
        lays=WORK / "{pattern}/lays.json",
        findings=WORK / "{pattern}/lays-told.json",
    log:
        WORK / "{pattern}/log/lays.log",
    priority: 10
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        cloth=lambda wildcards: plan.cloth_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.lays"),
    shell:
        "{PYTHON:q} -m pipeline.steps.lays --log {log:q} --folder {params.folder:q} --pieces {input.pieces:q}"
        " --kept {input.kept:q} --lays {output.lays:q} --findings {output.findings:q}"


rule lay_pictures:
    input:
        pieces=pieces_of,
        lays=rules.proven_lays.output.lays,
    output:
        pictures=directory(WORK / "{pattern}/out/lays"),
    log:
        WORK / "{pattern}/log/lay-pictures.log",
    priority: 10
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        texts=lambda wildcards: plan.text_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.lay_pictures"),
    shell:
        "{PYTHON:q} -m pipeline.steps.lay_pictures --log {log:q} --folder {params.folder:q} --work {WORK:q}"
        " --pieces {input.pieces:q} --lays {input.lays:q} --pictures {output.pictures:q}"

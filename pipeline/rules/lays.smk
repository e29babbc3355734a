# Needs: the cut pieces of all sizes; source/<pattern>/lays.json, the best lays found so far.
# Makes: <work>/<pattern>/lays.json, a proven lay for every size, material and width; pictures under <work>/<pattern>/out/lays/.


rule proven_lays:
    input:
        pieces=pieces_of,
        known=lambda wildcards: SOURCES[wildcards.pattern].saved("lays.json"),
    output:
        lays=WORK / "{pattern}/lays.json",
        findings=WORK / "{pattern}/lays-told.json",
    log:
        WORK / "{pattern}/log/lays.log",
    priority: 10
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "lays"),
    shell:
        STEP + " lays --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --kept {input.known:q} --lays {output.lays:q} --findings {output.findings:q}"


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
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "lay-pictures"),
    shell:
        STEP + " lay_pictures --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --lays {input.lays:q} --pictures {output.pictures:q}"

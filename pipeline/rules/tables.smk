# Needs: the cut pieces of all sizes, the proven lays, the pages of each print file.
# Makes: <work>/<pattern>/out/tables/, each table as CSV and all of them in tables.json.


rule tables:
    input:
        pieces=pieces_of,
        lays=rules.proven_lays.output.lays,
        pages=lambda wildcards: [
            WORK / wildcards.pattern / file for file in promised.planned_files(BUILDS[wildcards.pattern])
        ],
    output:
        tables=directory(WORK / "{pattern}/out/tables"),
        findings=WORK / "{pattern}/tables-told.json",
    log:
        WORK / "{pattern}/log/tables.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "tables"),
    shell:
        STEP + " tables --folder {params.folder:q} --pieces {input.pieces:q} --lays {input.lays:q}"
        " --pages {input.pages:q} --tables {output.tables:q} --findings {output.findings:q}"

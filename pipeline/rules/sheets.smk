# Needs: the cut pieces of all sizes.
# Makes: <work>/<pattern>/layout.json, where every stack of sizes lies on the sheet; pages.json, the pages of each print file.


rule layout:
    input:
        pieces=pieces_of,
    output:
        layout=WORK / "{pattern}/layout.json",
        pages=WORK / "{pattern}/pages.json",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        paper=lambda wildcards: plan.sheets_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.layout"),
    log:
        WORK / "{pattern}/log/layout.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.layout --log {log:q} --folder {params.folder:q} --pieces {input.pieces:q}"
        " --layout {output.layout:q} --pages {output.pages:q}"

# Needs: the pages of each print file.
# Makes: <work>/<pattern>/out/tables/, each table as CSV and all of them in tables.json.


rule tables:
    input:
        pages=rules.layout.output.pages,
    output:
        folder=directory(WORK / "{pattern}/out/tables"),
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        texts=lambda wildcards: plan.text_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.tables"),
    log:
        WORK / "{pattern}/log/tables.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.tables --log {log:q} --folder {params.folder:q} --pages {input.pages:q}"
        " --tables {output.folder:q}"

# Needs: the drawings, the layout and the pages of each format.
# Makes: <work>/<pattern>/out/print/<format>.pdf and the pictures under <work>/<pattern>/out/preview/.


rule print_file:
    input:
        index=rules.drawings.output.index,
        drawings=rules.drawings.output.pages,
        map=rules.drawings.output.map,
        layout=rules.layout.output.layout,
        pages=rules.layout.output.pages,
    output:
        file=WORK / "{pattern}/out/print/{format}.pdf",
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].folder,
        texts=lambda wildcards: plan.text_part(BUILDS[wildcards.pattern]),
        code=plan.code_digest("pipeline.steps.print_file"),
    log:
        WORK / "{pattern}/log/print-{format}.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.print_file --log {log:q} --folder {params.folder:q} --work {WORK:q}"
        " --format {wildcards.format} --index {input.index:q} --drawings {input.drawings:q} --map {input.map:q}"
        " --layout {input.layout:q} --pages {input.pages:q} --file {output.file:q}"


rule preview:
    input:
        index=rules.drawings.output.index,
        layout=rules.layout.output.layout,
    output:
        pictures=directory(WORK / "{pattern}/out/preview"),
    params:
        code=plan.code_digest("pipeline.steps.preview"),
    log:
        WORK / "{pattern}/log/preview.log",
    shell:
        "{PYTHON:q} -m pipeline.steps.preview --log {log:q} --work {WORK:q} --index {input.index:q}"
        " --layout {input.layout:q} --pictures {output.pictures:q}"

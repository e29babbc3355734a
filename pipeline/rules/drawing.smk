# Needs: the cut pieces of all sizes; the layouts and the pages, which say how each piece is turned and where joints are.
# Makes: <work>/<pattern>/drawings.pdf, a page a drawing, with drawings.json, and map.json, the
# pieces as the map of each print file shows them.


rule drawings:
    input:
        pieces=pieces_of,
        layouts=rules.paper_layout.output.layouts,
        page_plans=rules.paper_layout.output.pages,
    output:
        index=WORK / "{pattern}/drawings.json",
        pages=WORK / "{pattern}/drawings.pdf",
        map=WORK / "{pattern}/map.json",
    log:
        WORK / "{pattern}/log/drawings.log",
    priority: 30
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "drawings"),
    shell:
        STEP + " drawings --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --layouts {input.layouts:q} --page-plans {input.page_plans:q}"
        " --index {output.index:q} --pages {output.pages:q} --map {output.map:q}"

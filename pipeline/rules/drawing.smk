# Needs: the cut pieces of all sizes; the layouts and the pages, which say how each piece is turned and where joints are.
# Makes: <work>/<pattern>/drawings.pdf, a page a drawing, with drawings.json, and map.json, the
# pieces as the map of each print file shows them, and drawings-told.json, what pieces leave out; where languages have
# files of their own, each these four.


rule drawings:
    input:
        pieces=pieces_of,
        layouts=rules.paper_layout.output.layouts,
        page_plans=rules.paper_layout.output.pages,
    output:
        index=WORK / "{pattern}/drawings{ending}.json",
        pages=WORK / "{pattern}/drawings{ending}.pdf",
        map=WORK / "{pattern}/map{ending}.json",
        findings=WORK / "{pattern}/drawings-told{ending}.json",
    log:
        WORK / "{pattern}/log/drawings{ending}.log",
    priority: 30
    params:
        folder=folder_of,
        languages=lambda wildcards: spoken(BUILDS[wildcards.pattern])[wildcards.ending].languages,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"drawings{wildcards.ending}"),
    shell:
        STEP
        + " drawings --folder {params.folder:q} --work {WORK:q} --languages {params.languages:q} --pieces {input.pieces:q}"
        " --layouts {input.layouts:q} --page-plans {input.page_plans:q}"
        " --index {output.index:q} --pages {output.pages:q} --map {output.map:q} --findings {output.findings:q}"

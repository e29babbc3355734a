# Needs: the cut pieces of all sizes; the layouts that were sold last, else layout.json, the best found so far.
# Makes: <work>/<pattern>/layout.json, where every stack of sizes lies on the sheet of the tiles; layouts.json, the same for
# each print file; pages.json, the pages of each print file; places/all.json, the layouts as the ledger keeps them.


rule paper_layout:
    input:
        pieces=pieces_of,
        known=lambda wildcards: SOURCES[wildcards.pattern].layouts(),
    output:
        layout=WORK / "{pattern}/layout.json",
        layouts=WORK / "{pattern}/layouts.json",
        pages=WORK / "{pattern}/pages.json",
        places=WORK / "{pattern}/places/all.json",
    log:
        WORK / "{pattern}/log/layout.log",
    priority: 30  # first what the longest way to a bundle begins with: layout, drawings, print files
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "layout"),
    shell:
        STEP + " layout --folder {params.folder:q} --pieces {input.pieces:q} --known {input.known:q}"
        " --layout {output.layout:q} --layouts {output.layouts:q} --pages {output.pages:q}"
        " --places {output.places:q}"

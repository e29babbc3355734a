# Needs: the drawings, the layouts and the pages of each format; for what is arranged by itself, the cut pieces and what
# is kept of its layouts; the designer's logo.
# Makes, under <work>/<pattern>/out/: print/<format>.pdf, print/by-size/, print/by-view/, project/ and the pictures in preview/.


def drawn_in(wildcards, name):
    """What was drawn in the language of a print file; of a rule for all files, in the first language."""
    pattern = BUILDS[wildcards.pattern]
    ending = ending_in(pattern, wildcards.get("format", "")) or next(iter(spoken(pattern)))
    return WORK / wildcards.pattern / name.format(ending)


rule print_file:
    input:
        index=lambda wildcards: drawn_in(wildcards, "drawings{}.json"),
        drawings=lambda wildcards: drawn_in(wildcards, "drawings{}.pdf"),
        map=lambda wildcards: drawn_in(wildcards, "map{}.json"),
        layouts=rules.paper_layout.output.layouts,
        pages=rules.paper_layout.output.pages,
        logo=lambda wildcards: SOURCES[wildcards.pattern].logo(),
    output:
        file=WORK / "{pattern}/out/print/{format}.pdf",
    log:
        WORK / "{pattern}/log/print-{format}.log",
    priority: 20
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"print-{wildcards.format}"),
    shell:
        STEP + " print_file --folder {params.folder:q} --work {WORK:q} --format {wildcards.format}"
        " --index {input.index:q} --drawings {input.drawings:q} --map {input.map:q}"
        " --layouts {input.layouts:q} --pages {input.pages:q} --file {output.file:q}"


rule preview:
    input:
        index=lambda wildcards: drawn_in(wildcards, "drawings{}.json"),
        layout=rules.paper_layout.output.layout,
    output:
        pictures=directory(WORK / "{pattern}/out/preview"),
    log:
        WORK / "{pattern}/log/preview.log",
    priority: 20
    params:
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "preview"),
    shell:
        STEP + " preview --work {WORK:q} --index {input.index:q} --layout {input.layout:q}"
        " --pictures {output.pictures:q}"


rule by_size:
    input:
        pieces=WORK / "{pattern}/pieces/{size}.json",
        known=lambda wildcards: SOURCES[wildcards.pattern].layouts(),
        logo=lambda wildcards: SOURCES[wildcards.pattern].logo(),
    output:
        prints=directory(WORK / "{pattern}/by-size/{size}"),
        thrown=directory(WORK / "{pattern}/projected/{size}"),
        pages=WORK / "{pattern}/by-size/{size}.json",
        places=WORK / "{pattern}/places/by-size/{size}.json",
    log:
        WORK / "{pattern}/log/by-size-{size}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"by-size-{wildcards.size}"),
    shell:
        STEP + " by_size --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --known {input.known:q} --prints {output.prints:q} --thrown {output.thrown:q}"
        " --pages {output.pages:q} --places {output.places:q}"


rule by_view:
    input:
        pieces=pieces_of,
        known=lambda wildcards: SOURCES[wildcards.pattern].layouts(),
        logo=lambda wildcards: SOURCES[wildcards.pattern].logo(),
    output:
        prints=directory(WORK / "{pattern}/by-view/{view}"),
        pages=WORK / "{pattern}/by-view/{view}.json",
        places=WORK / "{pattern}/places/by-view/{view}.json",
    log:
        WORK / "{pattern}/log/by-view-{view}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"by-view-{wildcards.view}"),
    shell:
        STEP + " by_view --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q} --known {input.known:q}"
        " --view {wildcards.view:q} --prints {output.prints:q} --pages {output.pages:q}"
        " --places {output.places:q}"


rule projector:
    input:
        pieces=pieces_of,
        known=lambda wildcards: SOURCES[wildcards.pattern].sold(),
    output:
        thrown=directory(WORK / "{pattern}/out/project/{material}"),
        places=WORK / "{pattern}/places/projector/{material}.json",
    log:
        WORK / "{pattern}/log/projector-{material}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"projector-{wildcards.material}"),
    shell:
        STEP + " projector --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --known {input.known:q} --material {wildcards.material:q} --thrown {output.thrown:q}"
        " --places {output.places:q}"


rule calibration:
    output:
        file=WORK / "{pattern}/out/project/calibration.pdf",
    log:
        WORK / "{pattern}/log/calibration.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "calibration"),
    shell:
        STEP + " calibration --folder {params.folder:q} --work {WORK:q} --file {output.file:q}"

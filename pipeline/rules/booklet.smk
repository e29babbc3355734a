# Needs: the cut pieces of all sizes, the tables, the proven lays, which signs the drawings show; what the designer wrote in booklet/.
# Makes: <work>/<pattern>/out/booklet/, a PDF a language and edition, and out/listing/, which a bundle has in preview/: for
# these only the cover of what the designer wrote is needed.


rule booklet:
    input:
        pieces=pieces_of,
        tables=rules.tables.output.tables,
        lays=rules.proven_lays.output.lays,
        index=lambda wildcards: drawn_in(wildcards, "drawings{}.json"),
        written=lambda wildcards: SOURCES[wildcards.pattern].booklet(),
    output:
        booklets=directory(WORK / "{pattern}/out/booklet"),
    log:
        WORK / "{pattern}/log/booklet.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "booklet"),
    shell:
        STEP
        + " booklet --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q} --tables {input.tables:q}"
        " --lays {input.lays:q} --index {input.index:q} --booklets {output.booklets:q}"


rule listing:
    input:
        pieces=pieces_of,
        tables=rules.tables.output.tables,
        drawn=lambda wildcards: SOURCES[wildcards.pattern].cover(),
    output:
        pictures=directory(WORK / "{pattern}/out/listing"),
    log:
        WORK / "{pattern}/log/listing.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "listing"),
    shell:
        STEP
        + " listing --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q} --tables {input.tables:q}"
        " --pictures {output.pictures:q}"

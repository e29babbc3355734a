# Needs: the masters of one size, and what pattern.toml says of shapes.
# Makes: <work>/<pattern>/pieces/<size>.json, the cut pieces; <work>/<pattern>/read/<size>.json, what reading and cutting found.


rule pieces:
    input:
        masters=lambda wildcards: SOURCES[wildcards.pattern].masters_of(wildcards.size),
    output:
        pieces=WORK / "{pattern}/pieces/{size}.json",
        findings=WORK / "{pattern}/read/{size}.json",
    log:
        WORK / "{pattern}/log/pieces-{size}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"pieces-{wildcards.size}"),
    shell:
        STEP + " pieces --folder {params.folder:q} --size {wildcards.size:q}"
        " --pieces {output.pieces:q} --findings {output.findings:q}"


def pieces_of(wildcards):
    """The cut pieces of every size, in the pattern's order."""
    return [WORK / wildcards.pattern / "pieces" / f"{size}.json" for size in BUILDS[wildcards.pattern].sizes]

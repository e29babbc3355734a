# Needs: the cut pieces of all sizes.
# Makes: <work>/<pattern>/out/exchange/<pattern>.dxf, every piece in every size for who cuts by machine.


rule exchange:
    input:
        pieces=pieces_of,
    output:
        file=WORK / "{pattern}/out/exchange/{pattern}.dxf",
    log:
        WORK / "{pattern}/log/exchange.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "exchange"),
    shell:
        STEP + " exchange --folder {params.folder:q} --pieces {input.pieces:q} --file {output.file:q}"

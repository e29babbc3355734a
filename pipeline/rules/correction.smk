# Needs: every built file, and the version that was sold before this one; for the changed pages what print files need
# besides the drawings, since they say themselves what they are.
# Makes, under <work>/<pattern>/out/: data/changes.json, correction/<language>-<paper>.pdf and <language>.txt, and
# reprint/<format>.pdf, the changed pages by themselves; changes-told.json, what is found of the number.


def former_of(wildcards):
    """The version that was sold before; nothing where there is none."""
    return SOURCES[wildcards.pattern].former()


rule changes:
    input:
        files=lambda wildcards: [
            WORK / wildcards.pattern / built for built, _ in promised.built_outputs(BUILDS[wildcards.pattern])
        ],
        pieces=pieces_of,
        written=lambda wildcards: SOURCES[wildcards.pattern].booklet(),
        former=former_of,
    output:
        changes=WORK / "{pattern}/out/data/changes.json",
        findings=WORK / "{pattern}/changes-told.json",
    log:
        WORK / "{pattern}/log/changes.log",
    threads: 8  # what pages show is found out file by file
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, "changes"),
    shell:
        STEP + " changes --folder {params.folder:q} --work {WORK:q} --pieces {input.pieces:q}"
        " --former {input.former:q} --processes {threads} --changes {output.changes:q} --findings {output.findings:q}"


rule correction:
    input:
        pieces=pieces_of,
        former=former_of,
        changes=rules.changes.output.changes,
        tables=rules.tables.output.tables,
        texts=lambda wildcards: SOURCES[wildcards.pattern].texts(),
    output:
        sheets=expand(WORK / "{{pattern}}/out/correction/{{language}}-{paper}.pdf", paper=promised.SHEET_PAPERS),
        text=WORK / "{pattern}/out/correction/{language}.txt",
    log:
        WORK / "{pattern}/log/correction-{language}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"correction-{wildcards.language}"),
    shell:
        STEP + " correction --folder {params.folder:q} --work {WORK:q} --language {wildcards.language:q}"
        " --pieces {input.pieces:q} --former {input.former:q} --changes {input.changes:q} --tables {input.tables:q}"
        " --sheets {output.sheets:q} --text {output.text:q}"


rule reprint:
    input:
        file=rules.print_file.output.file,
        changes=rules.changes.output.changes,
        index=lambda wildcards: drawn_in(wildcards, "drawings{}.json"),
        map=lambda wildcards: drawn_in(wildcards, "map{}.json"),
        pages=rules.paper_layout.output.pages,
        logo=lambda wildcards: SOURCES[wildcards.pattern].logo(),
    output:
        reprint=WORK / "{pattern}/out/reprint/{format}.pdf",
    log:
        WORK / "{pattern}/log/reprint-{format}.log",
    params:
        folder=folder_of,
        depends=lambda wildcards: DEPENDS(wildcards.pattern, f"reprint-{wildcards.format}"),
    shell:
        STEP + " reprint --folder {params.folder:q} --work {WORK:q} --format {wildcards.format:q}"
        " --file {input.file:q} --changes {input.changes:q} --index {input.index:q} --map {input.map:q}"
        " --pages {input.pages:q} --reprint {output.reprint:q}"

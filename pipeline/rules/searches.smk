# Needs: the cut pieces of all sizes, and time: --config seconds=20, a lay or a width of paper.
# Makes: better source/<pattern>/lays.json and layout.json, and nothing else; the search is run whenever it is asked for.


rule better_lays:
    input:
        pieces=pieces_of,
    output:
        asked=touch(temp(WORK / "{pattern}/better-lays.done")),
    log:
        WORK / "{pattern}/log/better-lays.log",
    threads: 2  # two lays are searched side by side, and a loaded machine costs length in silence
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].origin,
        seconds=config.get("seconds", 20),
    shell:
        ASIDE + " better_lays --folder {params.folder:q} --pieces {input.pieces:q} --seconds {params.seconds}"


rule better_layout:
    input:
        pieces=pieces_of,
    output:
        asked=touch(temp(WORK / "{pattern}/better-layout.done")),
    log:
        WORK / "{pattern}/log/better-layout.log",
    threads: 2
    params:
        folder=lambda wildcards: SOURCES[wildcards.pattern].origin,
        seconds=config.get("seconds", 20),
    shell:
        ASIDE + " better_layout --folder {params.folder:q} --pieces {input.pieces:q} --seconds {params.seconds}"


rule lays:
    input:
        expand(WORK / "{pattern}/better-lays.done", pattern=BUILDS),


rule layout:
    input:
        expand(WORK / "{pattern}/better-layout.done", pattern=BUILDS),

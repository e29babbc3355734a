"""A release: every pattern under source/ read, cut, checked, drawn, printed and bundled into release/.

Targets: all (default), check, lays, layout, verify, seal, compare.
--config source= release= work= pattern= seconds= against= (see README.md).
"""

import json
import os
import sys
from pathlib import Path

sys.path.insert(0, workflow.basedir)
os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, [workflow.basedir, os.environ.get("PYTHONPATH")]))

from pipeline.bundle import promised
from pipeline.model.questions import ending_in, spoken
from pipeline.rules import start
from pipeline.rules.screen import Progress, hush, screen
from pipeline.work.receipts import OF_RUN
from pipeline.rules.sources import RefusalError, check_config, found_file

PYTHON = sys.executable
SCREEN = screen()
try:
    check_config(config, ("source", "release", "work", "pattern", "seconds", "against"))
    SOURCE = Path(config.get("source", Path(workflow.basedir) / "source")).absolute()
    RELEASE = Path(config.get("release", Path(workflow.basedir) / "release")).absolute()
    WORK = Path(config.get("work", SOURCE.parent / ".work")).absolute()
    RUN = start.begin(SOURCE, RELEASE, WORK, config.get("pattern"), workflow)
except RefusalError as refusal:
    print(refusal, file=SCREEN or sys.stderr)
    sys.exit(1)
SOURCES, BUILDS, DEPENDS = RUN.sources, RUN.builds, RUN.depends


# A job as the shell sees it; what follows are a step of pipeline/steps and its own arguments. Those of ASIDE leave no receipt.
ASIDE = "{PYTHON:q} -m pipeline.steps --work {WORK:q} --log {log:q} --"
STEP = (
    "{PYTHON:q} -m pipeline.steps --work {WORK:q} --log {log:q} --depends {params.depends}"
    " --inputs {input:q} --outputs {output:q} --"
)


def folder_of(wildcards):
    """The copy of a pattern's folder that this run reads."""
    return SOURCES[wildcards.pattern].folder


workdir: str(WORK)


wildcard_constraints:
    pattern=r"[^/]+",
    size=r"[\w-]+",
    material=r"[\w-]+",
    language=r"[\w-]+",
    format=r"[\w-]+",
    ending=r"|-[\w-]+",


localrules:
    all,
    check,
    verdict,
    verify,
    lays,
    layout,
    seal,
    compare,


rule all:
    default_target: True
    input:
        WORK / OF_RUN / "released",


include: "pipeline/rules/pieces.smk"
include: "pipeline/rules/checks.smk"
include: "pipeline/rules/sheets.smk"
include: "pipeline/rules/drawing.smk"
include: "pipeline/rules/press.smk"
include: "pipeline/rules/lays.smk"
include: "pipeline/rules/tables.smk"
include: "pipeline/rules/exchange.smk"
include: "pipeline/rules/booklet.smk"
include: "pipeline/rules/correction.smk"
include: "pipeline/rules/bundle.smk"
include: "pipeline/rules/ledger.smk"
include: "pipeline/rules/searches.smk"


onstart:
    try:
        RUN.start({job.rule.name for job in workflow.dag.jobs})
    except RefusalError as refusal:
        print(refusal, file=SCREEN or sys.stderr)
        sys.exit(1)


def end(well):
    """Tell how it went."""
    RUN.end(well, workflow.dag.targetrules, SCREEN)


onsuccess:
    end(True)


onerror:
    end(False)


logger.addHandler(Progress(SCREEN or hush(logger, workflow.output_settings), when_nothing=lambda: end(True)))

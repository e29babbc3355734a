"""A release: every pattern under source/ read, cut, checked, drawn, printed and bundled into release/.

Targets: all (default), check, lays, layout, verify. --config source= release= work= pattern= seconds= (see README.md).
"""

import os
import sys
from pathlib import Path

sys.path.insert(0, workflow.basedir)
os.environ["PYTHONPATH"] = os.pathsep.join(filter(None, [workflow.basedir, os.environ.get("PYTHONPATH")]))

from pipeline.rules import plan
from pipeline.rules.summary import end_run

PYTHON = sys.executable
try:
    plan.check_config(config, ("source", "release", "work", "pattern", "seconds"))
    SOURCE = Path(config.get("source", Path(workflow.basedir) / "source")).absolute()
    RELEASE = Path(config.get("release", Path(workflow.basedir) / "release")).absolute()
    WORK = Path(config.get("work", Path(workflow.basedir) / ".work")).absolute()
    SOURCES = plan.read_sources(SOURCE, config.get("pattern"))
except plan.RefusalError as refusal:
    print(refusal, file=sys.stderr)
    sys.exit(1)


# Jobs are short processes: what Python compiles for them is kept in the work folder, also where it is told to keep nothing.
os.environ["PYTHONPYCACHEPREFIX"] = str(WORK / "compiled")
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


workdir: str(WORK)


BUILDS = {name: source.pattern for name, source in SOURCES.items() if not plan.refused(source)}
plan.forget_changed_bundles(WORK, RELEASE, BUILDS)


localrules:
    all,
    check,
    verdict,
    verify,
    lays,
    layout,


rule all:
    default_target: True
    input:
        WORK / "released",


include: "pipeline/rules/pieces.smk"
include: "pipeline/rules/checks.smk"
include: "pipeline/rules/sheets.smk"
include: "pipeline/rules/drawing.smk"
include: "pipeline/rules/press.smk"
include: "pipeline/rules/lays.smk"
include: "pipeline/rules/tables.smk"
include: "pipeline/rules/bundle.smk"
include: "pipeline/rules/searches.smk"


onsuccess:
    end_run(SOURCES, WORK, RELEASE)


onerror:
    end_run(SOURCES, WORK, RELEASE)

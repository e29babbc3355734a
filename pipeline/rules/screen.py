"""What a person sees while a run goes on: a line a stage. The engine's own words go to its log."""

import logging
import os
import sys
from collections.abc import Callable
from typing import Any, TextIO

SCREEN = "PATTERN_RELEASE_SCREEN"
"""The environment's name for the descriptor that `pattern-release` shows; without it all is the engine's."""

ENGINE_LOG = "engine.log"
"""Where `pattern-release` leaves them, in the work folder."""

STAGES = {
    "pieces": "Reading and cutting",
    "findings": "Checking",
    "paper_layout": "Arranging on paper",
    "drawings": "Drawing",
    "proven_lays": "Laying on cloth",
    "print_file": "Printing",
    "by_size": "Printing single sizes",
    "by_view": "Printing single views",
    "projector": "Projector files",
    "tables": "Tables",
    "exchange": "Files for cutting machines",
    "booklet": "Setting booklets",
    "bundle": "Checking what was built, and bundling",
    "verify": "Holding bundles against their checksums",
    "sealing": "Sealing",
    "comparing": "Comparing",
    "better_lays": "Searching better lays",
    "better_layout": "Searching better layouts",
}
"""By the rule with which a stage begins."""
_NOTHING = "Nothing to be done"
_ENGINE_HANDLER = "DefaultStreamHandler"
_OF_JOBS = ("job_error", "group_error")
"""The engine's events that say what our summary says: which job failed, and why."""
_JOBS_FAILED = (
    "Exiting because a job execution failed",
    "WorkflowError:\nAt least one job did not complete",
    "RuleException:\nCalledProcessError",
)


def screen() -> TextIO | None:
    """Where `pattern-release` shows what a run says; None for a plain run of the engine."""
    number = os.environ.get(SCREEN)
    return os.fdopen(os.dup(int(number)), "w", encoding="utf-8") if number else None


def hush(engine: logging.Logger, asked: Any) -> TextIO | None:
    """Keep of the engine's own words what it alone can tell: its faults, and that nothing is to be done.

    The rest is in its log, `.snakemake/log/`. `asked` are its settings of what is put out. Returns where a plain run is
    shown then; None where it was asked for another logger, or for more than it says.
    """
    if asked.dryrun or asked.verbose or asked.printshellcmds or asked.debug_dag:
        return None
    handlers = [handler for handler in engine.handlers if handler.name == _ENGINE_HANDLER]
    for handler in handlers:
        handler.addFilter(_engine_alone_can_tell)
    return sys.stderr if handlers else None


def _engine_alone_can_tell(record: logging.LogRecord) -> bool:
    event = getattr(record, "event", None)
    ours = getattr(event, "value", event) in _OF_JOBS or str(record.msg).startswith(_JOBS_FAILED)
    return str(record.msg).startswith(_NOTHING) or (record.levelno >= logging.ERROR and not ours)


class Progress(logging.Handler):
    """Listens to the engine: a line for each stage that begins, and a word when there was nothing to do."""

    def __init__(self, shown: TextIO | None, when_nothing: Callable[[], None]) -> None:
        super().__init__()
        self.shown, self.when_nothing = shown, when_nothing
        self.begun: set[str] = set()

    def emit(self, record: logging.LogRecord) -> None:
        """See `logging.Handler`."""
        if str(record.msg).startswith(_NOTHING):
            self.when_nothing()
        stage = STAGES.get(getattr(record, "rule_name", ""))
        if self.shown is not None and stage is not None and stage not in self.begun:
            self.begun.add(stage)
            print(f"{stage} …", file=self.shown, flush=True)

"""What of the engine's words a plain run shows."""

import io
import logging
from types import SimpleNamespace

import pytest

from pipeline.rules.screen import hush

QUIET = SimpleNamespace(dryrun=False, verbose=False, printshellcmds=False, debug_dag=False)
RECORDS = (
    (logging.INFO, "Building DAG of jobs...", None),
    (logging.INFO, "Nothing to be done (all requested files are present and up to date).", None),
    (logging.ERROR, "Error in rule findings", "job_error"),
    (logging.ERROR, "RuleException:\nCalledProcessError in file checks.smk", None),
    (logging.ERROR, "MissingRuleException:\nNo rule to produce nonsense", None),
)


@pytest.fixture
def engine():
    """The engine's logger with its own handler, and what that shows."""
    logger, shown = logging.Logger("engine"), io.StringIO()
    handler = logging.StreamHandler(shown)
    handler.name = "DefaultStreamHandler"
    logger.addHandler(handler)
    return logger, shown


def say(logger: logging.Logger) -> None:
    for level, text, event in RECORDS:
        logger.log(level, text, extra={"event": event})


def test_a_plain_run_keeps_the_faults_of_the_engine_itself_and_that_nothing_is_to_be_done(engine):
    logger, shown = engine
    assert hush(logger, QUIET) is not None
    say(logger)
    assert shown.getvalue().splitlines() == [
        "Nothing to be done (all requested files are present and up to date).",
        "MissingRuleException:",
        "No rule to produce nonsense",
    ]


@pytest.mark.parametrize("asked", ["dryrun", "verbose", "printshellcmds", "debug_dag"])
def test_who_asks_for_more_sees_all(engine, asked: str):
    logger, shown = engine
    assert hush(logger, SimpleNamespace(**{**vars(QUIET), asked: True})) is None
    say(logger)
    assert "Building DAG" in shown.getvalue()


def test_another_logger_is_left_alone():
    assert hush(logging.Logger("engine"), QUIET) is None

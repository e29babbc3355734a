"""How a step starts and fails."""

import errno
import gc
import inspect
import logging
import sys
import traceback
from importlib import import_module
from pathlib import Path
from typing import Any, NoReturn

from pipeline.model.findings import PatternFaultError
from pipeline.work.receipts import FAILED

_OBJECTS = 1_000_000
"""A step is a short process that reads many small values which stay: the collector would walk them over and over."""
_LACKING = {"seal": "sealed", "compare": "compared"}
"""What a fault of the pattern keeps it from, by step; all others build."""
_OF_THE_PLACE = {
    errno.ENOSPC: "The disk is full",
    errno.EDQUOT: "The disk quota is used up",
    errno.EROFS: "The disk can only be read",
    errno.EACCES: "A file or folder may not be written or read",
    errno.EPERM: "A file or folder may not be changed",
    errno.ENOTDIR: "A file stands where a folder is wanted",
    errno.EISDIR: "A folder stands where a file is wanted",
    errno.EEXIST: "A file stands where a folder is wanted",
}


def call(module: str, values: dict[str, list[str]], log: Path) -> None:
    """Import a step and call its `main` with named values, typed by its signature. Raises what the step raises."""
    gc.set_threshold(_OBJECTS)
    log.parent.mkdir(parents=True, exist_ok=True)
    # Written only where there is something to keep: a log with text in it is a sign that something went wrong.
    logging.basicConfig(handlers=[logging.FileHandler(log, encoding="utf-8", delay=True)], force=True)
    main = import_module(module).main
    parameters = inspect.signature(main).parameters
    main(**{name: _typed(texts, parameters[name].annotation) for name, texts in values.items()})


def fail(fault: Exception, step: str, log: Path) -> NoReturn:
    """End with status 1. Why is told on the screen, and beside the log for the summary of the run.

    A fault of the pattern or of the place is told in plain words; a fault of our own leaves its trace in the log.
    """
    why = _OF_THE_PLACE.get(fault.errno or 0) if isinstance(fault, OSError) else None
    trace = ""
    if isinstance(fault, PatternFaultError):
        told = f"The pattern cannot be {_LACKING.get(step, 'built')}: {fault}"
    elif why is not None:
        where = f": {fault.filename}" if isinstance(fault, OSError) and fault.filename else ""
        told = f"{why}{where}. Mend that, then give the same command again."
    else:
        told = f"A fault of the pipeline itself, not of the pattern: {step}. Its trace is in {log}"
        trace = "".join(traceback.format_exception(fault))
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        log.with_suffix(FAILED).write_text(told, encoding="utf-8")
        log.write_text(trace, encoding="utf-8")
    except OSError:
        told = f"{told}\n{trace}"
    print(told, file=sys.stderr)
    raise SystemExit(1) from None


def _typed(texts: list[str], kind: Any) -> Any:
    if kind == list[Path]:
        return [Path(text) for text in texts]
    if kind == list[str]:
        return texts
    return kind(texts[0])

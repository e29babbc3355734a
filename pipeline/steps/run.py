"""How a step starts and fails."""

import errno
import gc
import inspect
import sys
import traceback
from importlib import import_module
from pathlib import Path
from typing import Any

from pipeline.model.findings import PatternFaultError

_OBJECTS = 1_000_000
"""A step is a short process that reads many small values which stay: the collector would walk them over and over."""
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


def run(module: str, values: dict[str, list[str]], log: Path) -> None:
    """Import a step and call its `main` with named values, typed by its signature.

    Why it failed is left in its log, and told on the screen: a fault of the pattern or of the place in plain words, a
    fault of our own as its trace.
    """
    gc.set_threshold(_OBJECTS)
    try:
        main = import_module(module).main
        parameters = inspect.signature(main).parameters
        main(**{name: _typed(texts, parameters[name].annotation) for name, texts in values.items()})
    except PatternFaultError as fault:
        _fail(log, f"The pattern cannot be built: {fault}")
    except OSError as fault:
        why = _OF_THE_PLACE.get(fault.errno or 0)
        if why is None:
            _crash(log, module)
        where = f": {fault.filename}" if fault.filename else ""
        _fail(log, f"{why}{where}. Mend that, then give the same command again.")
    except Exception:
        _crash(log, module)


def _crash(log: Path, module: str) -> None:
    told = f"A fault of the pipeline itself, not of the pattern: {module}. Its trace is in {log}"
    _fail(log, f"{told}\n{traceback.format_exc()}", told)


def _fail(log: Path, text: str, told: str | None = None) -> None:
    try:
        log.parent.mkdir(parents=True, exist_ok=True)
        log.write_text(text + "\n", encoding="utf-8")
    except OSError:
        told = text
    print(told or text, file=sys.stderr)
    raise SystemExit(1) from None


def _typed(texts: list[str], kind: Any) -> Any:
    if kind == list[Path]:
        return [Path(text) for text in texts]
    if kind == list[str]:
        return texts
    return kind(texts[0])

"""How a step starts, writes and fails."""

import gc
import inspect
import logging
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from pipeline.model.findings import PatternFaultError

_OBJECTS = 1_000_000
"""A step is a short process that reads many small values which stay: the collector would walk them over and over."""


def run(main: Callable[..., None], arguments: list[str] | None = None) -> None:
    """Call `main` with the `--name value …` pairs of the command line, typed by its signature.

    `--log FILE` belongs to every step: what is logged goes there, so does the trace of a fault of our own, which also
    leaves one line on the screen.
    """
    gc.set_threshold(_OBJECTS)
    words = sys.argv[1:] if arguments is None else arguments
    values: dict[str, list[str]] = {}
    for word in words:
        if word.startswith("--"):
            values[word[2:].replace("-", "_")] = current = []
        else:
            current.append(word)
    log = Path(values.pop("log")[0])
    log.parent.mkdir(parents=True, exist_ok=True)
    # Written only where there is something to keep: a log with text in it is a sign that something went wrong.
    logging.basicConfig(handlers=[logging.FileHandler(log, mode="w", encoding="utf-8", delay=True)], force=True)
    parameters = inspect.signature(main).parameters
    try:
        main(**{name: _typed(texts, parameters[name].annotation) for name, texts in values.items()})
    except PatternFaultError as fault:
        print(f"The pattern cannot be built: {fault}", file=sys.stderr)
        raise SystemExit(1) from None
    except Exception:
        logging.exception("%s failed", main.__module__)
        print(
            f"A fault of the pipeline itself, not of the pattern: {main.__module__}. Its trace is in {log}",
            file=sys.stderr,
        )
        raise SystemExit(1) from None


def _typed(texts: list[str], kind: Any) -> Any:
    if kind == list[Path]:
        return [Path(text) for text in texts]
    if kind == list[str]:
        return texts
    return kind(texts[0])


def write(path: Path, data: bytes) -> None:
    """Write beside the place and move there: a reader sees the old file or the new one, never half of one."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def write_json(path: Path, value: Any) -> None:
    """A value as JSON, keys of plain dicts in their own order."""
    write(path, msgspec.json.encode(value))


def read_json(path: Path, kind: Any) -> Any:
    """A typed value from JSON that another step wrote."""
    return msgspec.json.decode(path.read_bytes(), type=kind)

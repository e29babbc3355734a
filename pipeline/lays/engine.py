"""The packing engine in a process of its own, so that its faults end a job and never the pipeline."""

import importlib.metadata
import queue
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path
from types import TracebackType

import msgspec

from pipeline.lays.worker import Answer, EngineItem, EnginePlace, Job

SLACK_MM = 0.04
"""Added to the cloth's height for the engine, which fails at an exact fit; the proof allows 0.05 mm."""
GAP_SLACK_MM = 0.02
"""Taken off the gap for the same reason."""
GRACE_SECONDS = 60
"""How much longer than asked a job may take before its process is ended: a loaded machine is slow, not stuck."""

_ROOT = Path(__file__).parents[2]


class EngineError(Exception):
    """The engine found nothing, and why."""


class EngineLostError(EngineError):
    """The engine's process ended, or was ended, before it answered."""


def engine_version() -> str:
    """Name and version of the engine: kept lays belong to one."""
    return f"spyrrow {importlib.metadata.version('spyrrow')}"


class Engine:
    """One process that answers jobs one after another, started when first needed and again after a fault."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._answers: queue.Queue[bytes] = queue.Queue()

    def __enter__(self) -> "Engine":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.end()

    @property
    def process(self) -> "subprocess.Popen[bytes] | None":
        """The running process, if there is one."""
        return self._process

    def solve(
        self, height_mm: float, gap_mm: float, items: tuple[EngineItem, ...], seconds: int, seed: int
    ) -> tuple[EnginePlace, ...]:
        """Where every item lies. Raises EngineError where the engine fails, EngineLostError where it never ends."""
        job = Job(
            height_mm=height_mm + SLACK_MM,
            gap_mm=max(0.0, gap_mm - GAP_SLACK_MM),
            items=items,
            seconds=seconds,
            seed=seed,
        )
        line = self._ask(msgspec.json.encode(job) + b"\n", seconds + GRACE_SECONDS)
        answer = msgspec.json.decode(line, type=Answer)
        if answer.error is not None:
            raise EngineError(answer.error)
        return answer.places

    def _ask(self, line: bytes, patience_seconds: float) -> bytes:
        process = self._process or self._start()
        assert process.stdin is not None
        try:
            process.stdin.write(line)
            process.stdin.flush()
            answer = self._answers.get(timeout=patience_seconds)
        except queue.Empty:
            self.end()
            raise EngineLostError(f"no answer after {patience_seconds:g} s") from None
        except OSError:
            answer = b""
        if not answer:
            self.end()
            raise EngineLostError("the engine's process ended before it answered")
        return answer

    def _start(self) -> "subprocess.Popen[bytes]":
        process = subprocess.Popen(
            [sys.executable, "-m", "pipeline.lays.worker"],
            cwd=_ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        self._process, self._answers = process, queue.Queue()
        threading.Thread(target=_read, args=(process, self._answers), daemon=True).start()
        return process

    def end(self) -> None:
        """End the process now; a job under way is lost."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        process.wait()
        if process.stdin is not None:
            with suppress(OSError):  # a job that the process never read is flushed into nothing
                process.stdin.close()


def _read(process: "subprocess.Popen[bytes]", answers: "queue.Queue[bytes]") -> None:
    """Hand on every line, and an empty one when the process has ended."""
    assert process.stdout is not None
    with process.stdout:
        for line in process.stdout:
            answers.put(line)
    answers.put(b"")

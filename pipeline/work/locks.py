"""One run at a time on a work folder and on a release folder, whichever way it was started.

The kernel frees these locks however a run ends, so that nothing is ever left to unlock. A job that outlives its killed
run is waited for, and one that starts too late sees that its run is over.
"""

import fcntl
import os
import secrets
from collections.abc import Callable
from pathlib import Path

RUN_LOCK, JOBS_LOCK = ".run/run.lock", ".run/jobs.lock"
RUN = "PATTERN_RELEASE_RUN"
"""The environment's name for the run that a job belongs to."""

_held: list[int] = []
"""Descriptors of this process's locks: they live as long as it does."""


class BusyError(Exception):
    """Another run holds the folder."""


class OverError(Exception):
    """The run of this job is over: another one has begun."""


def hold_run(work: Path, waiting: Callable[[], None]) -> None:
    """Take a work folder for this process's whole life, and wait until no job of a killed run writes there any more.

    `waiting` is called once where there is anything to wait for. Raises BusyError, OSError.
    """
    run = _open(work / RUN_LOCK)
    _take(run)
    name = secrets.token_hex(8)
    os.ftruncate(run, 0)
    os.pwrite(run, name.encode(), 0)
    jobs = _open(work / JOBS_LOCK)
    try:
        fcntl.flock(jobs, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        waiting()
        fcntl.flock(jobs, fcntl.LOCK_EX)
    os.close(jobs)
    os.environ[RUN] = name


def hold_release(release: Path) -> None:
    """Take a release folder for this process's whole life, too: two work folders may build into one.

    Raises BusyError, OSError.
    """
    _take(os.open(release, os.O_RDONLY | os.O_DIRECTORY))


def join_run(work: Path) -> None:
    """What a job does first: let no other run begin before it ends. Raises OverError where one has begun already."""
    name = os.environ.get(RUN)
    if name is None:  # started by hand, or on another machine, where an environment may not arrive
        return
    try:
        jobs = _open(work / JOBS_LOCK)
        fcntl.flock(jobs, fcntl.LOCK_SH)
        _held.append(jobs)
        if (work / RUN_LOCK).read_text(encoding="ascii") != name:
            raise OverError
    except FileNotFoundError:  # the work folder was deleted meanwhile
        raise OverError from None


def _open(path: Path) -> int:
    return os.open(path, os.O_RDWR | os.O_CREAT, 0o644)


def _take(descriptor: int) -> None:
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        os.close(descriptor)
        raise BusyError from None
    _held.append(descriptor)

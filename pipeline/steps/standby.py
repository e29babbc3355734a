"""`python -m pipeline.steps.standby LISTENING ALIVE FOLDER`: the process that forks for the jobs of a run.

The first two are numbers of open descriptors: the socket where jobs ask, and a pipe whose other end the run holds. The
socket has its name in the folder, which goes with this process.
"""

import gc
import shutil
import signal
import socket
import sys
from contextlib import suppress
from importlib import import_module

from pipeline.steps.job import do_job, step_of
from pipeline.work.standby import stand_by

FIRST = ("pieces", "findings")
"""What nearly every run begins with: imported before a job asks."""


def main(listening: int, alive: int, folder: str) -> None:
    """Do the jobs of a run; what a step imports is imported once."""
    gc.disable()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the run that is stopped ends this process
    for step in FIRST:
        _import_step(step)
    with socket.socket(fileno=listening) as there:
        stand_by(there, alive, _import, _do)
        shutil.rmtree(folder, ignore_errors=True)


def _import(words: list[str]) -> None:
    _import_step(step_of(words))


def _import_step(step: str) -> None:
    name = f"pipeline.steps.{step}"
    if name not in sys.modules:
        with suppress(Exception):  # the job itself will say why
            import_module(name)
        gc.freeze()  # what is imported is never looked at again by the collectors of jobs


def _do(words: list[str]) -> None:
    gc.enable()
    do_job(words)


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]), sys.argv[3])

"""The engine, told to end while its scheduler holds its lock the nth time: `python told_to_end.py N …its own words…`.

The scheduler takes that lock in each round, and once more to note that it shall end.
"""

import os
import signal
import sys
import threading

from snakemake.cli import main
from snakemake.scheduling.job_scheduler import JobScheduler

TIMES = int(sys.argv.pop(1))
BEGIN = JobScheduler.__init__


class TellingLock:
    """A lock whose nth holder in the main thread is interrupted."""

    def __init__(self) -> None:
        self.lock, self.left = threading.Lock(), TIMES

    def __enter__(self) -> None:
        self.lock.acquire()
        if threading.current_thread() is threading.main_thread():
            self.left -= 1
            if self.left == 0:
                os.kill(os.getpid(), signal.SIGTERM)

    def __exit__(self, *_: object) -> None:
        self.lock.release()


def _begin(scheduler: JobScheduler, *given: object) -> None:
    BEGIN(scheduler, *given)
    scheduler._lock = TellingLock()


if __name__ == "__main__":
    JobScheduler.__init__ = _begin
    main()

"""Starts and ends the process that does the jobs of a run (`work/standby.py`)."""

import atexit
import os
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

from pipeline.work.standby import STANDBY

_FORKS = sys.platform == "linux"
"""Elsewhere libraries of the system may not survive a fork."""


def start_standby() -> None:
    """From now on jobs of this process ask it. It ends with this process, which then has waited for it."""
    if not _FORKS or os.environ.get(STANDBY) == "":
        return
    folder = Path(tempfile.mkdtemp(prefix="pattern-"))  # the work folder may have a longer path than a socket can
    alive, held = os.pipe()
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as listening:
            listening.bind(str(folder / "jobs"))
            listening.listen(64)
            process = subprocess.Popen(
                [sys.executable, "-m", "pipeline.steps.standby", str(listening.fileno()), str(alive), str(folder)],
                pass_fds=(listening.fileno(), alive),
                stdin=subprocess.DEVNULL,
                env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},  # a process that forks has no threads
            )
    except OSError:  # jobs do without
        shutil.rmtree(folder, ignore_errors=True)
        os.close(held)
        return
    finally:
        os.close(alive)
    os.environ[STANDBY] = str(folder / "jobs")

    def end() -> None:
        os.close(held)
        process.wait()

    atexit.register(end)

"""One run at a time, whichever way it began; jobs that outlive their run are waited for, and come too late."""

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HOLD = """
import os, sys, time
from pathlib import Path
from pipeline.work import locks
work = Path(sys.argv[1])
(work / ".run").mkdir(exist_ok=True)
try:
    locks.hold_run(work, lambda: print("waiting", flush=True))
except locks.BusyError:
    print("busy", flush=True)
else:
    print("held", os.environ[locks.RUN], flush=True)
    sys.stdin.read()
"""
JOIN = """
import sys
from pathlib import Path
from pipeline.work import locks
try:
    locks.join_run(Path(sys.argv[1]))
except locks.OverError:
    print("over", flush=True)
else:
    print("joined", flush=True)
    sys.stdin.read()
"""


def start(code: str, work: Path, run: str | None = None) -> subprocess.Popen[str]:
    environment = {"PYTHONPATH": str(ROOT), **({"PATTERN_RELEASE_RUN": run} if run else {})}
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    return subprocess.Popen([sys.executable, "-c", code, str(work)], env=environment, text=True, **pipes)


def said(process: subprocess.Popen[str]) -> str:
    return process.stdout.readline().strip()


def end(*processes: subprocess.Popen[str]) -> None:
    for process in processes:
        process.communicate()


def test_a_second_run_is_told_and_the_lock_ends_with_the_first_however_it_ends(tmp_path: Path):
    first = start(HOLD, tmp_path)
    assert said(first).startswith("held")
    second = start(HOLD, tmp_path)
    assert said(second) == "busy"
    first.kill()
    end(first, second)
    third = start(HOLD, tmp_path)
    assert said(third).startswith("held")
    end(third)


def test_a_job_of_a_killed_run_is_waited_for(tmp_path: Path):
    run = start(HOLD, tmp_path)
    job = start(JOIN, tmp_path, said(run).split()[1])
    assert said(job) == "joined"
    run.kill()
    end(run)
    following = start(HOLD, tmp_path)
    assert said(following) == "waiting"
    time.sleep(0.2)
    assert following.poll() is None
    end(job)
    assert said(following).startswith("held")
    end(following)


def test_a_job_that_starts_when_its_run_is_over_does_nothing(tmp_path: Path):
    run = start(HOLD, tmp_path)
    name = said(run).split()[1]
    run.kill()
    end(run)
    following = start(HOLD, tmp_path)
    assert said(following).startswith("held")
    late = start(JOIN, tmp_path, name)
    assert said(late) == "over"
    end(following, late)

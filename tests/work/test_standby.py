"""A job done by a process that stands by is the job itself: what it says, how it ends, that it ends with its caller."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pipeline.work.standby import STANDBY

ROOT = Path(__file__).resolve().parents[2]
CALL = """
import signal, sys
from pipeline.work.standby import done_by_standby
signal.signal(signal.SIGINT, signal.SIG_DFL)
status = done_by_standby(sys.argv[1:])
print("nobody stands by") if status is None else sys.exit(status)
"""
SERVE = """
import os, socket, sys, time
from pathlib import Path
from pipeline.work.standby import stand_by

def prepare(words):
    if words[0] == "unprepared":
        raise OSError("not this one")

def do(words):
    match words[0]:
        case "tell":
            print(os.getcwd(), os.environ.get("OWN"), sys.stdin.read())
            print("beside", file=sys.stderr)
        case "exit":
            raise SystemExit(int(words[1]))
        case "say":
            raise SystemExit("why not")
        case "fail":
            raise ValueError("a fault of our own")
        case "kill":
            os.kill(os.getpid(), 9)
        case "sleep":
            Path(words[1]).write_text(str(os.getpid()))
            time.sleep(600)

with socket.socket(fileno=int(sys.argv[1])) as listening:
    stand_by(listening, int(sys.argv[2]), prepare, do)
"""


class Served:
    """A process that stands by, and jobs that ask it."""

    def __init__(self, place: Path) -> None:
        self.place = place
        with socket.socket(socket.AF_UNIX) as listening:
            listening.bind(str(place))
            listening.listen()
            alive, self.held = os.pipe()
            self.process = subprocess.Popen(
                [sys.executable, "-c", SERVE, str(listening.fileno()), str(alive)], pass_fds=(listening.fileno(), alive)
            )
            os.close(alive)

    def call(self, *words: str, **options) -> subprocess.Popen:
        environment = {**os.environ, STANDBY: str(self.place), "PYTHONPATH": str(ROOT), **options.pop("env", {})}
        command = [sys.executable, "-c", CALL, *words]
        streams = dict.fromkeys(("stdin", "stdout", "stderr"), subprocess.PIPE)
        return subprocess.Popen(command, env=environment, text=True, **streams, **options)

    def end(self) -> int:
        os.close(self.held)
        return self.process.wait(timeout=20)


@pytest.fixture
def served(tmp_path_factory):
    folder = Path("/tmp") if len(str(tmp_path_factory.getbasetemp())) > 80 else tmp_path_factory.mktemp("standby")
    made = Served(folder / f"jobs-{os.getpid()}")
    yield made
    made.process.kill()
    made.process.wait()
    made.place.unlink(missing_ok=True)


def gone(pid: int) -> bool:
    for _ in range(200):
        try:
            if "Z" in Path(f"/proc/{pid}/stat").read_text().split():
                return True
        except OSError:
            return True
        time.sleep(0.05)
    return False


def started(file: Path) -> int:
    for _ in range(400):
        if file.is_file() and file.read_text():
            return int(file.read_text())
        time.sleep(0.05)
    raise AssertionError("the job did not begin")


def test_a_job_has_its_callers_folder_environment_and_streams(served, tmp_path):
    job = served.call("tell", cwd=tmp_path, env={"OWN": "of the caller"})
    out, beside = job.communicate("heard", timeout=60)
    assert (job.returncode, out, beside) == (0, f"{tmp_path} of the caller heard\n", "beside\n")


@pytest.mark.parametrize(
    ("words", "status", "told"),
    [(("exit", "3"), 3, ""), (("say",), 1, "why not"), (("fail",), 1, "a fault of our own"), (("kill",), 137, "")],
)
def test_a_job_ends_as_it_would_by_itself(served, words, status, told):
    job = served.call(*words)
    _, beside = job.communicate(timeout=60)
    assert job.returncode == status
    assert told in beside


def test_jobs_are_done_side_by_side(served, tmp_path):
    first = served.call("sleep", str(tmp_path / "first"))
    started(tmp_path / "first")
    second = served.call("exit", "0")
    assert second.wait(timeout=60) == 0
    first.kill()


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_a_job_ends_with_its_caller(served, tmp_path, how):
    job = served.call("sleep", str(tmp_path / "pid"))
    pid = started(tmp_path / "pid")
    job.send_signal(how)
    job.wait(timeout=60)
    assert gone(pid)
    assert served.call("exit", "0").wait(timeout=60) == 0


def test_the_process_ends_when_the_run_does(served):
    assert served.end() == 0


@pytest.mark.parametrize("why", ["never there", "ended", "ends before it begins"])
def test_a_job_does_its_work_itself_where_nobody_stands_by(served, why):
    if why == "never there":
        served.place.unlink()
    if why == "ended":
        served.end()
    job = served.call("unprepared" if why == "ends before it begins" else "exit", "0")
    assert job.communicate(timeout=60)[0] == "nobody stands by\n"

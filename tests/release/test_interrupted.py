"""Runs that were stopped, doubled or overtaken by an edit: what is released was made from the source, or nothing is.

Every case here was a release that was quietly not what its source says. `tests/bench/interruptions.py` does the same at
hundreds of moments.
"""

import enum
import importlib.util
import os
import py_compile
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from pipeline.work.locks import hold_run
from pipeline.work.standby import STANDBY
from tests.release.conftest import ROOT, Workroom


def console(room: Workroom, *words: str) -> subprocess.CompletedProcess[str]:
    """`pattern-release` as a person gives it."""
    where = [word for name in ("source", "release", "work") for word in (f"--{name}", str(getattr(room, name)))]
    command = [sys.executable, "-c", "from pipeline.console import main; main()", *words, *where]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, cwd=room.folder, env=environment, capture_output=True, text=True, check=False)
    done.text = done.stdout + done.stderr
    return done


def test_folders_that_were_left_half_and_intermediates_that_are_gone_are_made_again(workroom):
    assert workroom.run().returncode == 0
    good, here = workroom.files(), workroom.work / "tea-apron"
    (here / "out/lays/lays.pdf").unlink()
    (here / "out/preview/band.png").unlink()
    (here / "pieces/S.json").unlink()
    shutil.rmtree(workroom.bundle)
    assert workroom.run().returncode == 0
    assert workroom.files() == good


def test_an_edit_that_was_interrupted_and_undone_leaves_no_trace(workroom):
    assert workroom.run().returncode == 0
    good = workroom.files()
    text = (workroom.pattern / "pattern.toml").read_text(encoding="utf-8")
    workroom.edit("pattern.toml", 'en = "Tea apron"', 'en = "Other apron"')
    running = subprocess.Popen(
        [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile"), "--cores", "2", "--config"]
        + [f"{name}={getattr(workroom, name)}" for name in ("source", "release", "work")],
        cwd=workroom.folder,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    while not (drawings := workroom.work / "tea-apron/receipts/drawings.json").is_file() or (
        b"Other apron" not in (workroom.work / "tea-apron/source/tea-apron/pattern.toml").read_bytes()
    ):
        assert running.poll() is None, drawings
        time.sleep(0.05)
    os.killpg(running.pid, signal.SIGKILL)
    running.wait()
    (workroom.pattern / "pattern.toml").write_text(text, encoding="utf-8")
    os.utime(workroom.pattern / "pattern.toml", (1, 1))
    done = workroom.run()
    assert done.returncode == 0, done.text
    assert workroom.files() == good


def test_a_run_that_is_told_to_end_ends_what_it_started_and_leaves_the_folder_free(workroom):
    where = [word for name in ("source", "release", "work") for word in (f"--{name}", str(getattr(workroom, name)))]
    running = subprocess.Popen(
        [sys.executable, "-c", "from pipeline.console import main; main()", "build", *where],
        cwd=workroom.folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    assert running.stdout is not None
    while not (workroom.work / "tea-apron/receipts/pieces-S.json").is_file():
        assert running.poll() is None
        time.sleep(0.05)
    running.terminate()
    told, _ = running.communicate(timeout=120)
    assert running.returncode == 1
    assert "The run was stopped." in told
    with pytest.raises(ProcessLookupError):
        os.killpg(running.pid, 0)
    done = console(workroom, "check")
    assert done.returncode == 0, done.text


@pytest.mark.parametrize("times", [1, 3, 8])
def test_a_run_that_is_told_to_end_while_it_holds_its_lock_ends(workroom, times):
    where = [f"{name}={getattr(workroom, name)}" for name in ("source", "release", "work")]
    engine = [sys.executable, str(ROOT / "tests/release/told_to_end.py"), str(times)]
    words = ["-s", str(ROOT / "Snakefile"), "--cores", "2", "--nolock", "check", "--config", *where]
    running = subprocess.Popen(
        [*engine, *words], cwd=workroom.folder, stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    try:
        told, _ = running.communicate(timeout=60)
    finally:
        if running.returncode is None:
            os.killpg(running.pid, signal.SIGKILL)
    assert running.returncode == 1
    assert "The run did not come to its end" in told


def test_what_was_compiled_by_a_run_that_ended_before_its_jobs_is_not_trusted(workroom, monkeypatch):
    """As on a full disk, which cuts off what Python compiles without a word: every later job would fail."""
    locks, compiled = workroom.work / ".snakemake/locks", workroom.work / ".run/compiled"
    locks.parent.mkdir(parents=True)
    locks.write_text("the engine cannot begin")
    assert workroom.run().returncode != 0
    locks.unlink()
    monkeypatch.setattr(sys, "pycache_prefix", str(compiled))
    cut_off = Path(importlib.util.cache_from_source(enum.__file__))
    py_compile.compile(enum.__file__, str(cut_off), doraise=True)
    os.truncate(cut_off, cut_off.stat().st_size // 2)
    done = workroom.run()
    assert done.returncode == 0, done.text


def test_a_file_put_back_with_an_old_date_is_seen(workroom):
    old = (workroom.pattern / "sizes/M/skirt.svg").read_bytes()
    workroom.edit("sizes/M/skirt.svg", 'cx="140"', 'cx="150"')
    assert workroom.run("check").returncode == 0
    edited = (workroom.work / "tea-apron/pieces/M.json").read_bytes()
    (workroom.pattern / "sizes/M/skirt.svg").write_bytes(old)
    os.utime(workroom.pattern / "sizes/M/skirt.svg", (1, 1))
    assert workroom.run("check").returncode == 0
    assert (workroom.work / "tea-apron/pieces/M.json").read_bytes() != edited


def test_a_second_run_says_one_sentence_by_either_way_in(workroom):
    (workroom.work / ".run").mkdir(parents=True)
    holder = (
        "import sys; from pathlib import Path; from pipeline.work.locks import hold_run;"
        "hold_run(Path(sys.argv[1]), print); print('held', flush=True); sys.stdin.read()"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    other = subprocess.Popen([sys.executable, "-c", holder, str(workroom.work)], env=environment, text=True, **pipes)
    assert other.stdout.readline() == "held\n"
    for done in (workroom.run(), console(workroom, "build")):
        assert done.returncode == 1
        assert "Another run is at work" in done.text
        assert "Traceback" not in done.text
    other.kill()
    other.communicate()
    assert workroom.run("check").returncode == 0


def test_the_screen_shows_a_line_a_stage_what_was_found_and_the_verdict_last(workroom):
    done = console(workroom, "check")
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert lines[:2] == ["Reading and cutting …", "Checking …"]
    assert lines[-1] == "1 pattern checked: nothing blocks a release."
    assert console(workroom, "check").stdout.splitlines()[-1] == lines[-1]
    workroom.edit("sizes/M/band.svg", "M340 20 V60", "M340 20 V90")
    done = console(workroom, "check")
    assert done.returncode == 1
    assert done.stdout.splitlines()[-1] == "1 pattern of 1 not released: tea-apron."
    for word in ("Snakemake", "DAG", "localrule", "WorkflowError"):
        assert word not in done.text


def test_a_job_that_fails_is_never_a_clean_run(workroom, monkeypatch):
    """The step is broken from outside: its shared library is not there."""
    (workroom.folder / "sitecustomize.py").parent.mkdir(exist_ok=True, parents=True)
    (workroom.folder / "sitecustomize.py").write_text(
        "import sys\nif 'findings' in getattr(sys, 'orig_argv', []): sys.modules['shapely'] = None\n"
    )
    monkeypatch.setenv("PYTHONPATH", str(workroom.folder))
    monkeypatch.setenv(STANDBY, "")
    where = [f"{name}={getattr(workroom, name)}" for name in ("source", "release", "work")]
    command = [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile"), "--cores", "2", "check", "--config"]
    done = subprocess.run([*command, *where], cwd=workroom.folder, capture_output=True, text=True, check=False)
    text = done.stdout + done.stderr
    assert done.returncode == 1
    assert "nothing blocks" not in text
    assert "tea-apron 1.0.0: not built, a job failed" in text
    assert "A fault of the pipeline itself, not of the pattern: findings." in text


@pytest.mark.parametrize("cores", ["0", "-3", "many"])
def test_cores_that_are_none_are_refused(workroom, cores: str):
    done = console(workroom, "check", f"--cores={cores}")
    assert done.returncode != 0
    assert f"{cores} is no number of cores" in done.text


def test_a_file_in_the_place_of_the_release_folder_is_told(workroom):
    workroom.release.write_text("mine")
    done = workroom.run()
    assert done.returncode == 1
    assert f"{workroom.release}" in done.text
    assert "Traceback" not in done.text
    assert workroom.release.read_text() == "mine"


def test_a_work_folder_is_held_by_this_very_process_too(tmp_path: Path):
    (tmp_path / ".run").mkdir()
    hold_run(tmp_path, lambda: None)
    assert (tmp_path / ".run/run.lock").read_text()

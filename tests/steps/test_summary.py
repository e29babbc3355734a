"""How a run ends: never with what an earlier run found, where a step has failed since."""

import os

import msgspec

from pipeline.model.findings import Finding, FindingsFile
from pipeline.rules.plan import read_sources
from pipeline.rules.summary import end_run
from tests.release.conftest import SMALL

NOTHING = msgspec.json.encode(FindingsFile(findings=()))
ODD = Finding(
    check="masters", code="odd", severity="block", pattern="tea-apron", size="S", message="odd", remedy="mend"
)


def ended(tmp_path, capsys, **files: bytes) -> str:
    folder = tmp_path / "tea-apron"
    for name, data in files.items():
        path = folder / name.replace("__", "/").replace("_log", ".log")
        path = path if path.suffix else path.with_suffix(".json")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    end_run(read_sources(SMALL.parent, "tea-apron"), tmp_path, tmp_path / "release")
    return capsys.readouterr().out


def test_a_run_that_got_to_its_end_says_so(tmp_path, capsys):
    said = ended(tmp_path, capsys, findings=NOTHING, checked=NOTHING, pieces__S=b"", pieces__M=b"")
    assert "tea-apron 1.0.0: nothing blocks a release" in said


def test_a_size_that_could_not_be_read_leaves_what_the_others_found_and_no_verdict(tmp_path, capsys):
    read = msgspec.json.encode(FindingsFile(findings=(ODD,)))
    said = ended(tmp_path, capsys, findings=NOTHING, checked=NOTHING, pieces__S=b"", read__S=read)
    assert "not checked, a step of the pipeline failed" in said
    assert "nothing blocks" not in said
    assert "BLOCKS: size S: odd" in said


def test_a_step_that_failed_after_the_checks_is_told_with_its_trace(tmp_path, capsys):
    done = {"findings": NOTHING, "checked": NOTHING, "pieces__S": b"", "pieces__M": b""}
    said = ended(tmp_path, capsys, **done, log__layout_log=b"ZeroDivisionError")
    assert "not built, a step of the pipeline failed (trace: " in said
    log = tmp_path / "tea-apron/log/layout.log"
    os.utime(log, (0, 0))  # of an earlier run
    assert "nothing blocks a release" in ended(tmp_path, capsys)

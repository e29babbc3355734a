"""How a run ends: never with what an earlier run found, and clean only where every check has run."""

import msgspec
import pytest

from pipeline.model.findings import Finding, FindingsFile
from pipeline.rules.sources import read_source
from pipeline.rules.summary import end_run
from tests.masters.drawings.small import AROUND, HEAD, drawing
from tests.release.conftest import SMALL

NOTHING = msgspec.json.encode(FindingsFile(findings=()))
ODD = Finding(
    check="masters", code="odd", severity="block", pattern="tea-apron", size="S", message="odd", remedy="mend"
)
FOUND = msgspec.json.encode(FindingsFile(findings=(ODD,)))


@pytest.fixture
def ended(tmp_path, capsys):
    """What the end of a run says, given the files that its jobs left."""

    def end(well: bool, asked: str = "all", **files: bytes) -> str:
        folder = tmp_path / "tea-apron"
        for name, data in files.items():
            path = folder / name.replace("__", "/")
            path = path.with_suffix(".failed" if path.parent.name == "log" else ".json")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
        end_run({"tea-apron": read_source(SMALL, tmp_path)}, tmp_path, tmp_path / "release", {asked}, well, None)
        return capsys.readouterr().out

    return end


def test_what_stops_a_drawing_is_told_in_a_dozen_lines_with_what_was_found(tmp_path, capsys):
    folder = tmp_path / "source/bag"
    folder.mkdir(parents=True)
    (folder / "pattern.toml").write_text(HEAD + AROUND, encoding="utf-8")
    straight = '<g data-name="seam"><path d="M20,20 H90 V90 Z"/></g>'
    sizes = {f"{piece}_{size}": straight for size in "sl" for piece in ("front", "flap")}
    (folder / "nest.svg").write_text(drawing(**sizes).replace("Size L", "Size XL"), encoding="utf-8")
    end_run({"bag": read_source(folder, tmp_path)}, tmp_path, tmp_path / "release", {"check"}, False, None)
    lines = capsys.readouterr().out.strip().splitlines()
    assert len(lines) <= 13
    assert lines[0] == "bag 1.0.0: nothing was built, 3 findings to mend first"
    assert lines[1].startswith("  read nest.svg: ")
    assert sum(line.startswith("  BLOCKS: ") for line in lines) == 3
    full = (tmp_path / "bag/findings.txt").read_text(encoding="utf-8")
    assert full.count("BLOCKS: ") == 3
    assert full.count("in proof/ shows") == 2


def test_nothing_blocks_only_where_every_check_has_run(ended):
    said = ended(True, checked=NOTHING)
    assert said.splitlines()[-1] == "1 pattern checked: nothing blocks a release."


def test_what_was_not_checked_is_not_called_clean(ended):
    said = ended(True)
    assert "tea-apron 1.0.0: not checked" in said
    assert "nothing blocks" not in said


def test_a_size_that_could_not_be_read_leaves_what_the_others_found_and_no_verdict(ended):
    said = ended(False, read__S=FOUND, log__pieces=b"A fault of the pipeline itself")
    assert "BLOCKS: size S: odd" in said
    assert "nothing blocks" not in said
    assert said.splitlines()[-1].startswith("The run did not come to its end")


def test_a_job_that_failed_after_the_checks_is_told_last(ended):
    said = ended(False, checked=NOTHING, log__layout=b"The disk is full. Mend that.").splitlines()
    assert said[1] == "tea-apron 1.0.0: not built, a job failed"
    assert said[-2] == "The disk is full. Mend that."
    assert "nothing blocks" not in "\n".join(said)


def test_built_is_said_of_a_bundle_of_this_source_alone(ended):
    stamp = msgspec.json.encode({"place": "/release/tea-apron/1.0.0", "checksums": "sums"})
    assert "built, /release/tea-apron/1.0.0" in ended(True, checked=NOTHING, built=NOTHING, bundle=stamp)


def test_a_bundle_that_was_held_back_is_not_called_built(ended):
    stamp = msgspec.json.encode({"place": "/release/tea-apron/1.0.0", "checksums": ""})
    said = ended(False, checked=NOTHING, built=FOUND, bundle=stamp)
    assert "nothing was built, 1 finding to mend first" in said
    assert said.splitlines()[-1] == "1 pattern of 1 not released: tea-apron."


def test_a_run_that_was_to_check_speaks_of_the_check_also_where_a_bundle_stands(ended):
    stamp = msgspec.json.encode({"place": "/release/tea-apron/1.0.0", "checksums": "sums"})
    said = ended(True, "check", checked=NOTHING, built=NOTHING, bundle=stamp).splitlines()
    assert said[1].startswith("tea-apron 1.0.0: nothing that was checked blocks; the bundle in")
    assert said[-1] == "1 pattern checked: nothing blocks a release."


def test_a_search_is_no_check(ended):
    assert ended(True, "lays", checked=NOTHING).splitlines()[-1] == "1 pattern done."

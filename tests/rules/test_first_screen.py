"""The first screen of a new pattern: a dozen lines that say what was found, what stops it, and the one next thing."""

import shutil
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.checks.telling import tell, to_mend
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.rules.first_screen import ALL_FINDINGS, MOST_LINES, first_screen, order_of
from pipeline.rules.sources import Source, read_source
from pipeline.rules.summary import end_run
from pipeline.starting.first import start
from tests.by_steps import APRON
from tests.masters.drawings.small import AROUND, HEAD, drawing
from tests.rules.test_sold import seal

CLOTH = """[materials.shell]
title = { en = "cloth", de = "Stoff" }
widths = ["140 cm"]
"""
CUT = AROUND.replace('start = "first"\n', 'start = "first"\ncut = [{ material = "shell", count = 2 }]\n').replace(
    '"cf"]\n', '"cf"]\ncut = [{ material = "shell", count = 1 }]\nedges.cf = { fold = true }\n'
)


@pytest.fixture
def screen(tmp_path, capsys):
    """The lines that a check of the drawn bag ends with: of a drawing, of what is said of it, and of found faults."""

    def lines(text: str, said: str = CUT + CLOTH, found: tuple[Finding, ...] = ()) -> list[str]:
        folder = tmp_path / "source/bag"
        folder.mkdir(parents=True)
        (folder / "pattern.toml").write_text(HEAD + said, encoding="utf-8")
        (folder / "nest.svg").write_text(text, encoding="utf-8")
        return checked(read_source(folder, tmp_path / "work"), tmp_path / "work", found, capsys)

    return lines


def checked(source: Source, work: Path, found: tuple[Finding, ...], capsys) -> list[str]:
    if found:
        (work / source.name / "checked.json").write_bytes(msgspec.json.encode(FindingsFile(findings=found)))
    end_run({source.name: source}, work, work / "release", {"check"}, not found, None)
    return [line for line in capsys.readouterr().out.splitlines() if line]


def finding(number: int, **values) -> Finding:
    given = {
        "check": "marks",
        "code": f"odd-{number}",
        "severity": "block",
        "pattern": "bag",
        "piece": "flap",
        "where": f"place-{number}",
        "message": f"fault {number}",
        "remedy": f"mend {number}",
    }
    return Finding(**(given | values))


def test_it_says_how_pieces_folds_and_counts_were_understood(screen):
    lines = screen(drawing(), found=(finding(1),))
    assert lines[1:5] == [
        "  read nest.svg: 6 outlines of 2 pieces; sizes s, m, l",
        "  edges of each piece: front 4, flap 3; 9 notches in all",
        "  grain drawn in 6 of 6",
        "  cut of shell: on the fold 1 of front (cf); 2 of flap",
    ]


def test_pieces_in_files_of_their_own_are_told_too(tmp_path, capsys):
    folder = Path(shutil.copytree(APRON, tmp_path / "source/tea-apron"))
    lines = checked(read_source(folder, tmp_path / "work"), tmp_path / "work", (finding(1),), capsys)
    assert lines[1].startswith("  2 drawn pieces in 2 sizes: S, M")
    assert any(line.startswith("  cut of ") for line in lines)


def test_one_fault_is_told_in_full_and_many_in_a_line_each_with_the_one_next_thing(screen, tmp_path):
    found = tuple(finding(number) for number in range(40))
    lines = screen(drawing(), found=found)
    assert len(lines) == MOST_LINES
    assert lines[0] == "bag 1.0.0: nothing was built, 40 findings to mend first"
    assert lines[-2] == "  next: mend 0, then give the same command again"
    assert lines[-1] == "1 pattern of 1 not released: bag."
    told = tmp_path / "work/bag" / ALL_FINDINGS
    shown = sum("BLOCKS" in line for line in lines)
    assert lines[-3] == f"  {40 - shown} lines more; all in full: {told}"
    assert told.read_text(encoding="utf-8").count("BLOCKS") == 40


def test_checks_that_look_at_nothing_say_which_tables_they_look_at(screen):
    skipped = {"severity": "skip", "code": "not-declared"}
    undeclared = tuple(finding(number, check=f"check-{number}", **skipped) for number in range(3))
    few = finding(1, check="grading", severity="skip", code="too-few-sizes")
    lines = screen(drawing(), found=(finding(1), finding(2), *undeclared, few))
    (told,) = [line for line in lines if "all in full" in line]
    assert told.startswith(
        "  3 checks look at what you have none of: [seams], [finished], [body], [strips], [notions],"
        " 1 check had too little to look at; all in full: "
    )


def test_one_cause_at_several_places_is_one_line(screen):
    same = {"check": "references", "code": "unknown-edge", "found": "armhol", "allowed": "armhole, side"}
    found = tuple(finding(number, **same) for number in range(5))
    (told,) = [line for line in screen(drawing(), found=found) if "BLOCKS" in line]
    assert told.endswith("so, too, flap.place-1, flap.place-2, flap.place-3, flap.place-4")


def test_what_is_left_to_be_written_is_one_thing(screen, tmp_path):
    marked = finding(0, check="proposals", code="left", where="pattern", piece=None, message="12 lines are marked")
    texts = finding(1, check="texts", code="placeholder", where="pattern", piece=None, message="no maker")
    booklet = finding(2, check="booklet-text", code="placeholder", where=None, piece=None, message="no step")
    lines = screen(drawing(), found=(texts, marked, booklet))
    assert lines[0].endswith("1 finding to mend first")
    assert sum("BLOCKS" in line for line in lines) == 1
    assert (tmp_path / "work/bag" / ALL_FINDINGS).read_text(encoding="utf-8").splitlines()[3:] == [
        "    probably the cause of:",
        "      BLOCKS: pattern: no maker [texts/placeholder]",
        "      BLOCKS: no step [booklet-text/placeholder]",
    ]


def test_marks_are_told_where_reading_stops_before_the_checks(tmp_path, capsys):
    (tmp_path / "nest.svg").write_text(drawing(), encoding="utf-8")
    folder = tmp_path / "source/bag"
    start(folder, [tmp_path / "nest.svg"])
    (folder / "drawing/nest.svg").write_text(drawing().replace("Klappe", "Deckel"), encoding="utf-8")
    source = read_source(folder, tmp_path / "work")
    lines = checked(source, tmp_path / "work", (), capsys)
    assert len(lines) <= MOST_LINES
    assert lines[-3].endswith('lines of pattern.toml still marked "proposed" or "to write"')
    assert lines[-4].endswith(
        'If "Deckel" is the piece klappe, rename the layer to "klappe", or give the piece that title.'
    )


def test_a_pattern_without_a_fault_is_told_to_be_built(screen):
    lines = screen(drawing(), found=(finding(1, severity="info"),))
    assert lines[-2] == "  next: `build --pattern bag`"


def test_a_pattern_whose_checks_did_not_run_is_not_told_to_be_built(screen):
    assert screen(drawing())[-2] == "  next: give the same command again"


WARNED = {"check": "grading-steps", "code": "off", "severity": "warn", "size": "s", "where": "side"}


def test_a_cause_that_only_warns_is_to_be_mended_where_what_follows_from_it_blocks(screen, tmp_path):
    lines = screen(drawing(), found=(finding(1, **WARNED), finding(2, size="s")))
    assert lines[0].endswith("1 finding to mend first")
    assert next(line for line in lines if "fault 1" in line).startswith("  BLOCKS: flap.side, size s: ")
    assert lines[-2] == "  next: mend that in the source, then give the same command again"
    told = (tmp_path / "work/bag" / ALL_FINDINGS).read_text(encoding="utf-8")
    assert told.splitlines()[0].startswith("BLOCKS: flap.side")
    assert "or accept it" not in told


def test_of_several_the_next_thing_names_the_place_of_a_cause_that_only_warns(screen):
    other = finding(3, piece="front", where="cf")
    lines = screen(drawing(), found=(finding(1, **WARNED), finding(2, size="s"), other))
    assert lines[-2] == "  next: mend flap.side, size s: mend 1, then give the same command again"


@pytest.fixture(scope="module")
def bag(tmp_path_factory) -> tuple[Source, Path]:
    work = tmp_path_factory.mktemp("bag")
    folder = work / "source/bag"
    folder.mkdir(parents=True)
    (folder / "pattern.toml").write_text(HEAD + CUT + CLOTH, encoding="utf-8")
    (folder / "nest.svg").write_text(drawing(), encoding="utf-8")
    return read_source(folder, work / "work"), work / "work/bag"


ANY = st.builds(
    Finding,
    check=st.sampled_from(("edge-names", "size-copies", "grading-steps", "grading-lengths", "seam-lengths", "marks")),
    code=st.sampled_from(("odd", "other")),
    severity=st.sampled_from(("block", "warn", "info", "skip")),
    pattern=st.just("bag"),
    size=st.sampled_from(("s", "m", "l", None)),
    piece=st.sampled_from(("front", "flap", None)),
    where=st.sampled_from(("side", "cf", None)),
    message=st.just("it is odd"),
    remedy=st.sampled_from(("mend it.", "compare it; or waive it", "which is it?", "")),
    waived=st.sampled_from((None, None, "meant so")),
)
LEFT = st.builds(
    Finding,
    check=st.sampled_from(("proposals", "texts", "booklet-text")),
    code=st.sampled_from(("left", "placeholder")),
    severity=st.sampled_from(("block", "warn")),
    pattern=st.just("bag"),
    message=st.just("it is left"),
    remedy=st.just("write it"),
)


@settings(max_examples=300, deadline=None)
@given(st.lists(ANY | LEFT, max_size=12))
def test_build_is_the_next_step_only_where_nothing_blocks_whatever_causes_what(bag, findings):
    source, folder = bag
    some, order = tuple(findings), order_of(source.pattern)
    stopped = any(map(blocks, some))
    heads = [line for line in tell(some, *order) if not line.startswith(" ")]
    assert sum(line.startswith("BLOCKS: ") for line in heads) == to_mend(some, *order)
    assert bool(to_mend(some, *order)) == stopped
    lines = first_screen(source, some, folder, True)
    opened = [line for line in lines if line.startswith(("BLOCKS: ", "look at: ", "accepted: ", "note: "))]
    assert lines[-1].startswith("next: ")
    assert ("`build" in lines[-1]) != stopped
    assert lines[-1].endswith("give the same command again") == stopped
    assert not stopped or opened[0].startswith("BLOCKS: ")
    assert stopped or not any("BLOCKS" in line for line in lines)


def test_what_was_sold_is_told_whole(tmp_path, capsys):
    folder = Path(shutil.copytree(APRON, tmp_path / "source/tea-apron"))
    seal(folder, "1.0.0")
    found = tuple(finding(number, pattern="tea-apron") for number in range(40))
    lines = checked(read_source(folder, tmp_path / "work"), tmp_path / "work", found, capsys)
    assert sum("BLOCKS" in line for line in lines) == 40

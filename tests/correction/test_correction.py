"""What is said of a correction: who is concerned, which pages, how far, and how it is mended."""

import re

import msgspec
import pytest

from pipeline.correction import sentences
from pipeline.correction.differences import differences
from pipeline.correction.letter import letter
from pipeline.correction.number import number_findings
from pipeline.correction.sheet import Flow, correction_pages
from pipeline.correction.strips import HELD_MM, LONGEST_MM, strips_to_add
from pipeline.drawing.scene import Group, Path, Scene, Text
from pipeline.ledger.before import Former
from pipeline.ledger.changes import ChangesFile
from pipeline.ledger.facts import Facts, PieceFacts
from pipeline.ledger.packed import packed, shape_digest
from pipeline.model.texts import told_of_version
from tests.correction.versions import TEXT, change, correction, panel, printed, side_moved
from tests.drawing.seen import written

EDGE = change("edge", "side", piece="skirt", size="M", mm=3.0, place=(300.0, 200.0), near="along its whole length")


def texts(scenes: tuple[Scene, ...]) -> str:
    def of(shapes):
        for shape in shapes:
            if isinstance(shape, Group):
                yield from of(shape.shapes)
            elif isinstance(shape, Text):
                yield shape.content

    return "\n".join(text for scene in scenes for text in of(scene.shapes))


def test_what_was_wrong_is_said_in_the_designers_words_without_markup():
    assert told_of_version(TEXT, "1.0.0") == "First."
    assert told_of_version(TEXT, "1.1.0").startswith("The **side**")
    assert told_of_version(TEXT, "2.0.0") == ""
    assert sentences.what_was_wrong(correction()) == ["The side was wrong.", "one", "two ?"]


def test_only_sizes_of_changed_pieces_are_concerned():
    assert sentences.concerned(correction(EDGE)) == ("M",)
    assert sentences.concerned(correction(*printed("print/a4.pdf", "1"))) == ()
    assert sentences.concerned(correction(change("piece", "pocket", after="pocket"))) == ("S", "M")
    cloth = change("cloth", "shell 1100 mm wide", size="S", before="1 m", after="2 m")
    assert sentences.concerned(correction(cloth)) == ()


def test_a_page_is_printed_again_by_those_who_sew_what_changed_on_it():
    """Page 3A shows size S alone: whoever sews M has no use of it, and size S is as it was."""
    found = correction(EDGE, *printed("print/a4.pdf", "1", "2A", "3A"), *printed("print/by-size/M-a4.pdf", "2A"))
    lists = sentences.pages_to_print(found, "en")
    assert [(each.sizes, each.file, each.labels) for each in lists] == [
        (("M",), "print/a4.pdf", ("1", "2A")),
        (("M",), "print/by-size/M-a4.pdf", ("2A",)),
    ]
    assert sentences.page_sentences(found, "en") == [
        "Size M, tea-apron-1.0.0-a4.pdf: 1, 2A",
        "Size M, tea-apron-1.0.0-size-M-a4.pdf: 2A",
    ]


def test_of_a_roll_it_is_told_that_its_reprint_is_all_of_it() -> None:
    tiled, *none = sentences.reprint_sentences(correction(EDGE), ["a4"], "en")
    assert ("tea-apron-1.0.0-a4.pdf" in tiled, none) == (True, [])
    _, rolled = sentences.reprint_sentences(correction(EDGE), ["a4", "roll-36in"], "en")
    assert "the whole roll again" in rolled
    assert "roll-36in" in rolled


def test_a_page_that_is_gone_is_not_printed_again():
    gone = change("page", "print/a4.pdf", near="4A", before="a")
    assert sentences.pages_to_print(correction(EDGE, gone), "en") == ()
    assert sentences.page_sentences(correction(EDGE, gone), "en") == ["No page needs to be printed again."]


@pytest.mark.parametrize(
    ("told", "line"),
    [
        (("notch", "hip on side", "", ""), "1 Skirt · Size M · notch hip on side: moved by up to 5.0 mm"),
        (("said", "count in shell", "1", "2"), "1 Skirt · Size M · how many to cut (main cloth): 1, now 2"),
        (
            ("said", "allowance of hem", "40 mm", "30 mm"),
            "seam allowance (hem): 4 cm (1 9/16 in), now 3 cm (1 3/16 in)",
        ),
        (
            ("cloth", "shell 1100 mm wide", "1 m", "2 m"),
            "How much cloth · main cloth, 110 cm (43 1/2 in) wide: 1 m, now 2 m",
        ),
        (("detail", "mark hook", "", "mark hook"), "mark hook: added"),
        (("detail", "mark hook", "mark hook", ""), "mark hook: taken away"),
    ],
)
def test_other_changes_are_said_each_in_a_line(told, line):
    what, name, before, after = told
    more = {"mm": 5.0} if what == "notch" else {"before": before or None, "after": after or None}
    (found,) = sentences.other_sentences(correction(change(what, name, piece="skirt", size="M", **more)), "en")
    assert line in found


@pytest.mark.parametrize(
    ("told", "line"),
    [
        (
            ("cloth", "shell 1143 mm wide, one way", "1.5 m (1 5/8 yd), fold", "1.7 m (1 7/8 yd), fold"),
            "How much cloth · main cloth, 45 in (115 cm) wide, one way: 1 5/8 yd (1.5 m), now 1 7/8 yd (1.7 m)",
        ),
        (
            ("cloth", "shell 1143 mm wide", "1.5 m (1 5/8 yd), fold", "1.7 m (1 7/8 yd)"),
            "1 5/8 yd (1.5 m): folded once, selvedges together, now 1 7/8 yd (1.7 m): laid open, in one layer",
        ),
        (
            ("strips", "tie of shell", "2 of 95.3 mm x 679.5 mm, along", "2 of 95.3 mm x 685.8 mm, along"),
            "2 × 3 3/4 in (9.5 cm) × 26 3/4 in (68 cm), along the grain, now 2 × 3 3/4 in (9.5 cm) × 27 in (68.6 cm)",
        ),
        (("said", "allowance of hem", "9.5 mm", "9.5 mm .. 25.4 mm"), "3/8 in (9.5 mm), now 3/8 in (9.5 mm) – 1 in"),
    ],
)
def test_an_inch_pattern_is_corrected_in_inches_and_in_words(told, line):
    what, name, before, after = told
    given = correction(change(what, name, size="M", before=before, after=after))
    inches = given._replace(pattern=msgspec.structs.replace(given.pattern, units="imperial"))
    (found,) = sentences.other_sentences(inches, "en")
    assert line in found
    assert sentences.distance(inches, 1.9, "en") == "1/16 in (1.9 mm)"
    assert sentences.distance(inches, 0.2, "en") == "1/32 in (0.2 mm)"


def test_the_same_change_of_several_sizes_is_said_once():
    both = [change("mark", "pocket", piece="skirt", size=size, mm=2.0) for size in "SM"]
    (found,) = sentences.other_sentences(correction(*both), "en")
    assert found.startswith("1 Skirt · Sizes S, M · pocket: moved by up to 2.0 mm (0.08 in)")


def former(side: float = 0.0, left: float = 0.0) -> Former:
    text = packed(panel(side, left))
    facts = Facts(
        sizes=("M",), pieces={"skirt": {"M": PieceFacts(shape_digest(text), {})}}, rows={}, texts={}, pages={}
    )
    return Former("1.0.0", "2026-01-02", facts, {shape_digest(text): text})


@pytest.mark.parametrize("left", [0.0, 70.0])
@pytest.mark.parametrize(("before", "out", "into"), [(-3.0, 3.0, 0.0), (4.0, 0.0, 4.0)])
def test_an_edge_is_told_to_lie_farther_out_or_in(monkeypatch, before, out, into, left):
    monkeypatch.setattr("pipeline.correction.differences.shape_of", lambda cut: panel())
    (found,) = differences([EDGE], former(before, left), {"skirt": {"M": None}})
    assert found.edges["side"].out_mm == pytest.approx(out, abs=0.05)
    assert found.edges["side"].in_mm == pytest.approx(into, abs=0.05)


def test_strips_are_the_added_width_in_true_size_with_room_for_the_tape():
    strips = list(strips_to_add(side_moved(3.0), 20.0))
    assert [(strip.edge, strip.number, strip.parts) for strip in strips] == [("side", n, 3) for n in (1, 2, 3)]
    for strip in strips:
        width, height = strip.sides
        assert width == pytest.approx(3.0 + HELD_MM, abs=0.05)
        assert height <= LONGEST_MM
        left, top, right, bottom = strip.old_line.bounds
        assert right - left < 0.05
        assert bottom - top == pytest.approx(height, abs=0.1)
        assert min(left, width - right) == pytest.approx(3.0, abs=0.05)
        assert strip.held.area == pytest.approx(HELD_MM * height, rel=0.01), "the side that lies on the old piece"
        assert strip.held.bounds[::2] == pytest.approx((right, width) if left < HELD_MM else (0.0, left), abs=0.1)
    assert sum(strip.sides[1] for strip in strips) == pytest.approx(500.0, abs=0.5)


def test_what_tape_does_not_mend_has_no_strip():
    assert list(strips_to_add(side_moved(25.0), 20.0)) == []
    assert list(strips_to_add(side_moved(0.0, 3.0), 20.0)) == []


def test_what_lies_on_the_old_piece_is_grey_so_that_no_strip_is_taped_the_other_way_round():
    scenes = correction_pages(correction(EDGE, differences=(side_moved(3.0),)), "en", "a4")
    grey = [shape for scene in scenes for shape in scene.shapes if isinstance(shape, Path) and shape.fill]
    assert len(grey) == 3
    assert "The grey part lies on the old piece, printed sides up." in texts(scenes).replace("\n", " ")


def test_a_sheet_says_how_to_mend_only_what_there_is_to_mend():
    out = texts(correction_pages(correction(EDGE, differences=(side_moved(3.0),)), "en", "a4"))
    assert "Farther out:" in out
    assert "Farther in:" not in out
    assert "1 Skirt, side, Size M: 1 of 3" in out
    into = texts(correction_pages(correction(EDGE, differences=(side_moved(0.0, 3.0),)), "en", "letter"))
    assert "Farther in:" in into
    assert "Strips to add" not in into
    words = texts(correction_pages(correction(change("text", "pattern.title, en", before="a", after="b")), "en", "a4"))
    assert "No piece has another shape." in words
    assert "Texts: pattern.title" in words
    assert "If it is already printed" not in words


@pytest.mark.parametrize("language", ["en", "de", "es", "fr", "nl", "sv"])
def test_every_language_says_it(language):
    many = [change("mark", f"m{n}", piece="skirt", size="M", mm=2.0) for n in range(60)]
    scenes = correction_pages(correction(EDGE, *many, differences=(side_moved(3.0),)), language, "letter")
    assert len(scenes) >= 3
    for scene in scenes:
        for text in (shape for shape in scene.shapes if isinstance(shape, Text)):
            assert text.place.y < scene.height_mm - 10
    text = letter(correction(EDGE), language, f"correction-{language}-a4.pdf")
    assert not re.search(r"[{}]", text)
    assert f"tea-apron-1.0.0-correction-{language}-a4.pdf" in text, "the name that it has in an archive, in one line"


@pytest.mark.parametrize(("version", "told"), [("1.0.1", ["1.1.0 or more"]), ("1.1.0", []), ("2.0.0", [])])
def test_a_number_that_rises_too_little_is_told(version, told):
    file = ChangesFile(pattern="tea-apron", since="1.0.0", version=version, next_version="1.1.0", changes=())
    assert [finding.allowed for finding in number_findings(file)] == told


def test_an_entry_that_needs_two_lines_is_indented_in_the_second():
    flow = Flow(210.0, 297.0)
    flow.entry("Size M, tea-apron.pdf: " + ", ".join(str(page) for page in range(2, 90)))
    flow.entry("Size S, tea-apron.pdf: 2")
    lefts = [text.place.x for text in written(flow.pages[0])]
    assert len(lefts) > 3
    assert lefts[0] == lefts[-1] < lefts[1] == lefts[-2]


def test_page_lists_of_several_sizes_are_parted():
    changes = (*printed("print/a4.pdf", "2A", "3A"), EDGE, change("edge", "side", piece="skirt", size="S", mm=1.0))
    (page, *_) = correction_pages(correction(*changes), "en", "a4")
    lists = [text.place.y for text in written(page) if ".pdf: " in text.content]
    assert len(lists) == 2
    assert lists[1] - lists[0] > 1.3 * 3.4 + 1

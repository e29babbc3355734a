"""Names that `pattern.toml` says, held against what is drawn."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from pipeline.masters.read_size import read_size
from pipeline.masters.references import check_references
from pipeline.masters.toml.sums import parse_side, parse_sum
from pipeline.model.findings import Finding
from pipeline.model.pattern import Seam
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec
from pipeline.model.pieces import CutEdge, CutPiece
from pipeline.model.sums import lengths_of, sum_mm
from tests.masters.pattern_folder import RECTANGLE, pattern_folder
from tests.masters.three_pieces import MASTERS, PIECES, SEAM, load, references


def told(findings: tuple[Finding, ...]) -> list[tuple[str, str | None, str | None, str | None]]:
    return [(finding.code, finding.size, finding.piece, finding.file) for finding in findings]


NAMED = """
[seams.side]
a = ["front.rihgt"]
b = ["front.left"]
[strips.loop]
title = "Loop"
cut = [{ material = "shell", count = 1 }]
width = "1 cm"
make = "flat"
length = "front.level + 2 x front.tpo"
goes_round = "front.level gross"
[finished.width]
title = "Width"
sum = "4 x fusing.level - front.levle"
[notions.tape]
title = "Tape"
length = "tab.botom"
[[waivers]]
check = "outline"
where = "front.dart-c"
why = "meant"
"""


def test_a_part_of_an_edge_lies_between_its_notches_and_neighbours(tmp_path: Path) -> None:
    """`right` meets `top` and `bottom`; `dart-a` is a notch of another edge, and an edge is no place on itself."""
    folder = pattern_folder(tmp_path, PIECES, MASTERS)
    pattern = load(folder)
    sizes = {size: read_size(pattern, folder, size)[0] for size in pattern.sizes}

    def told(start: str, end: str) -> list[tuple[str, str, str]]:
        part = AllowancePart(of=EdgePart(start, end), start_mm=10, end_mm=10)
        tab = replace(pattern.pieces["tab"], edges={"right": EdgeSpec(along=(part,))})
        found = check_references(replace(pattern, pieces={**pattern.pieces, "tab": tab}), sizes)
        return [(finding.code, finding.object, finding.found) for finding in found]

    side = parse_side("tab.right[tpo..bottom]")
    seam = Seam(name="side", a=(side,), b=(parse_side("tab.right[top..bottom]"),))
    (finding,) = check_references(replace(pattern, seams={"side": seam}), sizes)
    assert (finding.code, finding.object, finding.found) == ("unknown-notch", "seams.side.a[1]", "tpo")

    assert told("top", "bottom") == []
    key = "pieces.tab.edges.right.along[1]"
    assert told("tpo", "right") == [
        ("unknown-notch", f"{key}.from", "tpo"),
        ("unknown-notch", f"{key}.to", "right"),
    ]


IN_SUMS = """
[strips.loop]
title = "Loop"
cut = [{ material = "shell", count = 1 }]
width = "1 cm"
make = "flat"
length = "tab.right[top..botom]"
[finished.width]
title = "Width"
sum = "2 x front.level[left..right] + fusing.top[dart-a..dart-b] gross"
[notions.zip]
title = "Zip"
length = "front.top[dart-a..dart-b]"
opening = "front.top[dart-a..dart-c]"
"""


def test_parts_of_edges_in_sums_lie_between_places_that_are_drawn(tmp_path: Path) -> None:
    findings = references(tmp_path, MASTERS, PIECES + IN_SUMS)
    assert [(finding.code, finding.object, finding.found) for finding in findings] == [
        ("unknown-notch", "strips.loop.length", "botom"),
        ("unknown-edge", "finished.width.sum", "level"),
        ("unknown-notch", "notions.zip.opening", "dart-c"),
    ]
    assert 'Did you mean "bottom"?' in findings[0].remedy
    assert 'Did you mean "dart-a"' in findings[-1].remedy or 'Did you mean "dart-b"' in findings[-1].remedy


def test_names_that_no_master_has_are_told_at_their_key(tmp_path: Path) -> None:
    text = PIECES.replace('notches.dart-a = "triple"', 'notches.dart-z = "triple"') + NAMED
    folder = pattern_folder(tmp_path, text, MASTERS)
    pattern = load(folder)
    sizes = {size: read_size(pattern, folder, size)[0] for size in pattern.sizes}
    findings = check_references(pattern, sizes)
    assert [(finding.code, finding.object, finding.found, finding.severity) for finding in findings] == [
        ("unknown-notch", "pieces.fusing.notches.dart-z", "dart-z", "block"),
        ("unknown-edge", "seams.side.a[1]", "rihgt", "block"),
        ("unknown-edge", "strips.loop.length", "tpo", "block"),
        ("unknown-edge", "strips.loop.goes_round", "level", "block"),
        ("unknown-edge", "finished.width.sum", "levle", "block"),
        ("unknown-edge", "notions.tape.length", "botom", "block"),
        ("unknown-mark", "waivers[1].where", "dart-c", "warn"),
    ]
    assert {finding.size for finding in findings} == {None}
    assert 'Did you mean "right"?' in findings[1].remedy
    assert findings[1].where == "seams.side"


def test_a_point_that_is_named_and_not_drawn_is_told(tmp_path: Path) -> None:
    text = PIECES.replace('notches.dart-a = "triple"', 'points.eyelet = { title = "eyelet" }')
    (told,) = references(tmp_path, MASTERS, text)
    assert (told.code, told.object, told.severity) == ("unknown-point", "pieces.fusing.points.eyelet", "block")


def _with_eyelet(*sizes: str) -> dict[str, str]:
    """A front of its own for each size; those that are named have an eyelet."""
    eyelet = RECTANGLE.replace("</svg>", '<g id="points"><circle id="eyelet" cx="40" cy="30" r="1"/></g></svg>')
    fronts = {f"sizes/{size}/front.svg": eyelet if size in sizes else RECTANGLE for size in ("s", "m", "l")}
    return {"sizes/s/tab.svg": RECTANGLE, **fronts}


FRONT_LINE = 'lines.level = { kind = "level" }'


def _eyelet(sizes: str = "") -> str:
    return PIECES.replace(FRONT_LINE, f'{FRONT_LINE}\npoints.eyelet = {{ side = "right"{sizes} }}')


def test_a_point_that_only_some_sizes_have_names_them(tmp_path: Path) -> None:
    assert references(tmp_path, _with_eyelet("l"), _eyelet(', sizes = ["l"]')) == ()


def test_without_its_sizes_a_point_is_of_all_and_the_key_for_them_is_told(tmp_path: Path) -> None:
    (told,) = references(tmp_path, _with_eyelet("l"), _eyelet())
    assert (told.code, told.object) == ("unknown-point", "pieces.front.points.eyelet")
    assert "pieces.front.points.eyelet.sizes" in told.remedy


def test_a_point_is_in_the_sizes_that_are_named_and_in_no_other(tmp_path: Path) -> None:
    found = references(tmp_path, _with_eyelet("s", "m"), _eyelet(', sizes = ["m", "l"]'))
    assert [(each.code, each.size, each.file, each.object) for each in found] == [
        ("size-not-named", "s", "sizes/s/front.svg", "eyelet"),
        ("unknown-point", "l", "sizes/l/front.svg", "eyelet"),
    ]
    assert {each.severity for each in found} == {"block"}


def test_a_name_that_one_size_lacks_is_told_at_its_master_with_the_name_it_has(tmp_path: Path) -> None:
    masters = {**MASTERS, "sizes/small/front.svg": RECTANGLE.replace('id="right"', 'id="rihgt"')}
    (finding,) = references(tmp_path, masters)
    assert (finding.code, finding.size, finding.file) == ("unknown-edge", "m", "sizes/small/front.svg")
    assert (finding.piece, finding.where, finding.object) == ("front", "right", "right")
    assert finding.message.startswith("sizes/small/front.svg has no edge right; it has rihgt.")
    assert finding.remedy == "Rename rihgt to right."


def test_a_name_unlike_what_it_should_be_is_found_by_what_other_sizes_have(tmp_path: Path) -> None:
    masters = {**MASTERS, "sizes/small/front.svg": RECTANGLE.replace('id="right"', 'id="path77"')}
    (finding,) = references(tmp_path, masters)
    assert finding.remedy == "Rename path77 to right."


def test_a_size_that_lost_its_labels_is_one_finding(tmp_path: Path) -> None:
    unlabelled = RECTANGLE.replace('id="right"', 'id="path1"').replace('id="top"', 'id="path2"')
    (finding,) = references(tmp_path, {**MASTERS, "sizes/small/front.svg": unlabelled})
    assert finding.message.startswith("sizes/small/front.svg has no edges right, top; it has path1, path2.")


def test_a_size_drawn_as_one_closed_path_is_told_to_be_broken_apart(tmp_path: Path) -> None:
    seam = RECTANGLE[RECTANGLE.index("<path") : RECTANGLE.index("</g>")]
    whole = RECTANGLE.replace(seam, '<path d="M10 10 H110 V60 H10 Z"/>')
    (finding,) = references(tmp_path, {**MASTERS, "sizes/small/front.svg": whole})
    assert "has no edges right, top, left; it is one closed path" in finding.message
    assert finding.remedy.startswith("Break the outline apart")


def test_a_name_that_most_sizes_lack_is_a_fault_of_the_key(tmp_path: Path) -> None:
    same = {f"sizes/{size}/front.svg": RECTANGLE for size in ("s", "l")}
    odd = RECTANGLE.replace('id="right"', 'id="rihgt"')
    masters = {name: svg for name, svg in MASTERS.items() if "front" not in name} | same
    (finding,) = references(tmp_path, masters | {"sizes/m/front.svg": odd}, PIECES + SEAM.replace("right", "rihgt"))
    assert (finding.file, finding.object, finding.size) == ("pattern.toml", "seams.side.a[1]", None)
    assert "only sizes/m/front.svg has one" in finding.message
    assert 'Did you mean "right"?' in finding.remedy


def test_pieces_that_were_not_read_are_no_reason_to_call_names_unknown(tmp_path: Path) -> None:
    pattern = load(pattern_folder(tmp_path, PIECES + NAMED, MASTERS))
    assert check_references(pattern, {}) == ()


def test_sums_look_lengths_up_in_cut_pieces_and_body_measures(tmp_path: Path) -> None:
    """An edge without its darts, gross with them; an inside line; a body measure; None where there is no such thing."""
    body = '[body.hip]\ntitle = "Hip"\nsizes = { s = "88 cm", m = "92 cm", l = "96 cm" }\n'
    folder = pattern_folder(tmp_path, PIECES + body, MASTERS)
    pattern = load(folder)
    drawn = next(piece for piece in read_size(pattern, folder, "s")[0] if piece.piece == "front")
    top = CutEdge(name="top", length_mm=80, gross_length_mm=100, allowance_mm=10, fold=False, hem=False)
    area = {"seam_area_mm2": 5000.0, "cut_area_mm2": 7000.0}
    outlines = dict.fromkeys(["seam_drawn", "cut_drawn", "seam_outline", "cut_outline"], ())
    cut = CutPiece(drawn=drawn, edges=(top,), **outlines, **area)
    lengths = lengths_of(pattern, "s", {"front": cut})
    assert sum_mm(parse_sum("2 x front.top + front.top gross"), lengths) == 2 * 80 + 100
    assert sum_mm(parse_sum("body.hip - front.level"), lengths) == pytest.approx(880 - 80)
    assert sum_mm(parse_sum("tab.top + 1 cm"), lengths) is None
    assert sum_mm(parse_sum("front.bottom"), lengths) is None


COUNTED = """
[notions.button]
title = "Button"
count = "marks {counted}"
"""
BUTTONS = '<g id="points"><circle data-name="button-1" cx="20" cy="20" r="1"/>{more}</g></svg>'


@pytest.mark.parametrize(
    ("counted", "told"),
    [
        ("front.button", None),
        ("front.button-1 + tab.snap", "snap"),
        ("front.button-2", None),
        ("front.buton", "buton"),
        ("fusing.button", None),
        ("front.level", "level"),
    ],
)
def test_marks_that_are_counted_are_drawn_in_some_size(tmp_path: Path, counted: str, told: str | None) -> None:
    """Only the small sizes have a second button; a name that is an inside line's is no point's."""
    second = '<circle data-name="button-2" cx="20" cy="30" r="1"/>'
    masters = {
        file: text.replace("</svg>", BUTTONS.format(more=second if "small" in file else ""))
        for file, text in MASTERS.items()
    }
    findings = references(tmp_path, masters, PIECES + COUNTED.format(counted=counted))
    found = [(finding.code, finding.where, finding.object, finding.found) for finding in findings]
    assert found == ([("unknown-point", "notions.button", "notions.button.count", told)] if told else [])
    if told == "buton":
        assert 'Did you mean "button' in findings[0].remedy

"""The twenty faults that testers find, each seeded alone into a copy of a demo: what must tell of it does, by name.

Numbers are those of the list of faults; every row says which checks may block, and nothing else may. The faults that
lie in built files are in test_twenty_faults_built.py.
"""

from collections.abc import Callable

import msgspec
import pytest

from pipeline.geometry.curves import path_length_mm, point_along
from pipeline.geometry.points import Affine, Point
from pipeline.model.findings import blocks
from tests.bench.kinds_drawn import redrawn
from tests.bench.kinds_said import said, with_taper
from tests.bench.masters import lengthened, mapped, master_text, replace, turned_about, with_path
from tests.bench.seeding import DEMOS, SOURCE, Demo, Fault, names, told_above_info

JACKET, SKIRT, PINAFORE = DEMOS


@pytest.fixture(scope="module")
def demos(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Demo]:
    room = tmp_path_factory.mktemp("demos")
    return {name: Demo(SOURCE / name, room) for name in DEMOS}


@pytest.mark.parametrize("name", DEMOS)
def test_a_clean_demo_has_nothing_above_info(name: str, demos: dict[str, Demo]) -> None:
    assert [finding.message for finding in told_above_info(demos[name].findings({}))] == []


# Faults in masters


def _longer(piece: str, edge: str, size: str, by_mm: float) -> Callable[[Demo], Fault]:
    def seed(demo: Demo) -> Fault:
        drawn = demo.drawn(piece, size)
        now = with_path(drawn, edge, lengthened(drawn.edge(edge).path, by_mm))
        return redrawn(demo, "length", drawn, now, (edge,), f"{edge} {by_mm:+g} mm")

    return seed


def _notch(piece: str, name: str, size: str, by_mm: float | None) -> Callable[[Demo], Fault]:
    """A notch moved along its edge, or with None taken away."""

    def seed(demo: Demo) -> Fault:
        drawn = demo.drawn(piece, size)
        notch = next(notch for notch in drawn.notches if notch.name == name)
        others = tuple(other for other in drawn.notches if other != notch)
        if by_mm is not None:
            path = drawn.edge(notch.edge).path
            at_mm = notch.at_mm + by_mm
            assert 0 < at_mm < path_length_mm(path)
            others = (*others, replace(notch, at_mm=at_mm, place=point_along(path, at_mm)[0]))
        return redrawn(demo, "notch", drawn, replace(drawn, notches=others), (notch.edge,), name)

    return seed


def _grain(piece: str, size: str, degrees: float) -> Callable[[Demo], Fault]:
    def seed(demo: Demo) -> Fault:
        drawn = demo.drawn(piece, size)
        grain = drawn.grain
        turn = turned_about(degrees, Point((grain.top.x + grain.bottom.x) / 2, (grain.top.y + grain.bottom.y) / 2))
        turned = replace(grain, top=turn.point(grain.top), bottom=turn.point(grain.bottom))
        return redrawn(demo, "grain", drawn, replace(drawn, grain=turned), (), f"{degrees:g} degrees")

    return seed


def _flipped(piece: str, size: str) -> Callable[[Demo], Fault]:
    def seed(demo: Demo) -> Fault:
        drawn = demo.drawn(piece, size)
        edges = tuple(edge.name for edge in drawn.edges)
        return redrawn(demo, "flipped", drawn, mapped(drawn, Affine(-1, 0, 0, 1, 0, 0)), edges, "turned over")

    return seed


def _drawn_as(piece: str, size: str, other: str) -> Callable[[Demo], Fault]:
    def seed(demo: Demo) -> Fault:
        drawn = demo.drawn(piece, size)
        return redrawn(demo, "copied", drawn, demo.drawn(piece, other), (), f"as size {other}")

    return seed


def _unturned_hem(demo: Demo) -> Fault:
    """Pockets that taper towards the top, whose hem is cut straight on."""
    drawn = demo.drawn("pocket", demo.pattern.base)
    tapered = with_taper(demo, drawn, "top", 12.0)
    assert tapered is not None
    turned = demo.findings({drawn.file: master_text(tapered)})
    assert told_above_info(turned) == [], "turned, the tapered hem is in order"
    fault = said(demo, "hem", "pieces.pocket", 'corner = "turned", ', "")
    return msgspec.structs.replace(fault, changes={**fault.changes, drawn.file: master_text(tapered)})


def _said(table: str, old: str, new: str, **named: object) -> Callable[[Demo], Fault]:
    def seed(demo: Demo) -> Fault:
        return replace(said(demo, "said", table, old, new), **named)

    return seed


def _too_wide(demo: Demo) -> Fault:
    """A width on which the skirts of the largest size, and nothing else, cannot be laid."""
    return _said("materials.shell", '"110 cm", "140 cm"', '"64 cm", "140 cm"', size="128")(demo)


LENGTHS, NOTCHES, SET = "seam-lengths", "seam-notches", "size-set"
ROWS: dict[str, tuple[str, Callable[[Demo], Fault], set[str]]] = {
    "1 a seam 3 mm too long in one size": (JACKET, _longer("front", "side", "40", 3.0), {LENGTHS, NOTCHES}),
    "1 a seam without notches 3 mm too long in one size": (
        PINAFORE,
        _longer("bodice-front", "shoulder", "116", 3.0),
        {LENGTHS},
    ),
    "2 a notch lost": (JACKET, _notch("back", "hip", "44", None), {NOTCHES, SET}),
    "2 a notch moved by 5 mm": (JACKET, _notch("front", "waist", "54", 5.0), {NOTCHES}),
    "3 a wrong cut count": (
        JACKET,
        _said("pieces.upper-sleeve", "count = 2", "count = 1"),
        {"cut-counts"},
    ),
    "8 an old version in a text": (
        SKIRT,
        _said("pieces.pocket", 'en = "Patch pocket"', 'en = "Patch pocket 0.9.0"'),
        {"version"},
    ),
    "9 a hem not turned": (PINAFORE, _unturned_hem, {"hem-turned"}),
    "10 an allowance doubled": (
        PINAFORE,
        _said(
            "pieces.bodice-back",
            "edges.cb =",
            'edges.shoulder = { allowance = "2 cm" }\nedges.cb =',
            edges=("shoulder",),
        ),
        {"allowance-pairs"},
    ),
    "10 an allowance absent": (
        JACKET,
        _said("pieces.front", "edges.hem =", 'edges.side = { allowance = "0 mm" }\nedges.hem =', edges=("side",)),
        {"allowance-pairs"},
    ),
    "11 grain off by 3 degrees": (JACKET, _grain("front", "40", 3.0), {"grain-sizes"}),
    "11 grain off by 90 degrees": (JACKET, _grain("front", "50", 90.0), {"grain-sizes"}),
    "12 a piece wider than the cloth": (PINAFORE, _too_wide, {"lays"}),
    "13 cap ease below its band": (JACKET, _longer("upper-sleeve", "cap", "48", -8.0), {LENGTHS, NOTCHES}),
    "13 cap ease above its band": (JACKET, _longer("upper-sleeve", "cap", "36", 8.0), {LENGTHS}),
    "14 an asymmetric piece flipped in one size": (JACKET, _flipped("front", "42"), {SET, NOTCHES}),
    "14 a one-sided piece flipped in all sizes": (JACKET, _flipped("inside-pocket", "42"), {"piece-hands"}),
    "15 a text that names a piece that is not there": (
        PINAFORE,
        _said("notions.elastic", "bodice-back.waist", "yoke.waist"),
        {"pattern-file"},
    ),
    "20 a notion missing for one size": (
        JACKET,
        _said("notions.button", '"44" = 6', '"44" = 0', size="44"),
        {"notions"},
    ),
    "20 a notion that says nothing of one size": (
        JACKET,
        _said("notions.button", '"44" = 6, ', "", size="44"),
        {"pattern-file"},
    ),
}


@pytest.mark.parametrize("title", ROWS)
def test_a_fault_in_the_source_is_caught_and_nothing_else_blocks(title: str, demos: dict[str, Demo]) -> None:
    name, seed, checks = ROWS[title]
    demo = demos[name]
    fault = seed(demo)
    blocking = [finding for finding in demo.findings(fault.changes) if blocks(finding)]
    assert {finding.check for finding in blocking} == checks, [finding.message for finding in blocking]
    for finding in blocking:
        assert names(finding, fault, demo.pattern), finding
        assert finding.file
        assert finding.message
        assert finding.remedy
        assert (finding.where or "").partition(".")[0] != "seams" or finding.piece is None


def test_a_size_drawn_with_another_sizes_piece_is_told_as_such(demos: dict[str, Demo]) -> None:
    """It does not fit its partners either, and the next size does not grow from it: the cause is among what blocks."""
    demo = demos[PINAFORE]
    fault = _drawn_as("bodice-front", "104", "116")(demo)
    blocking = [finding for finding in demo.findings(fault.changes) if blocks(finding)]
    assert {finding.check for finding in blocking} == {"size-copies", LENGTHS, "finished-grade"}
    (copied,) = [finding for finding in blocking if finding.check == "size-copies"]
    assert (copied.size, copied.piece, copied.found) == ("104", "bodice-front", "the outline of size 116")

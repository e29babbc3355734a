"""What a sum comes to in one size. Values of the examples: strips as the trade works them out."""

import math

import pytest

from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import BodyMeasure, Pattern, Reference, Sum, Term, in_language
from pipeline.model.piece_specs import EdgePart, EdgeSpec, PieceSpec, Take
from pipeline.model.pieces import CutEdge, CutPiece, DrawnPiece, Edge, GrainLine, InsideLine, Notch
from pipeline.model.sums import lengths_of, sum_mm

WAIST = Reference("body", "waist")


def total(*terms: tuple[float, float | Reference]) -> Sum:
    return Sum("as written", tuple(Term(*term) for term in terms))


def skirt() -> CutPiece:
    """A square of 200 mm whose waist has a dart of 30 mm, with an inside line called as an edge and one that is not."""
    corners = [Point(0, 0), Point(200, 0), Point(200, 200), Point(0, 200)]
    names = ("waist", "side", "hem", "middle")
    drawn = DrawnPiece(
        piece="skirt",
        size="M",
        file="sizes/M/skirt.svg",
        edges=tuple(Edge(name, (Line(corners[i], corners[(i + 1) % 4]),)) for i, name in enumerate(names)),
        grain=GrainLine(corners[3], corners[0]),
        inside=(
            InsideLine("hip", (Line(Point(0, 100), Point(150, 100)),), closed=False),
            InsideLine("hem", (Line(Point(0, 150), Point(10, 150)),), closed=False),
        ),
        anchor=corners[0],
        notches=tuple(
            Notch(name, "waist", at_mm, Point(at_mm, 0), "single")
            for name, at_mm in (("a", 50.0), ("dart-a", 80.0), ("dart-b", 110.0), ("twice", 20.0), ("twice", 30.0))
        ),
    )
    edges = tuple(
        CutEdge(
            name=name,
            length_mm=170 if name == "waist" else 200,
            gross_length_mm=200,
            allowance_mm=10,
            fold=False,
            hem=False,
        )
        for name in names
    )
    ring = tuple(corners)
    return CutPiece(
        drawn=drawn,
        edges=edges,
        seam_drawn=ring,
        cut_drawn=ring,
        seam_outline=ring,
        cut_outline=ring,
        seam_area_mm2=40_000,
        cut_area_mm2=40_000,
    )


def pattern() -> Pattern:
    text = {"en": "Invented"}
    return Pattern(
        name="invented",
        title=text,
        version="1.0.0",
        maker=text,
        contact=text,
        sizes=("M",),
        base="M",
        bands=(),
        languages=("en",),
        units="metric",
        wearer="adult",
        sleepwear=False,
        licence=text,
        pieces={
            "skirt": PieceSpec(
                name="skirt",
                title=text,
                number=1,
                sizes=("M",),
                cut=(),
                edges={"waist": EdgeSpec(takes=(Take("dart-a", "dart-b", "dart"),))},
            )
        },
        body={"waist": BodyMeasure(name="waist", title=text, sizes_mm={"M": 700.0})},
    )


@pytest.mark.parametrize(
    ("terms", "expected_mm"),
    [
        (((1, WAIST), (1, 20.0), (1, 30.0), (2, 15.0)), 780),  # waistband: 70 + 2 + 3 + 3 = 78 cm, common practice
        (((0.9, WAIST), (1, 20.0)), 650),  # elastic: 0.9 x waist + 2 cm: 65 cm, common practice
        (((1, 40.0), (1, 10.0), (2, 10.0)), 70),  # loop: opening + 2 tucks: 40 + 10 + 2 x 10 = 70 mm (calc)
        (((1 / (2 * math.pi), WAIST),), 111.4),  # circle skirt: radius = waist / 2 pi: 11.14 cm (calc)
        (((1, WAIST), (-1, 100.0)), 600),
        ((), 0),
    ],
)
def test_a_sum_adds_its_terms_times_their_factors(terms, expected_mm):
    assert sum_mm(total(*terms), lengths_of(pattern(), "M", {})) == pytest.approx(expected_mm, abs=0.05)


@pytest.mark.parametrize(
    ("reference", "length_mm"),
    [
        (Reference("skirt", "waist"), 170),
        (Reference("skirt", "waist", gross=True), 200),
        (Reference("skirt", "hip"), 150),
        (Reference("skirt", "hem"), 200),  # an edge comes before an inside line of its name
        (WAIST, 700),
    ],
)
def test_a_reference_is_the_length_of_what_it_names(reference, length_mm):
    assert lengths_of(pattern(), "M", {"skirt": skirt()})(reference) == length_mm


@pytest.mark.parametrize(
    ("start", "end", "net_mm", "gross_mm"),
    [
        ("middle", "a", 50, 50),  # from the end that meets the edge `middle`
        ("a", "side", 120, 150),  # the dart of 30 mm lies within
        ("side", "a", 120, 150),
        ("a", "dart-b", 30, 60),
        ("dart-a", "dart-b", 0, 30),
        ("a", "knee", None, None),
        ("a", "twice", None, None),
    ],
)
def test_a_part_of_an_edge_is_measured_between_its_places(start, end, net_mm, gross_mm):
    lengths = lengths_of(pattern(), "M", {"skirt": skirt()})
    part = EdgePart(start, end)
    assert lengths(Reference("skirt", "waist", part=part)) == net_mm
    assert lengths(Reference("skirt", "waist", True, part)) == gross_mm


def test_an_inside_line_has_no_parts():
    assert lengths_of(pattern(), "M", {"skirt": skirt()})(Reference("skirt", "hip", part=EdgePart("a", "side"))) is None


@pytest.mark.parametrize(
    ("reference", "size"),
    [
        (Reference("skirt", "cuff"), "M"),
        (Reference("coat", "waist"), "M"),
        (Reference("body", "hip"), "M"),
        (WAIST, "L"),
    ],
)
def test_a_sum_with_a_length_that_is_not_there_has_no_value(reference, size):
    assert sum_mm(total((1, 10.0), (2, reference)), lengths_of(pattern(), size, {"skirt": skirt()})) is None


def test_a_text_falls_back_on_the_first_language_that_has_one():
    assert in_language({"en": "Front", "de": "Vorderteil"}, "de") == "Vorderteil"
    assert in_language({"en": "Front", "de": ""}, "de") == "Front"
    assert in_language({}, "de") == ""


def test_only_a_blocking_finding_without_a_waiver_stops_a_release():
    def found(severity: str, waived: str | None = None) -> bool:
        return blocks(
            Finding(check="c", code="d", severity=severity, pattern="p", message="m.", remedy="r.", waived=waived)
        )

    assert [found(severity) for severity in ("block", "warn", "info", "skip")] == [True, False, False, False]
    assert not found("block", "it is meant")

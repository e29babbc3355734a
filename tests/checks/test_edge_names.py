"""Edges that were named in the wrong order."""

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell
from pipeline.geometry.curves import Path
from pipeline.model.findings import Finding
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import garment, seam
from tests.checks.skirt_faults import in_all, longer

NAMES = ("neck", "shoulder", "armhole", "side", "waist", "middle")
PARTNERS = {"yoke": "shoulder", "sleeve": "armhole", "back": "side", "skirt": "waist", "collar": "neck"}


def front(shift: int) -> dict[str, Path]:
    """A front of six edges, no two of a length; its names begin at another corner."""
    shape = ring(neck=(0, 20), shoulder=(60, 0), armhole=(150, 30), side=(160, 150), waist=(150, 300), middle=(0, 310))
    return dict(zip(NAMES[shift:] + NAMES[:shift], shape.values(), strict=True))


def bodice(shift: int) -> list[Finding]:
    right = front(0)
    shapes = {"front": front(shift)}
    for piece, edge in PARTNERS.items():
        length = right[edge][0].start.distance(right[edge][0].end)
        shapes[piece] = ring(**{edge: (0, 0), "end": (length, 0), "foot": (length, 90), "top": (0, 90)})
    seams = [seam(edge, [f"front.{edge}"], [f"{piece}.{edge}"], angles=False) for piece, edge in PARTNERS.items()]
    made = sewn(shapes, *seams, grain=(30, 80, 25))
    told = [f for f in check_garment(made) if f.check in ("edge-names", "seam-lengths")]
    places = places_of(made.pattern)
    lines = tell(told, (("M",),), places)
    assert not told or lines[0].startswith("BLOCKS: front: most seams of front do not fit in any size")
    assert len([line for line in lines if not line.startswith(" ")]) <= 1
    return [f for f in told if f.check == "edge-names"]


def test_edges_that_are_in_order_are_not_spoken_of():
    assert bodice(0) == []


def test_names_that_are_shifted_are_told_first_with_the_order_that_fits():
    for shift in (1, 2, 5):
        (finding,) = bodice(shift)
        assert (finding.code, finding.severity, finding.piece, finding.size) == ("order", "warn", "front", None)
        assert finding.found.endswith(" of 5 seams off in every size")
        right = f"{', '.join(NAMES)}, clockwise from what is now {NAMES[shift]}, make all of them fit"
        assert right in finding.message


def test_one_edge_that_is_off_in_all_sizes_is_no_matter_of_names():
    told = {f.check for f in check_garment(garment(in_all("front", longer(6))))}
    assert "seam-lengths" in told
    assert "edge-names" not in told

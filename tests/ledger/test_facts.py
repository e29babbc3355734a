"""What is kept of the small pattern as it is really read and cut."""

import hashlib

import msgspec
import pytest
import shapely

from pipeline.geometry.points import Point
from pipeline.ledger.compare import compare
from pipeline.ledger.facts import Measured
from pipeline.ledger.measure import measure, shape_of, table_rows
from pipeline.ledger.packed import packed, unpacked
from pipeline.model.piece_specs import EdgePart, EdgeSpec
from pipeline.tables.cloth import ClothRow
from pipeline.tables.write import TablesFile
from tests.checks import apron

TABLES = TablesFile(pattern="tea-apron", version="1.0.0")
ROW = ClothRow(
    view=None,
    size="S",
    material="shell",
    width_mm=1100.0,
    fold=False,
    one_way=False,
    lay_length_mm=581.1,
    length_to_buy_mm=600.0,
    metric="60 cm",
    imperial="3/4 yd",
    utilisation=0.58,
)


def measured(cuts=None, **said) -> Measured:
    return measure(msgspec.structs.replace(apron.pattern(), **said), cuts or apron.cuts(), TABLES, {})


def test_a_logo_and_blended_edges_are_named_and_are_no_other_garment():
    pieces = apron.piece("skirt", edges={"side": EdgeSpec(blend=True), "waist": EdgeSpec(blend=EdgePart("a", "b"))})
    made = msgspec.structs.replace(apron.pattern(), pieces=pieces)
    new = measure(made, apron.cuts(), TABLES, {}, None, b"<svg/>")
    shown = [each for each in compare(measured().facts, new.facts, new.shapes) if each.what == "shown"]
    assert [(each.name, each.level, each.before, each.after) for each in shown] == [
        ("booklet/logo.svg", "patch", None, hashlib.sha256(b"<svg/>").hexdigest()[:12]),
        ("pieces.skirt.edges.side.blend", "patch", None, "all of it"),
        ("pieces.skirt.edges.waist.blend", "patch", None, "[a..b]"),
    ]


def test_what_was_not_kept_of_an_older_version_is_no_change():
    old = msgspec.structs.replace(measured().facts, shown=None)
    new = measure(apron.pattern(), apron.cuts(), TABLES, {}, None, b"<svg/>")
    assert [each for each in compare(old, new.facts, new.shapes) if each.what == "shown"] == []


def differing(new: Measured) -> list[tuple[str, str | None, str, str | None]]:
    old = measured()
    found = compare(old.facts, new.facts, {**old.shapes, **new.shapes})
    return [(each.what, each.piece, each.name, each.size) for each in found]


def test_a_shape_holds_the_cut_line_by_edges_in_walking_order_and_the_fold():
    shape = shape_of(apron.cuts()["skirt"]["M"])
    assert list(shape.edges) == ["waist", "side", "hem", "middle"]
    assert [(x, round(y, 1)) for x, y in shape.edges["middle"][0]] == [(20.0, 490.0), (20.0, 20.0)]
    assert shape.notches == {"waist": {"mid-waist": (((180.0, 20.0),),)}}
    assert shape.marks == {"grain": (((60.0, 400.0), (60.0, 100.0)),), "pocket": (((140.0, 160.0),),)}


def test_what_is_kept_lies_within_two_hundredths_of_the_cut_line():
    cut = apron.cuts()["skirt"]["M"]
    kept = unpacked(packed(shape_of(cut)))
    for edge in cut.edges:
        for line, thin in zip(edge.cut_line, kept.edges[edge.name], strict=False):
            assert shapely.LineString(line).hausdorff_distance(shapely.LineString(thin)) == pytest.approx(0, abs=0.02)
            assert len(thin) <= len(line)


def test_equal_cuts_are_equal_facts():
    assert measured() == measured()
    assert differing(measured()) == []


def test_a_pocket_point_that_moved_in_one_size():
    cut = apron.cuts()["skirt"]["M"]
    (point,) = cut.drawn.points
    moved = msgspec.structs.replace(point, place=Point(point.place.x + 4, point.place.y))
    drawn = msgspec.structs.replace(cut.drawn, points=(moved,))
    skirt = {**apron.cuts()["skirt"], "M": msgspec.structs.replace(cut, drawn=drawn)}
    assert differing(measured({**apron.cuts(), "skirt": skirt})) == [("mark", "skirt", "pocket", "M")]


def test_a_count_and_a_text():
    assert differing(measured(pieces=apron.piece("band", cut=apron.counted("shell", 2)))) == [
        ("said", "band", "count in shell", "S"),
        ("said", "band", "count in shell", "M"),
    ]
    sided = tuple(msgspec.structs.replace(entry, side="left") for entry in apron.pattern().pieces["band"].cut)
    assert {found[:3] for found in differing(measured(pieces=apron.piece("band", cut=sided)))} == {
        ("said", "band", "count in shell")
    }
    assert differing(measured(title={"en": "Apron", "de": "Servierschürze"})) == [
        ("text", None, "pattern.title, en", None)
    ]


def test_cloth_is_told_as_buyers_read_it():
    rows = table_rows(msgspec.structs.replace(TABLES, cloth=(ROW, msgspec.structs.replace(ROW, view="long", size="M"))))
    assert rows["cloth"] == {
        "shell 1100 mm wide": {"S": "60 cm (3/4 yd)"},
        "long: shell 1100 mm wide": {"M": "60 cm (3/4 yd)"},
    }


def test_lays_with_and_without_nap_are_told_apart_and_so_is_how_cloth_is_laid():
    def rows(**said):
        napped = msgspec.structs.replace(ROW, one_way=True, metric="80 cm", imperial="7/8 yd")
        return table_rows(msgspec.structs.replace(TABLES, cloth=(msgspec.structs.replace(ROW, **said), napped)))[
            "cloth"
        ]

    assert rows() == {
        "shell 1100 mm wide": {"S": "60 cm (3/4 yd)"},
        "shell 1100 mm wide, one way": {"S": "80 cm (7/8 yd)"},
    }
    assert rows(fold=True)["shell 1100 mm wide"] == {"S": "60 cm (3/4 yd), fold"}
    assert rows(fold="two-folds")["shell 1100 mm wide"] == {"S": "60 cm (3/4 yd), two-folds"}


def test_an_allowance_is_told_at_both_of_its_ends_where_it_tapers():
    cut = apron.cuts()["skirt"]["M"]
    edges = tuple(
        msgspec.structs.replace(edge, allowance_end_mm=4.0) if edge.name == "side" else edge for edge in cut.edges
    )
    skirt = {**apron.cuts()["skirt"], "M": msgspec.structs.replace(cut, edges=edges)}
    assert differing(measured({**apron.cuts(), "skirt": skirt})) == [("said", "skirt", "allowance of side", "M")]


def test_where_an_allowance_changes_is_told():
    cut = apron.cuts()["skirt"]["M"]

    def said(share: float) -> str:
        parts = {"allowance_mm": 25.0, "allowance_end_mm": 10.0, "allowance_between": ((share, 25.0), (0.9, 10.0))}
        edges = tuple(
            msgspec.structs.replace(edge, gross_length_mm=400.0, **parts) if edge.name == "side" else edge
            for edge in cut.edges
        )
        skirt = {**apron.cuts()["skirt"], "M": msgspec.structs.replace(cut, edges=edges)}
        return measured({**apron.cuts(), "skirt": skirt}).facts.pieces["skirt"]["M"].said["allowance of side"]

    assert said(0.5) == "25 mm .. 25 mm at 200 mm .. 10 mm at 360 mm .. 10 mm"
    assert said(0.5) != said(0.6)

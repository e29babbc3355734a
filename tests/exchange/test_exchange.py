"""The file for who cuts by machine: every piece in every size, read by ezdxf, and read back as a drawing."""

import io
from functools import cache
from itertools import pairwise
from pathlib import Path

import ezdxf
import msgspec
import numpy as np
import pytest
import shapely

from pipeline.bundle.built_exchange import opened
from pipeline.cutting.cut import cut_pieces
from pipeline.exchange.document import block_names, exchange_dxf
from pipeline.geometry.curves import flattened, point_along
from pipeline.masters.copied import copy_folder
from pipeline.masters.drawings.outline import outline_of
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.d6673 import CHORD_MM, ascii_text
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import CutPiece, InsideLine, MarkPoint, SizeFile, by_piece

SOURCE = Path(__file__).resolve().parents[2] / "source"
DEMOS = ("half-circle-skirt", "child-pinafore", "work-jacket")


@cache
def made(demo: str) -> tuple[Pattern, dict[str, dict[str, CutPiece]], bytes]:
    """A demo, its cut pieces in all sizes, and its file."""
    pattern, _ = load_pattern(SOURCE / demo)
    assert pattern is not None
    cuts = by_piece(SizeFile(pattern=demo, size=size, pieces=cut_of(pattern, size)) for size in pattern.sizes)
    return pattern, cuts, exchange_dxf(pattern, cuts)


def cut_of(pattern: Pattern, size: str) -> tuple[CutPiece, ...]:
    return cut_pieces(pattern, size, read_size(pattern, SOURCE / pattern.name, size)[0])[0]


def opened_by_ezdxf(data: bytes):
    return ezdxf.read(io.StringIO(data.decode("ascii")))


def off_mm(one, other) -> float:
    """How far two rings or lines are apart at most, both ways."""
    lines = shapely.linestrings(np.array(one)), shapely.linestrings(np.array(other))
    points = shapely.points(np.array(one)), shapely.points(np.array(other))
    return float(max(shapely.distance(points[0], lines[1]).max(), shapely.distance(points[1], lines[0]).max()))


def ring(places) -> list:
    return [*places, places[0]]


@pytest.mark.parametrize("demo", DEMOS)
def test_ezdxf_reads_a_block_for_each_piece_and_size_with_its_cut_line_and_seam_line(demo):
    _, cuts, data = made(demo)
    document = opened_by_ezdxf(data)
    auditor = document.audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert document.units == ezdxf.units.MM
    names = block_names(cuts)
    assert {block.name for block in document.blocks if not block.name.startswith(("*", "$"))} == set(names.values())
    assert {insert.dxf.name for insert in document.modelspace().query("INSERT")} == set(names.values())
    for (piece, size), name in names.items():
        block, cut = document.blocks[name], cuts[piece][size]
        mirrors = block.query('LINE[layer=="6"]')
        mirror = tuple(tuple(end)[:2] for end in (mirrors[0].dxf.start, mirrors[0].dxf.end)) if mirrors else None
        for layer, whole in (("1", cut.cut_outline), ("14", cut.seam_outline)):
            (line,) = block.query(f'POLYLINE[layer=="{layer}"]')
            places = np.array([vertex.dxf.location.vec2 for vertex in line.vertices]) * (1, -1)
            assert line.is_closed
            if layer == "1" or mirror is None:
                assert off_mm(ring(opened(places, mirror)), ring(whole)) <= CHORD_MM
            else:
                assert off_mm(ring(places), ring(cut.seam_drawn)) <= CHORD_MM
        texts = [text.dxf.text for text in block.query("TEXT")]
        assert {f"PIECE NAME: {piece}", f"SIZE: {size}"} <= set(texts)
        (grain,) = block.query('LINE[layer=="7"]')
        assert grain.dxf.end.isclose((cut.drawn.grain.top.x, -cut.drawn.grain.top.y), abs_tol=1e-3)
        assert len(block.query('POINT[layer=="4"]')) == sum(slit.cut for slit in cut.slits)


def test_the_same_pattern_gives_the_same_bytes_without_a_date(monkeypatch):
    pattern, cuts, data = made("child-pinafore")
    monkeypatch.setattr("time.time", lambda: 1e9)
    assert exchange_dxf(pattern, cuts) == data
    assert not [word for word in (b"TDCREATE", b"GUID", b"DATE") if word in data]


def test_texts_are_ascii_whatever_a_title_is_written_in():
    assert ascii_text("Vorderer Beleg – Größe") == "Vorderer Beleg - Grosse"
    assert ascii_text("Brzęk\nŁata") == "Brzek Lata"
    assert ascii_text("Перед") == ""


def test_names_of_blocks_that_are_too_long_or_differ_in_capitals_are_told_apart():
    names = block_names({"a" * 40: {"s": None, "m": None}, "b": {"xl": None, "XL": None}})  # type: ignore[dict-item]
    assert len({name.upper() for name in names.values()}) == 4
    assert max(map(len, names.values())) <= 31


def with_names(pattern: Pattern, cuts, data: bytes) -> str:
    """The file as a designer names its edges: a text beside each part of the base size's outlines."""
    document = opened_by_ezdxf(data)
    for (piece, size), name in block_names(cuts).items():
        drawn = cuts[piece][size].drawn
        if size != pattern.base or piece in pattern.strips or pattern.pieces[piece].source:
            continue
        outline = outline_of(drawn.edges, splits=True)
        corners = [i for i, place in enumerate(outline.nodes) if place.split or abs(place.turn_deg) > 10]
        names = [edge.name for edge in drawn.edges for _ in edge.path]
        for first, last in pairwise((*corners, corners[0])):
            part = outline.part(first, last)
            middle, _ = point_along(part, sum(a.distance(b) for a, b in pairwise(flattened(part, 0.01))) / 2)
            document.blocks[name].add_text(names[first], dxfattribs={"layer": "names"}).dxf.insert = middle.x, -middle.y
    text = io.StringIO()
    document.write(text)
    return text.getvalue()


@pytest.mark.parametrize("demo", DEMOS)
def test_what_was_written_and_is_read_as_a_drawing_gives_the_same_pieces(tmp_path, demo):
    pattern, cuts, data = made(demo)
    folder, copy = tmp_path / "source" / demo, tmp_path / "work" / demo
    (folder / "drawing").mkdir(parents=True)
    (folder / "drawing/nest.dxf").write_text(with_names(pattern, cuts, data))
    said = (SOURCE / demo / "pattern.toml").read_text(encoding="utf-8")
    (folder / "pattern.toml").write_text(f'{said}\n[masters]\ndrawings = ["drawing/*.dxf"]\n', encoding="utf-8")
    taken = copy_folder(folder, copy)
    sizes = dict.fromkeys((pattern.sizes[0], pattern.base, pattern.sizes[-1]))
    assert [f.message for f in taken.findings if f.severity == "block"] == []
    for size in sizes:
        pieces, findings = read_size(taken.pattern, copy, size)
        assert [f.message for f in findings if f.severity == "block"] == []
        read = {piece.piece: piece for piece in pieces if pattern.pieces[piece.piece].source is None}
        assert read
        for name, piece in read.items():
            master = cuts[name][size].drawn
            assert {edge.name for edge in piece.edges} == {edge.name for edge in master.edges}
            for edge in master.edges:
                path = piece.edge(edge.name).path
                assert off_mm(flattened(path), flattened(edge.path)) <= CHORD_MM, (size, name, edge.name)
                assert path[0].start.distance(edge.path[0].start) <= CHORD_MM
            assert piece.grain.top.distance(master.grain.top) <= CHORD_MM
            if all(slit.cut for slit in cuts[name][size].slits):
                places = {(notch.name, notch.edge): notch.place for notch in piece.notches}
                assert {key[0] for key in places} == {notch.name for notch in master.notches}
                assert len(piece.notches) == len(master.notches)
                assert all(
                    min(map(notch.place.distance, (p for (of, _), p in places.items() if of == notch.name))) <= CHORD_MM
                    for notch in master.notches
                )
            for point in master.points:
                (read_point,) = [other for other in piece.points if other.name == point.name]
                assert read_point.place.distance(point.place) <= CHORD_MM
                assert (read_point.slit is None) == (point.slit is None)
            assert sorted(line.name for line in piece.inside if line.name) == sorted(
                line.name for line in master.inside if line.name
            )


def test_a_side_of_the_wearer_is_a_text_that_people_read():
    pattern, cuts, _ = made("half-circle-skirt")
    name = next(iter(pattern.pieces))
    spec = pattern.pieces[name]
    (size, cut) = next(iter(cuts[name].items()))
    line = InsideLine("fly", cut.drawn.edges[0].path, closed=False)
    drawn = msgspec.structs.replace(cut.drawn, points=(MarkPoint("tab", cut.drawn.anchor),), inside=(line,))
    sided = msgspec.structs.replace(
        spec,
        cut=tuple(msgspec.structs.replace(entry, side="left") for entry in spec.cut),
        point_marks={"tab": MarkSpec(side="right")},
        line_marks={"fly": MarkSpec(side="right")},
    )
    told = msgspec.structs.replace(pattern, pieces={**pattern.pieces, name: sided})
    data = exchange_dxf(told, {**cuts, name: {size: msgspec.structs.replace(cut, drawn=drawn)}})
    texts = {text.dxf.text for block in opened_by_ezdxf(data).blocks for text in block.query('TEXT[layer=="15"]')}
    assert any(text.startswith("CUT ") and text.endswith(", WEARER'S LEFT ONLY") for text in texts)
    assert {"POINT tab, WEARER'S RIGHT ONLY", "LINE fly, WEARER'S RIGHT ONLY"} <= texts

"""The demos as designers keep drawings give the same pieces as their masters, whichever editor wrote the layers."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from pipeline.geometry.curves import flattened, nearest_on_path, path_length_mm
from pipeline.geometry.points import Affine
from pipeline.masters.copied import copy_folder
from pipeline.masters.read_size import read_size
from pipeline.model.pieces import DrawnPiece
from tests.bench.masters import mapped
from tests.masters.drawings.redrawn import (
    ByDataName,
    ByEscapedId,
    ByLabel,
    Name,
    Redrawn,
    around,
    group,
    piece_groups,
    read_masters,
    side_by_side,
    svg,
    texts,
    with_drawings,
)

SOURCE = Path(__file__).resolve().parents[3] / "source"
DEMOS = ("work-jacket", "half-circle-skirt", "child-pinafore")
NEAR_MM = 0.01


def a_drawing_a_size(demo: Redrawn, name: Name) -> dict[str, str]:
    """`drawing/<size>.svg`, pieces side by side, a layer a piece called by its title."""
    sizes = dict.fromkeys(size for size, _ in demo.drawn)
    texts = {}
    for size in sizes:
        row = side_by_side({piece: drawn for (of, piece), drawn in demo.drawn.items() if of == size})
        titles = {piece: next(iter(demo.pattern.pieces[piece].title.values())) for piece in row}
        body = "".join(group(name, titles[piece], [piece_groups(drawn, name)]) for piece, drawn in row.items())
        texts[f"drawing/{size}.svg"] = svg(body, 9000)
    return texts


def a_layer_a_size(demo: Redrawn, name: Name) -> dict[str, str]:
    """`drawing/nest.svg`: sizes lie on each other, a layer a size with its pieces in it, moved by a transform."""
    sizes = dict.fromkeys(size for size, _ in demo.drawn)
    layers = []
    for size in sizes:
        pieces = {piece: drawn for (of, piece), drawn in demo.drawn.items() if of == size}
        said = size if size not in demo.pattern.sizes else f"Size {size}"
        inner = "".join(group(name, piece, [piece_groups(drawn, name)]) for piece, drawn in pieces.items())
        layers.append(group(name, said, [inner]))
    return {"drawing/nest.svg": svg(f'<g transform="translate(300 200)">{"".join(layers)}</g>')}


def a_layer_a_piece(demo: Redrawn, name: Name) -> dict[str, str]:
    """`drawing/nest.svg`: a layer a piece, in it one a role, in that one a size, in another unit."""
    body = ""
    for piece in dict.fromkeys(piece for _, piece in demo.drawn):
        sizes = {size: drawn for (size, of), drawn in demo.drawn.items() if of == piece}
        inner = "".join(
            group(name, f"{size} – {demo.pattern.pieces[piece].title['en']}", [piece_groups(drawn, name)])
            for size, drawn in sizes.items()
        )
        body += group(name, "Pieces", [inner])
    text = svg(f'<g transform="scale(0.1)">{body}</g>', 300, 300)
    return {"drawing/nest.svg": text.replace('"300mm" height="300mm"', '"3000mm" height="3000mm"')}


@cache
def demo_masters(demo: str) -> Redrawn:
    return read_masters(SOURCE / demo)


WAYS: dict[str, tuple[Callable[[Redrawn, Name], dict[str, str]], Callable[[], Name]]] = {
    "a drawing a size, labels": (a_drawing_a_size, ByLabel),
    "a layer a size, labels": (a_layer_a_size, ByLabel),
    "a layer a size, escaped ids": (a_layer_a_size, ByEscapedId),
    "a layer a piece, names beside ids": (a_layer_a_piece, ByDataName),
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_drawn_with_closed_outlines_gives_its_pieces(tmp_path, demo, way):
    masters = demo_masters(demo)
    draw, name = WAYS[way]
    base = {piece: around(drawn) for (_, piece), drawn in masters.drawn.items()}
    gives_its_pieces(tmp_path, demo, draw(masters, name()), base)


@pytest.mark.parametrize("demo", DEMOS)
def test_a_demo_whose_edges_are_named_by_texts_gives_its_pieces(tmp_path, demo):
    masters = demo_masters(demo)
    name = ByLabel()
    layers = []
    for (size, piece), drawn in masters.drawn.items():
        layers.append(group(name, f"{size} {piece}", [piece_groups(drawn, name)]))
        layers.append(group(name, f"{size} {piece} names", texts(drawn)))
    body = f'<g transform="translate(300 200)">{"".join(layers)}</g>'
    gives_its_pieces(tmp_path, demo, {"drawing/nest.svg": svg(body)}, {})


def gives_its_pieces(place: Path, demo: str, drawings: dict[str, str], around_of: dict[str, tuple[str, ...]]) -> None:
    """Whether the pieces that are read of these drawings are those of the demo's masters."""
    masters = demo_masters(demo)
    folder, copy = place / "source" / demo, place / "work" / demo
    (folder / "drawing").mkdir(parents=True)
    for file, text in drawings.items():
        (folder / file).write_text(text, encoding="utf-8")
    said = (SOURCE / demo / "pattern.toml").read_text(encoding="utf-8")
    (folder / "pattern.toml").write_text(with_drawings(said, around_of, ["drawing/*.svg"]), encoding="utf-8")
    taken = copy_folder(folder, copy)
    assert [each.message for each in taken.findings if each.severity != "info"] == []
    pattern = taken.pattern
    for size in {pattern.sizes[0], pattern.base, pattern.sizes[-1]}:
        pieces, findings = read_size(pattern, copy, size)
        wanted, _ = read_size(masters.pattern, SOURCE / demo, size)
        assert [each.code for each in findings if each.severity == "block"] == []
        assert [piece.piece for piece in pieces] == [piece.piece for piece in wanted]
        for piece, master in zip(pieces, wanted, strict=True):
            assert off_mm(piece, master) < NEAR_MM, (size, piece.piece)


def sampled(path, most: int = 5):
    """Some points of a path."""
    places = flattened(path, 0.05)
    return places[:: max(1, len(places) // most)]


def off_mm(piece: DrawnPiece, master: DrawnPiece) -> float:
    """How far a piece is from its master once moved onto it: outlines, lengths of edges, notches, marks, grain."""
    move = piece.anchor.to(master.anchor)
    moved = mapped(piece, Affine(e=move.dx, f=move.dy))
    assert {edge.name for edge in moved.edges} == {edge.name for edge in master.edges}
    away = [0.0]
    for edge in master.edges:
        other = moved.edge(edge.name)
        away += [abs(path_length_mm(edge.path) - path_length_mm(other.path))]
        away += [edge.path[0].start.distance(other.path[0].start), edge.path[-1].end.distance(other.path[-1].end)]
        away += [nearest_on_path(other.path, place)[0] for place in sampled(edge.path)]
    key = lambda notch: (notch.edge, notch.name or "", notch.at_mm)  # noqa: E731
    for one, two in zip(sorted(moved.notches, key=key), sorted(master.notches, key=key), strict=True):
        assert (one.edge, one.name, one.style) == (two.edge, two.name, two.style)
        away += [abs(one.at_mm - two.at_mm), one.place.distance(two.place)]
    for line, wanted in zip(moved.inside, master.inside, strict=True):
        assert (line.name, line.kind, line.closed) == (wanted.name, wanted.kind, wanted.closed)
        away += [abs(path_length_mm(line.path) - path_length_mm(wanted.path))]
    for point, marked in zip(moved.points, master.points, strict=True):
        assert point.name == marked.name
        away.append(point.place.distance(marked.place))
    away += [moved.grain.top.distance(master.grain.top), moved.grain.bottom.distance(master.grain.bottom)]
    return max(away)

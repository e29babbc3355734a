"""Tables of a bundle against the pieces as measured and what pattern.toml says: each row of its own size."""

from collections.abc import Iterator

from msgspec import UNSET

from pipeline.bundle.built import Built, SizeData
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.checks.registry import Outcome
from pipeline.cutting.strips import strip_cut_size
from pipeline.lays.lengths_to_buy import NOTHING_MM, needed_mm
from pipeline.model.edge_places import part_length_mm, places_along
from pipeline.model.lengths import nearest_mm
from pipeline.model.pattern import Reference
from pipeline.model.questions import copies, copies_of, edge_spec, in_view, shown_views
from pipeline.model.sums import Lengths, sum_mm
from pipeline.tables.cloth import ClothRow
from pipeline.tables.spreadsheets import csv_files

FILE = "tables/tables.json"
_MM = 0.11
_SHARE = 0.001


@BUILT.register(
    id="built-tables",
    title="Tables say what was measured, size by size, and the CSV files say the same",
    rationale="A table of another size buys too little cloth, or the wrong zip, for everyone who trusts it.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="measures of data/pieces.json to 0.1 mm, as tables round; shrinkage divides, need / (1 − s): calculated",
)
def built_tables(built: Built) -> Iterator[Outcome]:
    """Measures, strips, notions, counts and cloth row by row; rows that are missing; the CSV files."""
    for name, text in csv_files(built.tables, built.pattern).items():
        path = built.folder / "tables" / name
        if not path.is_file() or path.read_bytes() != text.encode():
            yield at_file(f"tables/{name}", "csv", "it is not what tables.json says", "another text", "the same rows")
    lengths = {size: _lengths(built, size) for size in built.pattern.sizes if size in built.pieces.sizes}
    for size in built.pattern.sizes:
        if size not in lengths:
            yield at_file("data/pieces.json", "size-missing", f"size {size} is missing", "nothing", size, size=size)
    yield from _sizes(built, lengths)
    yield from _strips(built, lengths)
    yield from _notions(built, lengths)
    yield from _counts(built)
    yield from _cloth(built)


def _lengths(built: Built, size: str) -> Lengths:
    pieces = built.pieces.sizes[size].pieces

    def length_mm(reference: Reference) -> float | None:
        if reference.piece == "body":
            return built.pattern.body[reference.line].sizes_mm.get(size)
        piece = pieces.get(reference.piece)
        if piece is None:
            return None
        if reference.line in piece.edges:
            edge = piece.edges[reference.line]
            if reference.part is not None:
                takes = () if reference.gross else edge_spec(built.pattern, reference.piece, reference.line).takes
                places = places_along(list(piece.edges), reference.line, edge.gross_length_mm, piece.notches)
                return part_length_mm(places, reference.part, reference.line, piece.notches, takes)
            return edge.gross_length_mm if reference.gross else edge.length_mm
        line = piece.inside.get(reference.line)
        return None if line is None else line.length_mm

    return length_mm


def _sizes(built: Built, lengths: dict[str, Lengths]) -> Iterator[Outcome]:
    rows = {(f"{row.of}.{row.measure}", row.size): row.length_mm for row in built.tables.sizes}
    for size, of in lengths.items():
        expected = {f"body.{name}": body.sizes_mm.get(size) for name, body in built.pattern.body.items()}
        expected |= {f"finished.{name}": sum_mm(m.sum, of) for name, m in built.pattern.finished.items()}
        for what, value in expected.items():
            if value is not None:
                yield from _held(what, size, rows.get((what, size)), value)


def _held(what: str, size: str, found: float | None, expected: float) -> Iterator[Outcome]:
    if found is None or abs(found - expected) > _MM:
        text = f"{what} is not that of size {size}"
        told = "no row" if found is None else f"{found:g} mm"
        yield at_file(FILE, "measure", text, told, f"{expected:.1f} mm", size=size)


def _strips(built: Built, lengths: dict[str, Lengths]) -> Iterator[Outcome]:
    rows: dict[tuple[str, str], set[float | None]] = {}
    for row in built.tables.strips:
        rows.setdefault((row.strip, row.size), set()).add(row.cut_length_mm)
    for name, strip in built.pattern.strips.items():
        for size, of in lengths.items():
            length = sum_mm(strip.length, of)
            if length is None or not copies(strip.cut, size).copies:
                continue
            expected = strip_cut_size(strip, length).length_mm
            for found in rows.get((name, size), {None}):
                yield from _held(f"strips.{name}", size, found, expected)


def _notions(built: Built, lengths: dict[str, Lengths]) -> Iterator[Outcome]:
    """Lengths and typed counts; how many marks a piece has, data/pieces.json does not say."""
    rows = {(row.notion, row.size): row for row in built.tables.notions}
    for name, notion in built.pattern.notions.items():
        for size, of in lengths.items():
            row = rows.get((name, size))
            count = (notion.count or {}).get(size)
            total = (notion.length or {}).get(size)
            if total is not None and (length := sum_mm(total, of)) is not None:
                yield from _held(f"notions.{name}", size, None if row is None else row.length_mm, length)
                if row is not None and notion.sold_mm:
                    sold = nearest_mm(length, notion.sold_mm)
                    yield from _held(f"notions.{name}, as it is sold,", size, row.sold_mm, sold)
            elif count and (row is None or row.count != count):
                found = "no row" if row is None else str(row.count)
                text = f"notions.{name} is not that of size {size}"
                yield at_file(FILE, "notion", text, found, str(count), size=size)


def _counts(built: Built) -> Iterator[Outcome]:
    """What the cut list and pieces.json say of every piece, against pattern.toml: count and mirrored by material."""
    listed: dict[tuple[str, str, str], tuple[int, int]] = {}
    view_of: dict[str, str | None] = {}
    for row in built.tables.cut_list:
        seen = [(row.piece, size, row.material) for size in row.sizes]
        for key in seen if row.view == view_of.setdefault(row.piece, row.view) else ():
            count, mirrored = listed.get(key, (0, 0))
            listed[key] = (count + row.count, mirrored + row.mirrored)
    for name, piece in built.pattern.pieces.items():
        for size in piece.sizes:
            expected: dict[str, tuple[int, int]] = {}
            for entry in piece.cut:
                count, mirrored = expected.get(entry.material, (0, 0))
                added = copies_of(entry, size)
                expected[entry.material] = (count + added.copies, mirrored + added.mirrored)
            delivered = _delivered(built.pieces.sizes.get(size), name)
            for material, counts in expected.items():
                for path, found in (
                    (FILE, listed.get((name, size, material))),
                    ("data/pieces.json", delivered.get(material)),
                ):
                    if any(counts) and found != counts:
                        text = f"{name} in {material} is not cut as pattern.toml says"
                        told = "nothing" if found is None else f"{found[0]}, {found[1]} mirrored"
                        yield at_file(path, "count", text, told, f"{counts[0]}, {counts[1]} mirrored", size=size)


def _delivered(data: SizeData | None, name: str) -> dict[str, tuple[int, int]]:
    piece = data.pieces.get(name) if data is not None else None
    counts: dict[str, tuple[int, int]] = {}
    for entry in piece.cut if piece is not None else ():
        count, mirrored = counts.get(entry.material, (0, 0))
        counts[entry.material] = (count + entry.count, mirrored + entry.mirrored)
    return counts


def _cloth(built: Built) -> Iterator[Outcome]:
    """Every size on every width, enough to buy for the lay, and the lay as full as its own pieces make it."""
    rows = {(row.view, row.material, row.width_mm, row.size) for row in built.tables.cloth}
    used = {(view, material) for view, material, _, _ in rows}
    for view in shown_views(built.pattern):
        for name, material in built.pattern.materials.items():
            for width in material.widths_mm if (view, name) in used else ():
                for size in built.pattern.sizes:
                    if (view, name, width, size) not in rows:
                        text = f"no row for {name}, {width:g} mm"
                        yield at_file(FILE, "cloth-missing", text, "no row", "a row a size and width", size=size)
    for row in built.tables.cloth:
        needed = needed_mm(row.lay_length_mm, built.pattern.materials[row.material])
        if row.length_to_buy_mm < needed - NOTHING_MM - _MM:
            text = f"{row.material}, {row.width_mm:g} mm wide: what is to be bought is too short for its lay"
            found, allowed = f"{row.length_to_buy_mm:g} mm", f"at least {needed:.0f} mm"
            yield at_file(FILE, "cloth-short", text, found, allowed, size=row.size)
        if row.repeat_extra_mm is not UNSET and row.repeat_to_buy_mm is not UNSET:
            longer = needed_mm(row.lay_length_mm + row.repeat_extra_mm, built.pattern.materials[row.material])
            if row.repeat_to_buy_mm < longer - NOTHING_MM - _MM:
                text = f"{row.material}, {row.width_mm:g} mm wide: what is to be bought is too short for its repeat"
                found, allowed = f"{row.repeat_to_buy_mm:g} mm", f"at least {longer:.0f} mm"
                yield at_file(FILE, "cloth-short", text, found, allowed, size=row.size)
        yield from _full(built, row)


def _full(built: Built, row: ClothRow) -> Iterator[Outcome]:
    pieces = built.pieces.sizes[row.size].pieces if row.size in built.pieces.sizes else {}
    area = 0.0
    for name, spec in built.pattern.pieces.items():
        if name in pieces and in_view(spec.views, row.view):
            count = sum(entry.count for entry in pieces[name].cut if entry.material == row.material)
            area += pieces[name].cut_area_mm2 * count
    pieced = False
    for strip in built.tables.strips:
        if (strip.size, strip.material) == (row.size, row.material) and strip.view in (None, row.view):
            area += strip.cut_width_mm * (strip.total_length_mm or 0.0)
            pieced |= bool(strip.joins)
    share = area / (row.width_mm * row.lay_length_mm) if row.lay_length_mm else 0.0
    off = share - row.utilisation
    if off > _SHARE or (not pieced and off < -_SHARE):  # a lay may piece strips in more places
        text = f"{row.material}, {row.width_mm:g} mm wide: the lay is not as full as the pieces of this size make it"
        found, allowed = f"{row.utilisation:.1%}", f"{share:.1%}{' and the joins of its strips' if pieced else ''}"
        yield at_file(FILE, "cloth-size", text, found, allowed, size=row.size)

"""`pattern-release start`: a first `pattern.toml` of what drawings hold, every line of it to be looked at."""

import shutil
import tempfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from pipeline.drawing.fonts import use_own_fonts
from pipeline.masters.drawings.cut import cut_drawings
from pipeline.masters.drawings.files import listed
from pipeline.masters.drawings.result import CutOut, Doubt
from pipeline.masters.drawings.telling import drawings_told
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.read_piece import read_piece
from pipeline.masters.source_file import LARGEST_DRAWING, FileFault, plain_name, read_source
from pipeline.masters.toml.faults import shown
from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.names import folder_fault
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import blocks
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import DrawnPiece
from pipeline.starting.edge_names import proposed_by, renamed, usual_names
from pipeline.starting.first_text import BY_SHAPE, NUMBERED, first_text
from pipeline.starting.look import Look, listed_roles, look_at, missing_roles
from pipeline.starting.other_files import BOOKLET, other_files
from pipeline.starting.propose import Proposed, propose
from pipeline.starting.size_names import as_name

MOST_DRAWINGS = 200
LOGO = "logo"
DRAWN = (".svg", ".dxf")
MOST_TOLD = 4
PLACE = "drawing"
"""Where drawings from elsewhere are copied to."""
PICTURES = "edges"
"""Where a picture of each piece with its edges named lies. They are PNG: an SVG there would look like a drawing."""
COMMAND = "pattern-release"


class NoStartError(Exception):
    """Why nothing was written, for the person who asked."""


def start(folder: Path, drawings: list[Path], command: str = COMMAND) -> list[str]:
    """Writes a first `pattern.toml` and what goes with it where that is not, and returns what to tell.

    `command` is how the program was called, for the command that comes next. Raises NoStartError.
    """
    name = plain_name(folder.absolute().name)
    if fault := folder_fault(name):
        raise NoStartError(f"The folder {name!r} {fault}. Rename it: the pattern is called as its folder.")
    if (folder / PATTERN_FILE).exists():
        raise NoStartError(
            f"{folder / PATTERN_FILE} is there already, and nothing overwrites it. Give `check` instead; to begin anew,"
            " move it away first."
        )
    texts = _read(folder, drawings)
    look = look_at(texts)
    if not look.pieces or not look.sizes:
        raise NoStartError("\n".join(_nothing(look)))
    text, base, doubts, open_ = _tried(name, texts, look)
    for file, data in texts.items():
        if not (folder / file).exists():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(data)
    first = {PATTERN_FILE: text, **other_files(name, look)}
    written = [file for file in first if not (folder / file).exists()]
    for file in written:
        (folder / file).parent.mkdir(exist_ok=True)
        (folder / file).write_text(first[file], encoding="utf-8", newline="\n")
    written += _pictures(folder, look, base, doubts)
    return [
        f"{len(texts)} drawing{'s' if len(texts) > 1 else ''}: {_sizes_told(look)}; pieces {', '.join(look.pieces)}",
        *_ladders_told(look),
        *([] if look.by_shape else [_objects_told(look)]),
        *([f"no group is called seam, so that it is proposed by shape: {BY_SHAPE}"] if look.by_shape else []),
        *(f"of no size, or no piece, that could be told: {way}" for way in look.ways[:3]),
        *(["what several sizes share is said in [size-sets], or lies in a layer called all"] if look.ways else []),
        *open_[:MOST_TOLD],
        f"wrote in {folder}: {', '.join(written)}",
        *_what_next(folder, bool(base)),
        f"next: {command} check --source {folder.absolute().parent} --pattern {name}",
    ]


def _sizes_told(look: Look) -> str:
    if look.axes is None:
        return f"sizes {', '.join(look.sizes)}"
    return "; ".join(f"{axis} {', '.join(values)}" for axis, values in look.axes.values.items())


def _ladders_told(look: Look) -> list[str]:
    """What is left out of several ladders; and names that may be a ladder, of which nothing is proposed."""
    without = look.axes.without if look.axes else ()
    told = [f"nowhere drawn, and so left out by `without`: {listed(without, 12)}"] if without else []
    if look.twice:
        told.append(
            f"one piece in one size is drawn more than once, in {listed(map(shown, look.twice))}: if these are heights,"
            ' cups or the like, let the layers say so, as "Height petite" or "Cup B", and start anew; if they are'
            " versions of the garment, let their pieces have names that differ"
        )
    return told


def _objects_told(look: Look) -> str:
    lacking = missing_roles(look.roles)
    return f"objects: {listed_roles(look.roles)}" + (f"; nothing in {', '.join(lacking)}" if lacking else "")


def _what_next(folder: Path, has_edges: bool) -> list[str]:
    marked = f'in {PATTERN_FILE}, look at every line marked "proposed", and write what is marked "to write"'
    if has_edges:
        return [f"{marked}; name the edges: {PICTURES}/ shows where each is"]
    return [
        f"no edges, folds and seams are proposed: mend in the drawings what is told here and by `check`, move"
        f" {folder / PATTERN_FILE} away, and start anew",
    ]


def _pictures(folder: Path, look: Look, pieces: Mapping[str, DrawnPiece], doubts: Mapping[str, Doubt]) -> list[str]:
    """The pictures' names; where cairo is missing there are none, which `doctor` tells."""
    with tempfile.TemporaryDirectory() as place:
        use_own_fonts(Path(place))
        try:
            from pipeline.press.preview import png  # cairo reads where fonts are when it is loaded
            from pipeline.proof.corners_picture import corners_picture
            from pipeline.starting.edges_picture import edges_picture
        except (ImportError, OSError):
            return []
        named = {name: edges_picture(piece, look.pieces[name]) for name, piece in pieces.items()}
        named |= {
            name: corners_picture(doubt, f"{look.pieces[name]}, size {doubt.size}: its corners, clockwise")
            for name, doubt in doubts.items()
        }
        for name, picture in named.items():
            (folder / PICTURES).mkdir(exist_ok=True)
            (folder / _picture(name)).write_bytes(png(picture))
    return list(map(_picture, named))


def _picture(piece: str) -> str:
    return f"{PICTURES}/{piece}.png"


def _read(folder: Path, drawings: list[Path]) -> dict[str, bytes]:
    """The drawings by where they lie in the folder, or will."""
    there = sorted(path for path in folder.rglob("*") if path.suffix in DRAWN and not path.name.startswith("."))
    files = drawings or [path for path in there if not (_is_shown(folder, path) or path.stem.casefold() == LOGO)]
    if not files:
        raise NoStartError(
            f"{folder} has no SVG or DXF of pieces. Put drawings there, or name them: start {folder} --from DRAWING.svg"
        )
    if wrong := [file for file in files if file.suffix not in DRAWN]:
        raise NoStartError(f"{wrong[0]} is no drawing by its name: it ends with neither {' nor '.join(DRAWN)}.")
    if shown_there := [file for file in files if _is_shown(folder, file)]:
        raise NoStartError(
            f"{shown_there[0]} is what the booklet shows, and no drawing of pieces. Put drawings into {folder / PLACE}."
        )
    texts: dict[str, bytes] = {}
    for file in files[:MOST_DRAWINGS]:
        data = read_source(file, LARGEST_DRAWING)
        if isinstance(data, FileFault):
            raise NoStartError(f"{file} {data.message} {data.remedy}")
        inside = file.absolute().is_relative_to(folder.absolute())
        name = file.absolute().relative_to(folder.absolute()).as_posix() if inside else f"{PLACE}/{file.name}"
        if name in texts or (not inside and (folder / name).exists()):
            raise NoStartError(f"Two drawings would be {name}, and nothing is overwritten. Rename one.")
        texts[name] = data
    return texts


def _is_shown(folder: Path, file: Path) -> bool:
    """Whether a file lies where a booklet has its cover, figures and logo."""
    return file.absolute().is_relative_to((folder / BOOKLET).absolute())


def _nothing(look: Look) -> list[str]:
    """What to do with drawings that tell of no size and piece."""
    faults = [f"{finding.file}: {finding.message} {finding.remedy}" for finding in look.findings if finding.file]
    return [
        "The drawings tell of no size and piece: nothing was written.",
        *faults[:3],
        f"Objects in groups of a known name: {listed_roles(look.roles)}.",
        *([f"Names on the way to seam lines: {listed(look.names, 12)}."] if look.names else []),
        *(["None of them is written as a size is: 34, XL, 6-12, small."] if look.names and not look.sizes else []),
        'Let the layers on the way to each outline say its size, piece and "seam", as "Size 34" / "Front" / "seam".',
    ]


def _tried(
    name: str, texts: Mapping[str, bytes], look: Look
) -> tuple[str, dict[str, DrawnPiece], dict[str, Doubt], list[str]]:
    """The text, the base size's pieces, outlines of it whose edges are open, and what keeps them from being named.

    Written once to find corners, and again with their edges and what follows of them.
    """
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / name
        for file, data in texts.items():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(data)
        around: dict[str, tuple[str, ...]] = {}
        pattern, cut = _cut(folder, first_text(name, texts, look, around, {}, Proposed()))
        around |= _in_parts(cut, lambda asked: _cut(folder, first_text(name, texts, look, asked, {}, Proposed()))[1])
        for found in cut.found:
            if (
                found.corners >= 2
                and found.edges == 1
                and found.piece not in around
                and found.size in _of_base(pattern)
            ):
                around[found.piece] = _numbered(found.corners)
        pattern, cut = _cut(folder, first_text(name, texts, look, around, {}, Proposed()))
        drawn = _drawn(pattern, cut)
        findings, _ = drawings_told(pattern, folder, cut)
        shutil.rmtree(folder)
    edges = drawn[pattern.base]
    blocked = {found.piece: found for found in reversed(findings) if blocks(found) and found.piece not in edges}
    doubts = {doubt.piece: doubt for doubt in cut.doubts if doubt.code == "base" and doubt.piece not in edges}
    told = [
        f"{piece or 'the drawings'}: {found.message} {found.remedy}"
        + (f" {_picture(piece)} shows its corners." if piece in doubts else "")
        for piece, found in blocked.items()
    ]
    proposed = propose(drawn, _whole(name, texts))
    usual = {piece: names for piece, names in usual_names(edges, proposed).items() if piece in around}
    edges = {piece: renamed(of, usual.get(piece, {})) for piece, of in edges.items()}
    around = {piece: tuple(usual.get(piece, {}).get(edge, edge) for edge in of) for piece, of in around.items()}
    text = first_text(name, texts, look, around, edges, proposed_by(proposed, usual))
    return text, edges, doubts, told


def _whole(name: str, files: Iterable[str]) -> tuple[str, ...]:
    """Names that are of the whole garment: the folder's, and that of a drawing that is the only one."""
    alone = [Path(file).stem for file in files]
    return (as_name(name), *(map(as_name, alone) if len(alone) == 1 else ()))


def _in_parts(cut: CutOut, cut_with: Callable[[dict[str, tuple[str, ...]]], CutOut]) -> dict[str, tuple[str, ...]]:
    """Names for the edges of outlines that are drawn in parts without a name, whose corners show once two are named."""
    asked = {found.piece: _numbered(2) for found in cut.findings if found.code == "edges-unnamed" and found.piece}
    if not asked:
        return {}
    again = cut_with(asked)
    counts = {doubt.piece: len(doubt.corners) for doubt in again.doubts if doubt.code == "base"}
    return {piece: _numbered(counts.get(piece, 2)) for piece in asked}


def _numbered(count: int) -> tuple[str, ...]:
    return tuple(f"{NUMBERED}{i + 1}" for i in range(count))


def _cut(folder: Path, text: str) -> tuple[Pattern, CutOut]:
    (folder / PATTERN_FILE).write_text(text, encoding="utf-8")
    pattern, told = load_pattern(folder)
    if pattern is None:
        raise NoStartError("\n".join(f"{finding.message} {finding.remedy}" for finding in told[:3]))
    return pattern, cut_drawings(pattern, folder)


def _of_base(pattern: Pattern) -> tuple[str, ...]:
    """What a master of the base size may be drawn as: every size, a set that holds it, itself."""
    return (EVERY_SIZE, *(name for name, sizes in pattern.size_sets.items() if pattern.base in sizes), pattern.base)


def _drawn(pattern: Pattern, cut: CutOut) -> dict[str, dict[str, DrawnPiece]]:
    """The pieces of every size, also what is drawn once for several."""
    found: dict[str, dict[str, DrawnPiece]] = {}
    for file, data in cut.masters.items():
        _, size, piece = file.removesuffix(".svg").split("/")
        drawn, _ = read_piece(pattern, pattern.pieces[piece], size, file, data)
        if drawn is not None:
            found.setdefault(size, {})[piece] = drawn
    sets = {EVERY_SIZE: pattern.sizes, **pattern.size_sets}
    return {
        size: {
            piece: drawn
            for of in (*(name for name, sizes in sets.items() if size in sizes), size)
            for piece, drawn in found.get(of, {}).items()
        }
        for size in pattern.sizes
    }

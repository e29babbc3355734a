"""`pattern-release start`: a first `pattern.toml` of what drawings hold, every line of it to be looked at."""

import json
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from pipeline.geometry.curves import path_length_mm
from pipeline.masters.drawings.cut import cut_drawings
from pipeline.masters.drawings.result import CutOut
from pipeline.masters.load import PATTERN_FILE, load_pattern
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.names import folder_fault
from pipeline.masters.read_piece import read_piece
from pipeline.masters.source_file import LARGEST_DRAWING, FileFault, plain_name, read_source
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import DrawnPiece
from pipeline.starting.look import Look, listed_roles, look_at, missing_roles
from pipeline.starting.propose import Proposed, propose

MOST_DRAWINGS = 200
CHANGES = "CHANGES.md"
PLACE = "drawing"
"""Where drawings from elsewhere are copied to."""


class NoStartError(Exception):
    """Why nothing was written, for the person who asked."""


def start(folder: Path, drawings: list[Path]) -> list[str]:
    """Writes `pattern.toml` and `CHANGES.md` where they are not, and returns what to tell. Raises NoStartError."""
    name = plain_name(folder.absolute().name)
    if fault := folder_fault(name):
        raise NoStartError(f"The folder {name!r} {fault}. Rename it: the pattern is called as its folder.")
    if (folder / PATTERN_FILE).exists():
        raise NoStartError(
            f"{folder / PATTERN_FILE} is there already, and nothing overwrites it. Give `check` instead."
        )
    texts = _read(folder, drawings)
    look = look_at(texts)
    if not look.pieces or not look.sizes:
        raise NoStartError("\n".join(_nothing(look)))
    text = _tried(name, texts, look)
    for file, data in texts.items():
        if not (folder / file).exists():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(data)
    written = [PATTERN_FILE]
    (folder / PATTERN_FILE).write_text(text, encoding="utf-8", newline="\n")
    if not (folder / CHANGES).exists():
        (folder / CHANGES).write_text(f"# {name}\n\n## 1.0.0\n\nFirst release.\n", encoding="utf-8", newline="\n")
        written.append(CHANGES)
    lacking = missing_roles(look.roles)
    return [
        f"{len(texts)} drawing{'s' if len(texts) > 1 else ''}: sizes {', '.join(look.sizes)};"
        f" pieces {', '.join(look.pieces)}",
        f"objects: {listed_roles(look.roles)}" + (f"; nothing in {', '.join(lacking)}" if lacking else ""),
        *(f"of no piece that could be told: {way}" for way in look.ways[:3]),
        f'wrote {" and ".join(written)} in {folder}: look at every line marked "proposed"',
        f"next: pattern-release check --source {folder.absolute().parent} --pattern {name}",
    ]


def _read(folder: Path, drawings: list[Path]) -> dict[str, bytes]:
    """The drawings by where they lie in the folder, or will."""
    files = drawings or sorted(path for path in folder.rglob("*.svg") if not path.name.startswith("."))
    if not files:
        raise NoStartError(f"{folder} has no SVG. Put drawings there, or name them: start {folder} --from DRAWING.svg")
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


def _nothing(look: Look) -> list[str]:
    """What to do with drawings that tell of no size and piece."""
    faults = [f"{finding.file}: {finding.message} {finding.remedy}" for finding in look.findings if finding.file]
    return [
        "The drawings tell of no size and piece: nothing was written.",
        *faults[:3],
        f"Objects in groups of a known name: {listed_roles(look.roles)}.",
        'Let the layers on the way to each outline say its size, piece and "seam", as "Size 34" / "Front" / "seam".',
    ]


def _tried(name: str, texts: Mapping[str, bytes], look: Look) -> str:
    """The text, written once to find how many corners outlines have, and again with their edges and what follows."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / name
        for file, data in texts.items():
            (folder / file).parent.mkdir(parents=True, exist_ok=True)
            (folder / file).write_bytes(data)
        around: dict[str, tuple[str, ...]] = {}
        pattern, cut = _cut(folder, _text(name, texts, look, around, {}, Proposed({}, ())))
        for found in cut.found:
            if found.corners >= 2 and found.piece not in around and found.size in (pattern.base, EVERY_SIZE):
                around[found.piece] = tuple(f"edge-{i + 1}" for i in range(found.corners))
        pattern, cut = _cut(folder, _text(name, texts, look, around, {}, Proposed({}, ())))
        drawn = _drawn(pattern, cut)
        shutil.rmtree(folder)
    edges = {**drawn.get(EVERY_SIZE, {}), **drawn.get(pattern.base, {})}
    return _text(name, texts, look, around, edges, propose(drawn))


def _cut(folder: Path, text: str) -> tuple[Pattern, CutOut]:
    (folder / PATTERN_FILE).write_text(text, encoding="utf-8")
    pattern, told = load_pattern(folder)
    if pattern is None:
        raise NoStartError("\n".join(f"{finding.message} {finding.remedy}" for finding in told[:3]))
    return pattern, cut_drawings(pattern, folder)


def _drawn(pattern: Pattern, cut: CutOut) -> dict[str, dict[str, DrawnPiece]]:
    found: dict[str, dict[str, DrawnPiece]] = {}
    for file, data in cut.masters.items():
        _, size, piece = file.removesuffix(".svg").split("/")
        drawn, _ = read_piece(pattern, pattern.pieces[piece], size, file, data)
        if drawn is not None:
            found.setdefault(size, {})[piece] = drawn
    return found


def _text(
    name: str,
    drawings: Mapping[str, bytes],
    look: Look,
    around: Mapping[str, tuple[str, ...]],
    edges: Mapping[str, DrawnPiece],
    proposed: Proposed,
) -> str:
    sizes = ", ".join(f'"{size}"' for size in look.sizes)
    files = ", ".join(map(_quoted, drawings))
    lines = [
        '# Written from the drawings. What is marked "proposed" is a guess: look at it, then take the mark away.',
        "# Every key is told in source/README.md.",
        "format = 1",
        "",
        "[pattern]",
        f"title = {_quoted(name)}  # proposed",
        'version = "1.0.0"',
        'maker = "…"  # to write: who made it',
        'contact = "…"  # to write: where buyers turn to',
        f"sizes = [{sizes}]  # proposed: in this order, smallest first",
        f'base = "{look.sizes[len(look.sizes) // 2]}"  # proposed: the size that the others are graded from',
        'languages = ["en"]  # proposed',
        'licence = "…"  # to write: what buyers may do with it',
        "",
        "[masters]",
        f"drawings = [{files}]",
        "",
        "[materials.shell]",
        'title = "main cloth"  # proposed',
        'widths = ["140 cm"]  # proposed',
        "",
    ]
    for piece, title in look.pieces.items():
        lines += [f"[pieces.{piece}]", f"title = {_quoted(title)}"]
        lines += ['cut = [{ material = "shell", count = 2 }]  # proposed', 'allowance = "1 cm"  # proposed']
        if piece in around:
            names = ", ".join(f'"{edge}"' for edge in around[piece])
            lines.append(f"around = [{names}]  # proposed: clockwise from the top left corner; give them their names")
        if piece in edges:
            lines += [f"# {edge.name}: {_where(edges[piece], i)}" for i, edge in enumerate(edges[piece].edges)]
            lines += [] if edges[piece].grain.drawn else ["# no grain is drawn: the page's vertical is taken"]
        if piece in proposed.folds:
            lines.append(f"# proposed: edges.{proposed.folds[piece]} = {{ fold = true }}  (and then count = 1)")
        lines.append("")
    for one, two in proposed.seams:
        both = f"{one} {two}".replace(".", "-").replace(" ", "--")[:40]
        lines += [
            "# proposed: these edges are of equal length in every size",
            f"# [seams.{both}]",
            f'# a = ["{one}"]',
            f'# b = ["{two}"]',
            "",
        ]
    return "\n".join(lines)


def _quoted(text: str) -> str:
    """A text as TOML writes it; what JSON writes between quotes is that too."""
    return json.dumps(text, ensure_ascii=False)


def _where(piece: DrawnPiece, index: int) -> str:
    """How long an edge is in the base size, and on which side of the piece."""
    path = piece.edges[index].path
    a, b = path[0].start, path[-1].end
    run = a.to(b)
    side = ("top" if run.dx > 0 else "bottom") if abs(run.dx) > abs(run.dy) else "right" if run.dy > 0 else "left"
    return f"{path_length_mm(path):.0f} mm, {side}"

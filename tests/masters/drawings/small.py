"""A small pattern drawn in one file: two pieces in three sizes, whatever a test changes of it."""

from pathlib import Path

from pipeline.masters.copied import CopiedFolder, copy_folder

HEAD = """format = 1
[pattern]
title = "Bag"
version = "1.0.0"
maker = "Invented Workroom"
contact = "help@workroom.example"
sizes = ["s", "m", "l"]
base = "m"
languages = ["en", "de"]
licence = "For private use."
[masters]
drawings = ["*.svg"]
"""
AROUND = """[pieces.front]
title = { en = "Front panel", de = "Vorderteil" }
around = ["top", "side", "hem", "cf"]
[pieces.flap]
title = { en = "Flap", de = "Klappe" }
around = ["top", "right", "left"]
start = "first"
"""
GROWN = {"s": 0.0, "m": 4.0, "l": 8.0}


def front(size: str) -> str:
    """A front that is wider below, with two notches on its side and one on its hem."""
    g = GROWN[size]
    return (
        f'<g id="seam-{size}" data-name="seam"><path id="path-{size}-1" d="M{120 + g},20 L{200 + g},220 L20,{230 + g}'
        f' V20 Z"/></g><g data-name="notches"><circle cx="{140 + g}" cy="70" r="1"/>'
        f'<circle cx="{160 + g}" cy="120" r="1"/><circle cx="20" cy="100" r="1"/></g>'
        '<g data-name="grain"><path d="M60,200 V60"/></g>'
    )


def flap(size: str) -> str:
    """A triangle, far to the right of the front."""
    g = GROWN[size]
    mark = '<g data-name="corners"><circle data-name="first" cx="400" cy="30" r="1"/></g>' if size == "m" else ""
    return (
        f'<g data-name="seam"><polygon points="400,30 {520 + g},50 430,{150 + g}"/></g>{mark}'
        '<g data-name="grain"><path d="M440,100 V60"/></g>'
    )


def drawing(**changed: str) -> str:
    """The nested drawing; `front_s` and its like replace what a layer holds, `more` is added."""
    layers = "".join(
        f'<g data-name="Size {size.upper()}">'
        f'<g data-name="Front panel">{changed.get(f"front_{size}", front(size))}</g>'
        f'<g data-name="Klappe">{changed.get(f"flap_{size}", flap(size))}</g></g>'
        for size in GROWN
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400">'
        f"{layers}{changed.get('more', '')}</svg>"
    )


def taken(place: Path, text: str, said: str = AROUND, head: str = HEAD) -> CopiedFolder:
    """The pattern called bag with this drawing, as a run takes it into the work folder."""
    folder = place / "source/bag"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "pattern.toml").write_text(head + said, encoding="utf-8")
    (folder / "nest.svg").write_text(text, encoding="utf-8")
    return copy_folder(folder, place / "work/bag")


def told(found: CopiedFolder) -> list[tuple[str, str | None, str | None]]:
    """Code, piece and size of all that blocks."""
    return [(each.code, each.piece, each.size) for each in found.findings if each.severity == "block"]

"""Folders of invented patterns for the tests of this room."""

from pathlib import Path

HEAD = """
format = 1
[pattern]
title = "Bag"
version = "1.0.0"
maker = "Invented Workroom"
contact = "help@workroom.example"
sizes = ["s", "m", "l"]
base = "m"
languages = ["en"]
wearer = "adult"
licence = "For private use."
[size-sets]
small = ["s", "m"]
[materials.shell]
title = "cloth"
widths = ["140 cm"]
"""
RECTANGLE = """<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">
<g id="seam">
<path id="top" d="M10 10 H110"/><path id="right" d="M110 10 V60"/>
<path id="bottom" d="M110 60 H10"/><path id="left" d="M10 60 V10"/>
</g>
<g id="notches"><path id="dart-a" d="M40 10 v2"/><path id="dart-b" d="M60 10 v2"/></g>
<g id="inside"><path id="level" d="M20 30 H100"/></g>
<g id="grain"><path d="M60 50 V20"/></g>
</svg>
"""


def pattern_folder(place: Path, text: str, masters: dict[str, str]) -> Path:
    """A pattern called bag: its `pattern.toml` after the head, and its masters by path."""
    folder = place / "bag"
    folder.mkdir()
    (folder / "pattern.toml").write_text(HEAD + text, encoding="utf-8")
    for name, svg in masters.items():
        file = folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(svg, encoding="utf-8")
    return folder

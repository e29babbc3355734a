"""An invented skirt in sizes and heights: front and back depend on both, the band on the size alone, the facing of the
slit on the height alone, the pocket on neither. Each is written once a drawing; `faults` change one of them.
"""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType

SIZES = ("36", "38", "40")
HEIGHTS = ("petite", "regular", "tall")
Lengths = dict[str, float]
Faults = Mapping[str, Callable[[Lengths], Lengths]]
NO_FAULTS: Faults = MappingProxyType({})

PATTERN = """
format = 1

[pattern]
title = "Three-height skirt"
version = "1.0.0"
maker = "Invented Workroom"
contact = "help@workroom.example.org"
base = "{base}"
languages = ["en"]
licence = "For your own sewing."
size_titles = {{ petite = "petite (to 163 cm)", "36" = "36 (8)" }}

[size-axes]
size = [{sizes}]
height = [{heights}]
{without}
[materials.shell]
title = "cloth"
widths = ["150 cm"]
selvedge = "1 cm"
fold = true

[pieces.front]
title = "Front"
cut = [{{ material = "shell", count = 1 }}]
allowance = "1 cm"
edges.cf = {{ fold = true }}
edges.hem = {{ allowance = "3 cm", corner = "turned", hem = true }}
lines.hip-line = {{ kind = "level" }}
points.pocket = {{ title = "pocket" }}

[pieces.back]
title = "Back"
cut = [{{ material = "shell", count = 1 }}]
allowance = "1 cm"
edges.cb = {{ fold = true }}
edges.hem = {{ allowance = "3 cm", corner = "turned", hem = true }}
lines.hip-line = {{ kind = "level" }}

[pieces.band]
title = "Waistband"
cut = [{{ material = "shell", count = 1 }}]
allowance = "1 cm"
edges.cf = {{ fold = true }}

[pieces.facing]
title = "Facing of the slit"
cut = [{{ material = "shell", count = 2 }}]
allowance = "1 cm"

[pieces.pocket]
title = "Pocket"
cut = [{{ material = "shell", count = 2 }}]
allowance = "1 cm"

[seams.side]
a = ["front.side"]
b = ["back.side"]

[seams.waist]
a = ["band.lower"]
b = ["front.waist", "back.waist"]

[body.waist]
title = "Waist"
sizes = {{ {waists} }}

[body.hip]
title = "Hip"
sizes = {{ {hips} }}

[body.height]
title = "Height"
sizes = {{ {tall} }}

[finished.hip]
title = "Finished hip"
sum = "2 x front.hip-line + 2 x back.hip-line"
ease = "3 cm .. 9 cm"
grade = "rises"

[finished.length]
title = "Length"
sum = "front.cf"
allowed = "40 cm .. 80 cm"
grade = "rises"

[notions.zip]
title = "Zip"
length = {{ {zips} }}

[print]
formats = ["a4"]

[lays]
seconds = 1
"""
BOOKLET = """
# Sew

1. Sew {{ piece pocket }} onto {{ piece front }}. Hem by {{ allowance front.hem }} and {{ allowance back.hem }}.
2. Sew the sides, {{ seam side }}, and the {{ piece facing }}; set in the {{ notion zip }}.
3. Sew the {{ piece band }}: {{ seam waist }}. The skirt is {{ front.cf }} long.
"""


def write_skirt(
    place: Path,
    sizes: Sequence[str] = SIZES,
    heights: Sequence[str] = HEIGHTS,
    without: Sequence[str] = (),
    faults: Faults = NO_FAULTS,
) -> Path:
    """The pattern's folder in `place`. `faults` are by master, "36-petite/front"."""
    folder = place / "skirt"
    masters: dict[str, str] = {"all/pocket": _rectangle("top", 140, 150)}
    for i, size in enumerate(sizes):
        masters |= {f"{size}/band": _band(_changed(faults, f"{size}/band", {"length": 2 * _width_mm(i)}))}
        for j, height in enumerate(heights):
            point = f"{size}-{height}"
            for piece in ("front", "back") if point not in without else ():
                lengths = {"width": _width_mm(i), "length": 520 + 5 * i + 30 * j, "hip": 180}
                masters[f"{point}/{piece}"] = _panel(piece, _changed(faults, f"{point}/{piece}", lengths))
    for j, height in enumerate(heights):
        masters[f"{height}/facing"] = _rectangle("end", 60, 150 + 10 * j)
    for name, svg in masters.items():
        file = folder / "sizes" / f"{name}.svg"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(svg, encoding="utf-8")
    text = PATTERN.format(
        base=f"{sizes[len(sizes) // 2]}-{heights[len(heights) // 2]}",
        sizes=_listed(sizes),
        heights=_listed(heights),
        without=f"without = [{_listed(without)}]" if without else "",
        waists=_by_value(sizes, 640, 40),
        hips=_by_value(sizes, 900, 40),
        tall=_by_value(heights, 1600, 80),
        zips=_by_value(heights, 180, 20),
    )
    (folder / "pattern.toml").write_text(text, encoding="utf-8")
    (folder / "CHANGES.md").write_text("# 1.0.0\n\nThe first version.\n", encoding="utf-8")
    (folder / "booklet").mkdir(exist_ok=True)
    (folder / "booklet" / "en.md").write_text(BOOKLET, encoding="utf-8")
    return folder


def _width_mm(place: int) -> float:
    return 240 + 10 * place


def _changed(faults: Faults, name: str, lengths: Lengths) -> Lengths:
    return faults[name](lengths) if name in faults else lengths


def _listed(names: Sequence[str]) -> str:
    return ", ".join(f'"{name}"' for name in names)


def _by_value(values: Sequence[str], first_mm: float, step_mm: float) -> str:
    return ", ".join(f'"{value}" = "{first_mm + step_mm * place:g} mm"' for place, value in enumerate(values))


def _panel(piece: str, lengths: Lengths) -> str:
    """Half a panel on the fold, its side at right angles to waist and hem."""
    width, length, hip = 10 + lengths["width"], 10 + lengths["length"], 10 + lengths["hip"]
    fold = "cf" if piece == "front" else "cb"
    marks = '<g id="points"><circle data-name="pocket" cx="90" cy="150" r="1"/></g>' if piece == "front" else ""
    return _svg(
        f'<path data-name="waist" d="M10,10 H{width}"/>'
        f'<path data-name="side" d="M{width},10 C{width},180 {width + 30},280 {width + 30},450 V{length}"/>'
        f'<path data-name="hem" d="M{width + 30},{length} H10"/><path data-name="{fold}" d="M10,{length} V10"/>',
        f'<g id="notches"><circle data-name="knee" cx="{width + 30}" cy="460" r="1"/></g>'
        f'<g id="inside"><path data-name="hip-line" d="M10,{hip} H{width}"/></g>'
        f'<g id="grain"><path d="M60,400 V200"/></g>{marks}',
    )


def _band(lengths: Lengths) -> str:
    end = 10 + lengths["length"]
    return _svg(
        f'<path data-name="upper" d="M10,10 H{end}"/><path data-name="end" d="M{end},10 V50"/>'
        f'<path data-name="lower" d="M{end},50 H10"/><path data-name="cf" d="M10,50 V10"/>',
        f'<g id="notches"><circle data-name="side-seam" cx="{10 + lengths["length"] / 2}" cy="50" r="1"/></g>'
        '<g id="grain"><path d="M30,45 V15"/></g>',
    )


def _rectangle(first: str, width: float, length: float) -> str:
    right, foot = 10 + width, 10 + length
    return _svg(
        f'<path data-name="{first}" d="M10,10 H{right}"/><path data-name="right" d="M{right},10 V{foot}"/>'
        f'<path data-name="foot" d="M{right},{foot} H10"/><path data-name="left" d="M10,{foot} V10"/>',
        f'<g id="grain"><path d="M30,{foot - 20} V30"/></g>',
    )


def _svg(seam: str, rest: str) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900">'
        f'<g id="seam">{seam}</g>{rest}</svg>\n'
    )

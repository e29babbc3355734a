"""What lays and the pieces in them are called, in files and on paper."""

import msgspec

from pipeline.drawing.wording import in_decimals, told_of
from pipeline.lays.items import LayRequest
from pipeline.model.lengths import cloth_width, least_inches_text, metric_text, next_mm
from pipeline.model.pattern import Pattern, Units, in_language
from pipeline.words import say


class LaidName(msgspec.Struct, frozen=True):
    """How a piece is named in a picture: its short name, which fits into a small piece, and its title."""

    short: str
    title: str


def usable_width(width_mm: float, units: Units) -> str:
    """What must lie between a cloth's selvedges at least, in both systems, rounded as `cloth_width`."""
    metric, inches = metric_text(next_mm(width_mm, 5.0)), least_inches_text(width_mm)
    return f"{metric} ({inches})" if units == "metric" else f"{inches} ({metric})"


def lay_file_name(request: LayRequest) -> str:
    """`<material>-<width in whole mm>-<size>[-one-way][-<view>]`, without an ending."""
    parts = [request.material, f"{request.width_mm:.0f}", request.size]
    if request.one_way:
        parts.append("one-way")
    if request.view is not None:
        parts.append(request.view)
    return "-".join(parts)


def lay_title(pattern: Pattern, request: LayRequest, language: str) -> str:
    """What a lay is called in words: the pattern, its cloth, its size."""
    size = f"{say(language, 'size.name')} {request.size}"
    return told_of(language, in_language(pattern.title, language), f"{cloth_title(pattern, request, language)}, {size}")


def cloth_title(pattern: Pattern, request: LayRequest, language: str) -> str:
    """The cloth of a lay, its nap and its view: "main cloth, 140 cm (55 1/4 in), one way"."""
    parts = [
        in_language(pattern.materials[request.material].title, language),
        in_decimals(language, cloth_width(request.width_mm, pattern.units)),
    ]
    if request.one_way:
        parts.append(say(language, "cloth.one-way"))
    if request.view is not None:
        parts.append(in_language(pattern.views[request.view].title, language))
    return ", ".join(parts)


def laid_names(pattern: Pattern, language: str) -> dict[str, LaidName]:
    """Names of everything that can be laid: a piece has its number, a strip S and its place among the strips."""
    pieces = {
        name: LaidName(str(piece.number), in_language(piece.title, language)) for name, piece in pattern.pieces.items()
    }
    strips = {
        f"strips.{name}": LaidName(f"S{number}", in_language(strip.title, language))
        for number, (name, strip) in enumerate(pattern.strips.items(), 1)
    }
    return {**pieces, **strips}

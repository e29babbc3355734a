"""Knits: bands as long as their share says, and cloth that gives as much as the garment asks of it."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.strips import strip_outcome
from pipeline.checks.totals import total_mm
from pipeline.model.pattern import Material, Range, Strip
from pipeline.model.questions import stretches_most

_TOLERANCE = 0.005
"""Of a share: half a percent, within which bands are cut."""


@CHECKS.register(
    id="knit-bands",
    title="A band that is stretched has its share of what it goes round, and its cloth gives as much",
    rationale="A neckband that is too long stands off, one that is too short gathers; one that cannot be pulled tears.",
    remedy="correct the band's length, its share, or what is said of the cloth's stretch",
    severity="block",
    source="the designer's own share, within half a percent; length x (1 + stretch) is what it opens to, calc",
    needs=("strips",),
)
def knit_bands(garment: Garment) -> Iterator[Outcome]:
    """`stretched` against `goes_round`; what `stretched` and `opens_to` ask of the cloth, by the band's grain."""
    for strip in garment.pattern.strips.values():
        if strip.stretched is None and strip.opens_to is None:
            continue
        for size in garment.pattern.sizes:
            length_mm = total_mm(garment, strip.length, size)
            if length_mm is not None and length_mm > 0:
                yield from _share(garment, strip, size, length_mm)
                yield from _asked_of_cloth(garment, strip, size, length_mm)


def _share(garment: Garment, strip: Strip, size: str, length_mm: float) -> Iterator[Outcome]:
    round_mm = total_mm(garment, strip.goes_round, size) if strip.goes_round else None
    if strip.stretched is None or not round_mm:
        return
    if off := share_off(strip.stretched, length_mm, round_mm):
        yield strip_outcome(strip, "other-share", size, *off)


def share_off(stretched: Range, length_mm: float, round_mm: float) -> tuple[str, str, str] | None:
    """What is found, allowed and told of a length that is another share of what it goes round than is said; None where
    it is that share."""
    share = length_mm / round_mm
    if stretched.low - _TOLERANCE <= share <= stretched.high + _TOLERANCE:
        return None
    return f"{share:.1%}", f"{stretched.low:.0%} to {stretched.high:.0%}", f"it is {share:.1%} of what it goes round"


def _asked_of_cloth(garment: Garment, strip: Strip, size: str, length_mm: float) -> Iterator[Outcome]:
    wanted = {"what it goes round": strip.goes_round if strip.stretched else None, "what must pass": strip.opens_to}
    gives = [(cut.material, _gives(garment.pattern.materials[cut.material], strip)) for cut in strip.cut]
    for what, total in wanted.items():
        wanted_mm = total_mm(garment, total, size) if total else None
        if wanted_mm is None or wanted_mm <= length_mm:
            continue
        needed = wanted_mm / length_mm - 1
        for material, share in gives:
            if share is not None and needed > share + _TOLERANCE:
                text = f"pulled to {what}, {wanted_mm:.0f} mm, it gives more than its cloth, {material}"
                yield strip_outcome(strip, "more-than-its-cloth", size, f"{needed:.0%}", f"at most {share:.0%}", text)


def _gives(material: Material, strip: Strip) -> float | None:
    """What the cloth gives along the strip: across for one that lies across, along for one that lies along."""
    if strip.grain == "along":
        return material.stretch_length
    return material.stretch_width if strip.grain == "across" else None


@CHECKS.register(
    id="knit-said",
    title="A pattern for stretching cloth says how far it must stretch",
    rationale="A buyer chooses the cloth before anything else, and a knit that gives too little makes no garment.",
    remedy='say it: [materials.x] stretch = "50 %"; the start page then has a gauge to try the cloth on',
    severity="warn",
    source="measures below the body's and stretched bands need a cloth that stretches: common practice",
)
def knit_said(garment: Garment) -> Iterator[Outcome]:
    """Bands with a share, and garments smaller than the body, of cloth of which no stretch is said."""
    materials = garment.pattern.materials
    for strip in garment.pattern.strips.values():
        for cut in strip.cut:
            if (strip.stretched or strip.opens_to) and _says_nothing(materials[cut.material]):
                text = f"it is stretched, and nothing says how far {cut.material} stretches"
                yield strip_outcome(strip, "no-stretch", None, "no stretch", 'stretch = "50 %", as the cloth is', text)
    tight = [each.name for each in garment.pattern.finished.values() if each.ease is not None and each.ease.high < 0]
    if tight and all(map(_says_nothing, materials.values())):
        yield Outcome(
            code="no-stretch",
            where=f"finished.{tight[0]}",
            file="pattern.toml",
            object="materials",
            found="no stretch",
            allowed='stretch = "50 %", as the cloth is',
            message=f"{', '.join(tight)}: smaller than the body, and nothing says how far the cloth stretches",
        )


def _says_nothing(material: Material) -> bool:
    return material.stretch_width is None and material.stretch_length is None


@CHECKS.register(
    id="knit-turned",
    title="What is cut of a cloth that gives more in one direction may not lie at any angle",
    rationale="A band that was cut along where the cloth gives across cannot be pulled over a head.",
    remedy='take turn = "free" out, or give the strip a grain; lays turn nothing off the direction of a knit',
    severity="warn",
    source="knits are cut with the greatest stretch round the body: common practice",
)
def knit_turned(garment: Garment) -> Iterator[Outcome]:
    """Materials that turn freely though they give more in one direction; stretched bands of them of any grain."""
    materials = garment.pattern.materials
    for name, material in materials.items():
        if material.turn == "free" and stretches_most(material):
            yield Outcome(
                code="turn-free",
                where=f"materials.{name}",
                file="pattern.toml",
                object=f"materials.{name}.turn",
                found="free",
                allowed="half",
                message=f"{name} gives most {stretches_most(material)}, and may lie at any angle: it is not laid so",
            )
    for strip in garment.pattern.strips.values():
        cloths = [cut.material for cut in strip.cut if stretches_most(materials[cut.material])]
        if cloths and strip.grain == "any" and (strip.stretched or strip.opens_to):
            text = f"it is stretched, and may lie in any direction of {cloths[0]}"
            yield strip_outcome(strip, "any-grain", None, "any", "across or along", text)

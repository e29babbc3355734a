"""Safety of what a child or a baby wears: cords, small parts and sleepwear block until a human signs them off.

The check defers to the authorities: it shows what the rule is and where it stands, and judges no garment by it.
"""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.cautions import cords, small_parts
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome

PATTERN = "pattern"
"""Where what concerns the pattern as a whole is: what a waiver of it names."""

_CORD = (
    "US: no cords at neck and hood of children's upper outerwear, sizes 2T to 12; at waist and hem, 2T to 16, at most "
    "3 in outside the channel at full width, no knots or toggles on free ends, bar-tacked if continuous (16 CFR 1120; "
    "ASTM F1816). EU: to 7 years or 134 cm no cords at hood or neck, 7 to 14 no free ends there; tied belts, sashes "
    "and cords at waist, back and hem have limits of their own: read the standard (EN 14682)"
)
_SMALL_PART = (
    "US, under 3 years: must not fit the test cylinder; fabric, elastic, string excepted (16 CFR 1501.4); elsewhere "
    "ask your authority"
)
_SLEEPWEAR = (
    "US: flame resistance, sizes to 6X and 7 to 14, unless tight-fitting or infant (16 CFR 1615, 1616); elsewhere ask "
    "your authority"
)
_SIGN_OFF = (
    "read the rule; where the garment keeps to it, sign it off with a waiver whose reason says how (the caution is "
    "printed all the same)"
)


@CHECKS.register(
    id="safety",
    title="What is dangerous to a child is signed off by a human",
    rationale="Cords strangle, small parts choke, light cloth burns; the law rules what children wear.",
    remedy=_SIGN_OFF,
    severity="block",
    source=(
        "16 CFR 1120 and ASTM F1816, EN 14682 as told by the Finnish authority (cords); 16 CFR 1501.4 (small parts); "
        "16 CFR 1615, 1616 (sleepwear)"
    ),
)
def safety(garment: Garment) -> Iterator[Outcome]:
    """Cords, small parts and sleepwear that a child or baby wears; strips and notions that do not say."""
    pattern = garment.pattern
    if pattern.wearer == "adult":
        return
    for place in cords(pattern):
        yield _danger("cord", place, "a cord, tie, drawstring or sash", _CORD, pattern.wearer)
    for place in small_parts(pattern):
        yield _danger("small-part", place, "a part that could be swallowed", _SMALL_PART, pattern.wearer)
    if pattern.sleepwear:
        yield _danger("sleepwear", PATTERN, "sleepwear", _SLEEPWEAR, pattern.wearer)
    for name, strip in pattern.strips.items():
        if strip.cord is None:
            yield _unsaid(f"strips.{name}", ["cord"])
    for name, notion in pattern.notions.items():
        keys = {"cord": notion.cord, "small_part": notion.small_part}
        if missing := [key for key, said in keys.items() if said is None]:
            yield _unsaid(f"notions.{name}", missing)


def _danger(code: str, place: str, what: str, rule: str, wearer: str) -> Outcome:
    is_piece = "." not in place and place != PATTERN
    return Outcome(
        code=code,
        piece=place if is_piece else None,
        where=None if is_piece else place,
        file="pattern.toml",
        object=f"pieces.{place}" if is_piece else place,
        found=what,
        allowed=rule,
        message=f"a {wearer}'s pattern has {what}: {place}",
    )


def _unsaid(place: str, keys: list[str]) -> Outcome:
    text = " and ".join(f"{key} = true or false" for key in keys)
    return Outcome(
        code="not-said",
        where=place,
        file="pattern.toml",
        object=place,
        found=f"nothing of {' and '.join(keys)}",
        allowed=text,
        message=f"{place} does not say whether it is a {' or a '.join(key.replace('_', ' ') for key in keys)}",
        remedy=f"write {text} in [{place}]",
    )

"""The small pattern with a booklet, and what its checks find."""

from collections.abc import Mapping

import msgspec

from pipeline.booklet.checks import check_booklet
from pipeline.booklet.model import Model
from pipeline.masters.toml.sums import parse_sum
from pipeline.model.findings import Finding
from pipeline.model.pattern import FinishedMeasure, Notion, Pattern, Strip, View
from tests.checks import apron

BUTTON = Notion(name="button", title={"en": "Buttons", "de": "Knöpfe"}, count={"S": 2, "M": 2})
ELASTIC = Notion(
    name="elastic",
    title={"en": "Elastic", "de": "Gummiband"},
    length={"S": parse_sum("70 cm"), "M": parse_sum("74 cm")},
)
TIE = Strip(
    name="tie",
    title={"en": "Tie", "de": "Band"},
    cut=apron.counted("shell", 2),
    width_mm=25.0,
    make="doubled",
    length=parse_sum("83 cm"),
    allowance_mm=10.0,
)
LONG = View("long", {"en": "Long", "de": "Lang"})
GOOD = """# Sew

1. Join {{ seam waist }} of {{ piece skirt }} and {{ piece band }}.
2. Press the hem up by {{ allowance skirt.hem }}, sew on {{ strip tie }}, {{ notion button }} and {{ notion elastic }}.
"""
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10mm" viewBox="0 0 20 10"/>'


def pattern(**said: object) -> Pattern:
    """The apron with two ties, buttons and elastic."""
    whole = {"strips": {"tie": TIE}, "notions": {"button": BUTTON, "elastic": ELASTIC}, "views": {"long": LONG}, **said}
    return msgspec.structs.replace(apron.pattern(), **whole)


def model(language: str = "en", **said: object) -> Model:
    return Model(pattern(**said), apron.cuts(), language)


def finished(name: str, total: str) -> FinishedMeasure:
    return FinishedMeasure(name=name, title={"en": name, "de": name}, sum=parse_sum(total))


def files(en: str = GOOD, de: str | None = GOOD, **others: bytes) -> dict[str, bytes]:
    """A booklet's files; `figures__x` is figures/x.svg."""
    texts = {"booklet/en.md": en.encode()} | ({} if de is None else {"booklet/de.md": de.encode()})
    return texts | {f"booklet/{name.replace('__', '/')}.svg": data for name, data in others.items()}


def findings(written: Mapping[str, bytes], made: Pattern | None = None) -> tuple[Finding, ...]:
    return check_booklet(made or pattern(), apron.cuts(), written)


def codes(check: str, written: Mapping[str, bytes], made: Pattern | None = None) -> list[tuple[str, str, str | None]]:
    """(code, severity, file and line) of what a check finds."""
    return [
        (one.code, one.severity, f"{one.file}, {one.object}" if one.object else one.file)
        for one in findings(written, made)
        if one.check == check
    ]


def one_line(text: str) -> str:
    """What is read back of a PDF, with blanks of one kind and without the marks of parted words."""
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").replace("\ufffe", "").split())

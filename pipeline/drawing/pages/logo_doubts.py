"""What of a designer's logo would not be seen on start pages, told before anything is drawn."""

from collections.abc import Iterator
from itertools import product

from pipeline.drawing.pages.doubts import APART, page_name, two_pages
from pipeline.drawing.pages.logo import LEAST_CONTRAST, too_fine, unseen_parts
from pipeline.drawing.pages.start import logo_place
from pipeline.drawing.styles import HAIRLINE_MM
from pipeline.masters.copied import LOGO
from pipeline.masters.stages import OF_LOGO
from pipeline.model.findings import Finding
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.questions import spoken
from pipeline.sheets.papers import PAPERS


def logo_findings(pattern: Pattern, logo: Logo) -> Iterator[Finding]:
    """What of a logo would not be seen, and a finding for each paper on whose start pages it has no room."""
    for own, ground, found in unseen_parts(logo, pattern.print.black):
        without = " printed without colour" if pattern.print.black else ""
        yield _of_logo(
            pattern,
            "too-pale",
            f"What is {own} in the logo does not stand out from {ground}, on which it lies,{without or ' on paper'}.",
            "Take a darker colour, or draw the logo anew for printing.",
            f"{found:.1f}:1",
            f"at least {LEAST_CONTRAST:.0f}:1",
        )
    if too_fine(logo):
        message = f"The logo's finest stroke would be thinner than {HAIRLINE_MM:.2f} mm on paper."
        yield _of_logo(pattern, "too-fine", message, "Draw it wider.", "a thinner stroke", "0.25 pt or more")
    views = [tuple(pattern.views), *((view,) for view in pattern.views if len(pattern.views) > 1)]
    alone = [(size,) for size in pattern.sizes if pattern.print.by_size]
    for speaking, name in product(spoken(pattern).values(), pattern.print.formats):
        if (paper := PAPERS.get(name)) is None or paper.kind != "tiled":
            continue
        plans = (two_pages(speaking, paper, shown) for shown in views)
        parts = ((plan, sizes) for plan in plans for sizes in (pattern.sizes, *alone))
        if any(logo_place(speaking, plan, sizes, logo) is None for plan, sizes in parts):
            yield _of_logo(
                pattern,
                "no-room",
                f"{page_name(paper)} has no room for the logo beside its title, and goes without it.",
                f"Shorten the longest of title, maker and titles of sizes and views, or {APART}.",
                in_language(pattern.title, pattern.languages[0]),
                "a title that leaves room",
            )


def _of_logo(pattern: Pattern, code: str, message: str, remedy: str, found: str, allowed: str) -> Finding:
    return Finding(
        check=OF_LOGO.id,
        code=code,
        severity="warn",
        pattern=pattern.name,
        file=LOGO,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

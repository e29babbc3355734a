"""Numbers have the decimal sign of whoever reads them, wherever a page prints one."""

import re
from collections.abc import Iterable

import msgspec
import pytest

from pipeline.drawing.pages.calibration import calibration_page
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.start import start_page
from pipeline.tables.cloth import cloth_lines
from pipeline.tables.cloth_page import cloth_pages
from pipeline.words import own_languages, say
from tests.drawing.seen import contents
from tests.lays.samples import pattern as cloth_pattern
from tests.press import synthetic
from tests.press.test_start_page import plan_of
from tests.tables.test_cloth import chosen

_NUMBER = re.compile(r"(?<![\d.])\d+([.,])\d+(?![\d.])")


def signs(texts: Iterable[str]) -> set[str]:
    """The decimal signs of all numbers, versions (1.2.0) and lists of sizes (36, 38) apart."""
    return {found for text in texts for found in _NUMBER.findall(text)}


@pytest.mark.parametrize("language", own_languages())
def test_pages_that_tell_measures(language: str) -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=(language,))
    plan = plan_of("a4", pattern.sizes)
    pages = [
        start_page(pattern, plan, pattern.sizes, (), synthetic.SIGNS),
        large_pages(pattern, synthetic.large_sheet(synthetic.sheet()[0]), pattern.sizes, (), (), "a0.pdf")[1],
        calibration_page(pattern),
    ]
    for page in pages:
        assert signs(contents(page)) == {say(language, "number.decimal")}


@pytest.mark.parametrize("language", own_languages())
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_page_of_cloth(language: str, units: str) -> None:
    made = msgspec.structs.replace(cloth_pattern(), units=units)
    lines = cloth_lines(made, [chosen("38", 1630, width_mm=1143.0)])
    assert signs(contents(cloth_pages(made, lines, language)[0])) == {say(language, "number.decimal")}

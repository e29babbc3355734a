"""The page that stands for changed pages where there are none."""

from pipeline.correction.sheet import Flow
from pipeline.drawing.panels.words import in_all
from pipeline.ledger.changes import ChangesFile
from pipeline.model.pattern import Pattern
from pipeline.press.imprint import imprint_of
from pipeline.press.plain import plain_pages
from pipeline.sheets.papers import PAPERS
from pipeline.words import say

_PAGE = PAPERS["a4"]


def nothing_to_print(pattern: Pattern, changes: ChangesFile, paper: str) -> bytes:
    """A PDF of one page, in all languages of the pattern."""
    flow = Flow(_PAGE.width_mm, _PAGE.height_mm)
    flow.text(in_all(pattern.title, pattern.languages), 6.0, bold=True)
    for language in pattern.languages:
        flow.gap()
        flow.text(say(language, "correction.title", since=changes.since, version=changes.version), bold=True)
        flow.text(say(language, "correction.pages-none"))
    title = say(pattern.languages[0], "correction.title", since=changes.since, version=changes.version)
    return plain_pages(flow.pages, flow.page_mm, imprint_of(pattern, paper, title))

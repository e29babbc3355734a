"""Which page of which file a page is: of the whole, or of the pages that changed and are printed again by themselves.

Labels, rows and columns are those of the whole in both, so that a page printed again fits between its neighbours.
"""

from pipeline.drawing.panels.words import SEPARATOR, Languages
from pipeline.sheets.layout import Page, PagePlan
from pipeline.sheets.papers import PAPERS
from pipeline.words import say, say_all


def page_words(plan: PagePlan, page: Page, languages: Languages) -> str:
    """ "Page 3 of 24", or "Reprint 2 of 5", of a tile in several languages."""
    if plan.again:
        return _again(plan, page, languages)
    return say_all(languages, "page.number", SEPARATOR, number=page.number, count=len(plan.pages))


def page_count_words(plan: PagePlan, languages: Languages) -> str:
    """ "24 pages", or "Reprint: 5 of 24 pages", of tiles in several languages."""
    count = len(plan.pages)
    if plan.again:
        return say_all(languages, "page.again-count", SEPARATOR, again=len(plan.again), count=count)
    return say_all(languages, "page.count" if count > 1 else "page.count-one", SEPARATOR, count=count)


def sheet_words(plan: PagePlan, page: Page, languages: Languages) -> str:
    """ "Sheet 2 of 3", of a roll "The whole roll" or "Roll, part 2 of 3"; before it "Reprint 1 of 1" where it is."""
    count = len(plan.pages)
    if PAPERS[plan.format].kind != "roll":
        told = say_all(languages, "large.sheet", SEPARATOR, number=page.number, count=count)
    elif count == 1:
        told = say_all(languages, "large.roll", SEPARATOR)
    else:
        told = say_all(languages, "large.roll-part", SEPARATOR, number=page.number, count=count)
    return f"{_again(plan, page, languages)} · {told}" if plan.again else told


def sheet_count_words(plan: PagePlan, sheet: str, language: str) -> str:
    """How many large sheets there are to print, each as large as `sheet` says; a reprint of all is the whole again."""
    count, again = len(plan.pages), len(plan.again)
    if 0 < again < count:
        return say(language, "large.again-count", again=again, count=count, sheet=sheet)
    return say(language, "large.count-one" if count == 1 else "large.count", count=count, sheet=sheet)


def _again(plan: PagePlan, page: Page, languages: Languages) -> str:
    number = plan.again.index(page.label) + 1
    return say_all(languages, "page.again", SEPARATOR, number=number, count=len(plan.again))

"""Page numbers as print dialogues take them."""

from collections.abc import Iterable

from pipeline.sheets.layout import PagePlan


def page_ranges(numbers: Iterable[int]) -> str:
    """ "1, 3-5" for 1, 3, 4, 5: rising, each number once, three or more in a row as a range, and two as two."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(_run(run) for run in runs)


def _run(run: list[int]) -> str:
    return f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(str(number) for number in run)


def pages_of_size(plan: PagePlan, size: str) -> tuple[int, ...]:
    """The numbers of all pages that a size needs, the start page among them."""
    return tuple(page.number for page in plan.pages if size in page.sizes)


def pages_of_view(plan: PagePlan, view: str) -> tuple[int, ...]:
    """The numbers of all pages that a view needs, the start page among them."""
    return tuple(page.number for page in plan.pages if view in page.views)

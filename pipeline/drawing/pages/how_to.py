"""The texts of the start page: how to print, how to join, what to beware of."""

from pipeline.drawing.pages.join_picture import HEIGHT_MM, join_picture
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.squares import measure_text, wrong_scales
from pipeline.drawing.panels.words import SEPARATOR, Languages, care_texts, in_all
from pipeline.drawing.wording import in_decimals, length_words, told_of
from pipeline.model.pattern import Pattern, Units
from pipeline.sheets.layout import PagePlan
from pipeline.words import say, say_all


def how_to_print(column: Column, plan: PagePlan, languages: Languages, units: Units = "metric") -> None:
    """What to set in the print dialogue, and what a wrong measure of the square tells."""
    by_word: dict[str, list[str]] = {}
    for scale in wrong_scales(plan.page_width_mm, plan.page_height_mm, units):
        by_word.setdefault(scale.word, []).append(measure_text(scale.measure_mm, units))
    for number, language in enumerate(languages):
        if number:
            column.gap(0.6)
        column.heading(say(language, "start.print-head"))
        column.text(say(language, "start.print"))
        column.gap(0.3)
        column.text(say(language, "start.measures"))
        for word, measures in by_word.items():
            shown = in_decimals(language, SEPARATOR.join(measures))
            column.text(told_of(language, shown, say(language, word)), indent_mm=2)


def join_heading(column: Column, languages: Languages) -> None:
    """What is over the texts and the picture of a joint."""
    column.heading(say_all(languages, "start.join-head", SEPARATOR))


def join_sketch(column: Column) -> None:
    """A picture of a joint."""
    column.body += join_picture(column.left, column.y, column.width_mm)
    column.y += HEIGHT_MM


def join_words(column: Column, pattern: Pattern, plan: PagePlan, languages: Languages) -> None:
    """What to do at a joint."""
    for number, language in enumerate(languages):
        if number:
            column.gap(0.4)
        column.text(_join_text(pattern, plan, language))


def _join_text(pattern: Pattern, plan: PagePlan, language: str) -> str:
    if plan.overlap_mm:
        return say(language, "start.join-overlap", overlap=length_words(language, plan.overlap_mm, pattern.units))
    return say(language, "start.join")


def care_and_licence(column: Column, pattern: Pattern, languages: Languages) -> None:
    """What to beware of, the licence, where buyers turn to, and where else the designer is found."""
    for language in languages:
        for caution in care_texts(pattern, language):
            column.text(caution)
        column.gap(0.3)
    column.text(in_all(pattern.licence, languages))
    column.text(in_all(pattern.contact, languages))
    for line in pattern.style.contact_lines:
        column.text(line)

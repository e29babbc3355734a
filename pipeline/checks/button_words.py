"""Which buttons a notion means, by the words of its name and of what it is called."""

import re
from collections.abc import Iterable, Sequence
from typing import Literal

from pipeline.checks.button_marks import button_marks
from pipeline.checks.garment import Garment
from pipeline.model.pattern import Notion
from pipeline.model.piece_specs import Texts
from pipeline.model.questions import in_view

_BUTTON = re.compile(r"button|knopf|knöpf|bouton|bot[oó]n|knoop|knop|knapp|snap|stud|popper|toggle", re.IGNORECASE)
_LEAST_LETTERS = 3
_ENDING_LETTERS = 2
"""So much longer or shorter the word for one of them may be than that for several."""

Place = Literal["here", "marked", "elsewhere", "anywhere"]
"""On these pieces, at buttons that are marked elsewhere, at another piece or strip, or not said."""


def are_buttons(notion: Notion) -> bool:
    """Whether a notion can be buttons, or what does their work."""
    return any(map(_BUTTON.search, (notion.name, *notion.title.values())))


def place_of(garment: Garment, notion: Notion, pieces: Sequence[str], view: str | None, size: str) -> Place:
    """Where a notion belongs, seen from the pieces of a row.

    Its name counts first: a word of another piece, strip or button in it. Then a word for these pieces in what it is
    called, then one for other pieces that have buttons.
    """
    pattern = garment.pattern
    here = {word for piece in pieces for word in piece.split("-")}
    there = {word for name in (*pattern.pieces, *pattern.strips) for word in name.split("-")} - here
    others, marks = _marked_elsewhere(garment, pieces, view, size)
    called, named = _words(notion.title), {word for word in notion.name.split("-") if not _BUTTON.search(word)}
    if named & (there | marks):
        return (
            "marked" if named & ({word for name in others for word in name.split("-")} - here | marks) else "elsewhere"
        )
    here |= _titles(garment, pieces)
    if _are_alike(called | named, here):
        return "here"
    at_others = {word for name in others for word in name.split("-")} | _titles(garment, others) | marks
    return "marked" if _are_alike(called, at_others - here) else "anywhere"


def _marked_elsewhere(
    garment: Garment, pieces: Sequence[str], view: str | None, size: str
) -> tuple[tuple[str, ...], set[str]]:
    """Other pieces that have buttons, and what the names of buttons say besides their number: "belt"."""
    marks = [m for m in button_marks(garment, size) if in_view(garment.pattern.pieces[m.piece].views, view)]
    others = tuple(dict.fromkeys(mark.piece for mark in marks if mark.piece not in pieces))
    return others, {word for mark in marks for word in mark.rest if not word.isdecimal()}


def _titles(garment: Garment, pieces: Iterable[str]) -> set[str]:
    return {word for piece in pieces for word in _words(garment.pattern.pieces[piece].title)}


def _words(texts: Texts) -> set[str]:
    """The words of a text in all its languages, but for short ones and those for buttons."""
    words = (word.casefold() for text in texts.values() for word in re.findall(r"[^\W\d_]+", text))
    return {word for word in words if len(word) >= _LEAST_LETTERS and not _BUTTON.search(word)}


def _are_alike(words: Iterable[str], others: Iterable[str]) -> bool:
    """Whether a word is in both, be it for one or for several: "flap" and "flaps"."""
    known = [other for other in others if len(other) >= _LEAST_LETTERS]
    return any(_is_alike(*sorted((word, other), key=len)) for word in words for other in known)


def _is_alike(short: str, long: str) -> bool:
    return len(short) >= _LEAST_LETTERS and long.startswith(short) and len(long) - len(short) <= _ENDING_LETTERS

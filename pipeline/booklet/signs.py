"""The signs on pieces as a booklet shows them: as files of several sizes draw them, and as a file of one size does."""

from collections.abc import Collection, Iterator
from typing import NamedTuple

from pipeline.drawing.nest.marks import point_inks
from pipeline.drawing.nest.one_size import nest_points
from pipeline.drawing.panels.marks_key import ALL_SIGNS, sign_picture
from pipeline.drawing.scene import Scene
from pipeline.drawing.size_codes import size_codes
from pipeline.drawing.styles import plain
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts

_POINTS = ("point", "point-small")
_BETWEEN = "blend"
"""What stands between two sizes, and in no file of one."""


class Sign(NamedTuple):
    """What `start.sign-…` says of a sign, and its picture in either kind of file; None where it is in none."""

    meaning: str
    several: Scene | None
    one: Scene | None


def shown_signs_of(pattern: Pattern, cuts: Cuts, signs: Collection[str]) -> tuple[Sign, ...]:
    """The rows for a pattern whose file of all sizes shows `signs`, in the order of the key.

    Where all files show all rows alike, only `several` is there: where there is one size, or no file of one.
    """
    many = len(pattern.sizes) > 1
    if not (many and pattern.print.by_size):
        forms = _forms(signs)
        return tuple(
            Sign(sign, sign_picture(forms[sign], many, pattern.style), None) for sign in ALL_SIGNS if sign in forms
        )
    several, one = _forms(signs), _forms(signs_of_one(pattern, cuts, signs))
    rows = tuple(
        Sign(
            sign,
            sign_picture(several[sign], True, pattern.style) if sign in several else None,
            sign_picture(one[sign], False, pattern.style) if sign in one else None,
        )
        for sign in ALL_SIGNS
        if sign in several or sign in one
    )
    return tuple(row._replace(one=None) for row in rows) if all(row.several == row.one for row in rows) else rows


def signs_of_one(pattern: Pattern, cuts: Cuts, signs: Collection[str]) -> frozenset[str]:
    """The signs that files of one size show, where that of all sizes shows `signs`: points lie farther apart there."""
    points = {sign for sign in _points(pattern, cuts) if sign in _POINTS}
    return frozenset(sign for sign in signs if sign not in (*_POINTS, _BETWEEN)) | points


def _points(pattern: Pattern, cuts: Cuts) -> Iterator[str]:
    """The signs of all points, each size drawn alone."""
    for by_size in cuts.values():
        for size, cut in by_size.items():
            spots = point_inks({size: nest_points(cut)}, size_codes(pattern, (size,)), plain(pattern.style))
            yield from (spot.ink.sign for spot in spots)


def _forms(signs: Collection[str]) -> dict[str, str]:
    """The form in which each meaning is drawn: where no point has its circle, a small cross is how points are shown."""
    forms = {sign: sign for sign in signs}
    if "point-small" in forms and "point" not in forms:
        forms["point"] = forms.pop("point-small")
    return forms

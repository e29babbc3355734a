"""A count of marks on pieces, as `pattern.toml` writes it: "marks front.button + 2 x collar-stand.button + 1"."""

import re

import msgspec


class MarkTerm(msgspec.Struct, frozen=True):
    """One term of a count of marks: factor x the points of that name on a piece, the numbered ones too; without a
    piece so many more. The factor carries the sign."""

    factor: int
    piece: str | None = None
    name: str = ""


class MarkSum(msgspec.Struct, frozen=True):
    """A count of marks as written, and its terms."""

    text: str
    terms: tuple[MarkTerm, ...]

    @property
    def named(self) -> tuple[tuple[str, str], ...]:
        """The pieces with the marks that are counted there."""
        return tuple((term.piece, term.name) for term in self.terms if term.piece is not None)


def is_called(point: str | None, name: str) -> bool:
    """Whether a point is meant by a name: "button" means `button`, and `button-1` and on."""
    return point is not None and re.fullmatch(rf"{re.escape(name)}(-\d+)?", point) is not None

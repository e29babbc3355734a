"""The small languages inside texts of `pattern.toml`: sums, ranges, eases, references and sides of seams."""

import re

from pipeline.model.lengths import LENGTH_HINT, parse_length
from pipeline.model.mark_sums import MarkSum, MarkTerm
from pipeline.model.pattern import Range, Reference, SideEdge, Sum, Term
from pipeline.model.piece_specs import EdgePart

LONGEST_MM = 100_000.0
"""No length of a pattern reaches 100 m."""
LARGEST_FACTOR = 1000.0

_NAME = "[A-Za-z0-9_-]{1,40}"
_PART = rf"(?:\s*\[\s*(?P<start>{_NAME})\s*\.\.\s*(?P<end>{_NAME})\s*\])?"
_REFERENCE = re.compile(rf"(?P<piece>{_NAME})\.(?P<line>{_NAME}){_PART}(?P<gross>\s+gross)?")
_SIDE = re.compile(rf"(?P<turned>!?)\s*(?P<piece>{_NAME})\.(?P<edge>{_NAME}){_PART}")
_OPERATOR = re.compile(r"\s+([+-])\s+")
_FACTOR = re.compile(r"(?P<number>[0-9]{1,6}(?:\.[0-9]{1,9})?)\s+x\s+(?P<of>.+)")
LONGEST_SUM = 500
_MARKS = re.compile(r"marks\s+(?P<terms>.+)")
_MARK = re.compile(
    rf"(?:(?P<factor>[0-9]{{1,3}})\s+x\s+)?(?:(?P<piece>{_NAME})\.(?P<name>{_NAME})|(?P<more>[0-9]{{1,3}}))"
)
_MARKS_HINT = (
    'a number without quotes, or marks as "marks front.button" or "marks front.button + 2 x collar.button + 1"; " + ",'
    ' " - " and " x " between spaces'
)
_PERCENT = re.compile(r"(?P<sign>-?)\s*(?P<number>[0-9]{1,4}(?:\.[0-9]{1,6})?)\s*%")


class GrammarError(ValueError):
    """A text that is none of these languages' sentences: what stands there, and what was expected."""

    def __init__(self, found: str, expected: str, code: str) -> None:
        super().__init__(f"found {found!r}, expected {expected}")
        self.found = found
        self.expected = expected
        self.code = code


def parse_sum(text: str) -> Sum:
    """`term { (" + " | " - ") term }`, a term `[number " x "] (length | reference)`. Raises GrammarError."""
    if len(text) > LONGEST_SUM:
        raise GrammarError(f"{len(text):,} characters", f"a sum of up to {LONGEST_SUM} characters", "bad-sum")
    parts = _OPERATOR.split(text.strip())
    signs = ["+", *parts[1::2]]
    return Sum(text.strip(), tuple(_term(part, sign) for sign, part in zip(signs, parts[::2], strict=True)))


def _term(text: str, sign: str) -> Term:
    factor, of = 1.0, text
    if match := _FACTOR.fullmatch(text):
        factor, of = float(match["number"]), match["of"].strip()
        if factor > LARGEST_FACTOR:
            raise GrammarError(text, f"a factor up to {LARGEST_FACTOR:g}", "bad-sum")
    signed = -factor if sign == "-" else factor
    try:
        length_mm = parse_length(of)
    except (ValueError, OverflowError):
        return Term(signed, _reference(of))
    if of.startswith("-"):
        raise GrammarError(text, 'a length without a sign; subtract with " - "', "bad-sum")
    if length_mm > LONGEST_MM:
        raise GrammarError(text, "a length up to 100 m", "bad-sum")
    return Term(signed, length_mm)


def _reference(text: str) -> Reference:
    match = _REFERENCE.fullmatch(text)
    if match is None:
        expected = (
            f'{LENGTH_HINT}; or "piece.edge", "piece.edge[from..to]", "piece.edge gross" or "body.name"; " + ", " - "'
            ' and " x " between spaces'
        )
        raise GrammarError(text, expected, "bad-sum")
    if match["piece"] == "body" and match["gross"]:
        raise GrammarError(text, 'a body measure without "gross"', "bad-sum")
    part = _part(text, match, "bad-sum")
    if match["piece"] == "body" and part is not None:
        raise GrammarError(text, "a body measure as a whole: parts are of edges", "bad-sum")
    return Reference(match["piece"], match["line"], match["gross"] is not None, part)


def parse_marks(text: str) -> MarkSum:
    """`"marks " term { (" + " | " - ") term }`, a term `[whole number " x "] (piece.point | whole number)`.

    Raises GrammarError.
    """
    if len(text) > LONGEST_SUM:
        raise GrammarError(f"{len(text):,} characters", f"a count of up to {LONGEST_SUM} characters", "bad-count")
    match = _MARKS.fullmatch(text.strip())
    if match is None:
        raise GrammarError(text, _MARKS_HINT, "bad-count")
    parts = _OPERATOR.split(match["terms"])
    signs = ["+", *parts[1::2]]
    total = MarkSum(text.strip(), tuple(_marks(part, sign) for sign, part in zip(signs, parts[::2], strict=True)))
    if not total.named:
        raise GrammarError(text, "the marks of a piece, or a number without quotes", "bad-count")
    return total


def _marks(text: str, sign: str) -> MarkTerm:
    match = _MARK.fullmatch(text)
    if match is None:
        raise GrammarError(text, _MARKS_HINT, "bad-count")
    factor = int(match["factor"] or 1) * int(match["more"] or 1)
    return MarkTerm(-factor if sign == "-" else factor, match["piece"], match["name"] or "")


def _part(text: str, match: re.Match[str], code: str) -> EdgePart | None:
    """The part that is named behind an edge; None where the edge is meant as a whole. Raises GrammarError."""
    if match["start"] is None:
        return None
    if match["start"] == match["end"]:
        raise GrammarError(text, "a part between two places", code)
    return EdgePart(match["start"], match["end"])


def parse_range(text: str, percent: bool) -> Range:
    """`low .. high`, or one value for both ends; percentages where `percent`. mm and fractions. Raises GrammarError."""
    parts = text.split("..")
    if len(parts) > 2:
        raise GrammarError(text, 'one value, or two with " .. " between them', "bad-range")
    ends = [_end(part.strip(), percent) for part in parts]
    (low, low_share), (high, high_share) = ends[0], ends[-1]
    if low_share != high_share:
        raise GrammarError(text, "two lengths or two percentages", "bad-range")
    if low > high:
        raise GrammarError(text, "the lower end first", "range-order")
    return Range(low, high, low_share)


def _end(text: str, percent: bool) -> tuple[float, bool]:
    if percent and (match := _PERCENT.fullmatch(text)):
        return float(match["sign"] + match["number"]) / 100, True
    expected = f'{LENGTH_HINT}, or a percentage, as "5 %"' if percent else LENGTH_HINT
    try:
        length_mm = parse_length(text)
    except (ValueError, OverflowError):
        raise GrammarError(text, expected, "bad-range") from None
    if abs(length_mm) > LONGEST_MM:
        raise GrammarError(text, "a length up to 100 m", "bad-range")
    return length_mm, False


def parse_side(text: str) -> SideEdge:
    """`piece.edge`, with a leading `!` where it is turned by hand, or `piece.edge[from..to]`. Raises GrammarError."""
    match = _SIDE.fullmatch(text.strip())
    if match is None:
        expected = 'an edge of a piece, as "front.side" or "!front.side", or a part of one, as "front.side[hem..knee]"'
        raise GrammarError(text, expected, "bad-side")
    part = _part(text, match, "bad-side")
    if part is not None and match["turned"]:
        raise GrammarError(text, "a part without !: it runs from its first place to its second", "bad-side")
    return SideEdge(match["piece"], match["edge"], bool(match["turned"]), part)

"""The grammar of sums, ranges and sides, and what sums come to in a size."""

import contextlib
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.masters.toml.sums import GrammarError, parse_marks, parse_range, parse_side, parse_sum
from pipeline.model.mark_sums import MarkTerm
from pipeline.model.pattern import Range, Reference, SideEdge, Sum, Term
from pipeline.model.piece_specs import EdgePart
from pipeline.model.sums import sum_mm

NAMES = st.from_regex(r"[A-Za-z_-][A-Za-z0-9_-]{0,39}", fullmatch=True)
HUNDREDTHS = st.integers(0, 99999).map(lambda number: (f"{number // 100}.{number % 100:02d}", Fraction(number, 100)))
UNITS = st.sampled_from([("mm", Fraction(1)), ("cm", Fraction(10)), ("m", Fraction(1000)), ("in", Fraction(254, 10))])


@st.composite
def terms(draw: st.DrawFn) -> tuple[str, Fraction]:
    """A term without references, and what it comes to."""
    text, number = draw(HUNDREDTHS)
    unit, per_unit = draw(UNITS.filter(lambda unit: number * unit[1] <= 100_000))
    if draw(st.booleans()):
        factor = draw(st.integers(0, 999))
        return f"{factor} x {text} {unit}", factor * number * per_unit
    return f"{text} {unit}", number * per_unit


@given(first=terms(), rest=st.lists(st.tuples(st.sampled_from("+-"), terms()), max_size=5))
def test_a_sum_of_lengths_comes_to_what_fractions_say(
    first: tuple[str, Fraction], rest: list[tuple[str, tuple[str, Fraction]]]
) -> None:
    text = first[0] + "".join(f" {sign} {term}" for sign, (term, _) in rest)
    exact = first[1] + sum(number if sign == "+" else -number for sign, (_, number) in rest)
    assert sum_mm(parse_sum(text), lambda reference: None) == pytest.approx(float(exact), abs=1e-5)


@given(piece=NAMES.filter(lambda name: name != "body"), line=NAMES, gross=st.booleans())
def test_a_reference_is_a_piece_and_a_line(piece: str, line: str, gross: bool) -> None:
    text = f"{piece}.{line}{' gross' if gross else ''}"
    assert parse_sum(text).terms == (Term(1, Reference(piece, line, gross)),)
    assert parse_sum(f"9 cm - 2.5 x {text}").terms == (Term(1, 90), Term(-2.5, Reference(piece, line, gross)))


@given(
    piece=NAMES.filter(lambda name: name != "body"),
    line=NAMES,
    ends=st.lists(NAMES, min_size=2, max_size=2, unique=True),
)
def test_a_reference_may_be_a_part_of_an_edge_as_in_seams(piece: str, line: str, ends: list[str]) -> None:
    text, part = f"{piece}.{line}[{ends[0]}..{ends[1]}]", EdgePart(*ends)
    assert parse_sum(text).terms == (Term(1, Reference(piece, line, part=part)),)
    assert parse_sum(f"9 cm - 2 x {text} gross").terms[1] == Term(-2, Reference(piece, line, True, part))
    assert parse_side(text).part == part


@pytest.mark.parametrize(
    "text", ["a.b[c]", "a.b[c..c]", "a.b[c..d", "a.b gross[c..d]", "body.waist[c..d]", "!a.b[c..d]"]
)
def test_what_is_no_part_of_an_edge_in_a_sum(text: str) -> None:
    with pytest.raises(GrammarError):
        parse_sum(text)


@given(st.text(alphabet="ab.0123456789 +-x%mc!/[]", max_size=30))
def test_any_other_text_is_a_grammar_error_and_nothing_else(text: str) -> None:
    for parse in (parse_sum, parse_side, lambda text: parse_range(text, percent=True)):
        with contextlib.suppress(GrammarError):
            parse(text)


@pytest.mark.parametrize(
    "text", ["", "+ 1 cm", "1 cm +", "1 cm + + 1 cm", "2x1 cm", "2 x", "(1 cm)", "a", "a.b.c", "a.b Gross", "1 cm-1 cm"]
)
def test_what_is_no_sum(text: str) -> None:
    with pytest.raises(GrammarError):
        parse_sum(text)


def test_limits_of_a_sum() -> None:
    for text in ("100.1 m", "1000.1 x 1 cm"):
        with pytest.raises(GrammarError, match="up to"):
            parse_sum(text)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("20 mm .. 40 mm", Range(20, 40)),
        ("20mm..4cm", Range(20, 40)),
        ("-1/4 in .. 0 mm", Range(-6.35, 0)),
        ("3 mm", Range(3, 3)),
        ("5 % .. 10 %", Range(0.05, 0.1, percent=True)),
        ("-2.5 %", Range(-0.025, -0.025, percent=True)),
    ],
)
def test_ranges(text: str, read: Range) -> None:
    assert parse_range(text, percent=True) == read


@pytest.mark.parametrize(
    ("text", "code"), [("4 cm .. 20 mm", "range-order"), ("1 .. 2", "bad-range"), ("1 mm .. 2 mm .. 3 mm", "bad-range")]
)
def test_what_is_no_range(text: str, code: str) -> None:
    with pytest.raises(GrammarError) as caught:
        parse_range(text, percent=True)
    assert caught.value.code == code


def test_a_side_names_an_edge_and_may_turn_it() -> None:
    assert parse_side("front.side") == SideEdge("front", "side")
    assert parse_side("!front.side") == SideEdge("front", "side", turned=True)


def test_a_sum_without_one_of_its_lengths_is_none() -> None:
    total = Sum("", (Term(2, Reference("front", "side")), Term(-1, 5.0), Term(0.5, Reference("body", "bust"))))
    lengths = {"front": 300.0, "body": 800.0}
    assert sum_mm(total, lambda reference: lengths[reference.piece]) == 2 * 300 - 5 + 400
    assert sum_mm(total, lambda reference: None if reference.piece == "body" else 300.0) is None


def test_a_count_of_marks_is_a_sum_of_points_and_whole_numbers() -> None:
    total = parse_marks(" marks front.button + 2 x collar-stand.button-1  -  3 + 2 x 2 ")
    assert total.text == "marks front.button + 2 x collar-stand.button-1  -  3 + 2 x 2"
    assert total.terms == (
        MarkTerm(1, "front", "button"),
        MarkTerm(2, "collar-stand", "button-1"),
        MarkTerm(-3),
        MarkTerm(4),
    )
    assert total.named == (("front", "button"), ("collar-stand", "button-1"))


@pytest.mark.parametrize(
    "text",
    [
        *("", "6", "marks", "marks 6", "front.button", "marksfront.button", "marks front", "marks front.button+1"),
        *("marks front.a.b", "marks 1.5 x front.button", "marks front.button 2", "marks front.button + 1 cm"),
        *("marks !a.b", "marks " + " + ".join(["front.button"] * 60)),
    ],
)
def test_no_other_count_of_marks_is_read(text: str) -> None:
    with pytest.raises(GrammarError) as told:
        parse_marks(text)
    assert told.value.code == "bad-count"

"""Lines and points have names: the designer's, that of the piece that is sewn on, or the usual one."""

from collections import Counter

import msgspec
import pytest

from pipeline.drawing.piece.mark_names import line_words, point_words
from pipeline.model.pattern import Pattern, Strip, Sum, Term
from pipeline.model.piece_specs import MarkSpec, PieceSpec
from tests.drawing.demo_nests import demo, nested, projected
from tests.drawing.seen import texts
from tests.press import synthetic

BOTH = ("en", "de")


def pattern(**front: object) -> Pattern:
    """A front with what is said of it, its fusing, and a pouch and a loop that are sewn on."""
    titles = {"front": ("Front", "Vorderteil"), "pouch": ("Pouch", "Beutel"), "front-fusing": ("Fusing", "Einlage")}
    pieces = {
        name: PieceSpec(name=name, title=dict(zip(BOTH, title, strict=True)), number=number, sizes=synthetic.SIZES)
        for number, (name, title) in enumerate(titles.items(), 1)
    }
    pieces["front"] = msgspec.structs.replace(pieces["front"], **front)
    pieces["front-fusing"] = msgspec.structs.replace(pieces["front-fusing"], source="front")
    length = Sum("6 cm", (Term(1.0, 60.0),))
    loop = Strip(name="loop", title={"en": "Loop", "de": "Riegel"}, cut=(), width_mm=8.0, make="flat", length=length)
    return msgspec.structs.replace(synthetic.pattern(), pieces=pieces, strips={"loop": loop})


@pytest.mark.parametrize(
    ("key", "kind", "words"),
    [
        ("bust-line", "level", ("bust line", "Brustlinie")),
        ("waist-side", "level", ("waist line", "Taillenlinie")),
        ("hip", "level", ("hip line", "Hüftlinie")),
        ("knee", "level", ("knee line", "Knielinie")),
        ("width", "level", ("level line", "Hilfslinie")),
        ("cf", "place", ("centre front", "vordere Mitte")),
        ("center-back", "place", ("centre back", "hintere Mitte")),
        ("dart-leg-1", "stitch", ("dart", "Abnäher")),
        ("elastic-line", "stitch", ("elastic", "Gummiband")),
        ("stitch-line", "stitch", ("stitching line", "Nählinie")),
        ("pleat-fold", "fold", ("pleat: fold", "Falte: falten")),
        ("lengthen", "adjust", ("lengthen or shorten here", "hier verlängern oder kürzen")),
        ("pouch-upper", "place", ("Pouch", "Beutel")),
        ("pouch-lining", "place", ()),
        ("seat-line'", "level", ("seat line", "Gesäßlinie")),
        ("#0", "place", ()),
    ],
)
def test_a_line_is_called_by_its_usual_name_or_by_the_piece_that_is_sewn_on(key, kind, words) -> None:
    assert line_words(pattern(), "front", key, kind) == words


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("buttonhole-3", ("buttonhole", "Knopfloch")),
        ("button-waist", ("button", "Knopf")),
        ("pouch-inner", ("Pouch", "Beutel")),
        ("loop-2", ("Loop", "Riegel")),
        ("dart-end", ("point of the dart", "Abnäherspitze")),
        ("fly-stop", ()),
        ("front", ()),
    ],
)
def test_a_point_is_called_so_too_and_never_what_it_is_not(key, words) -> None:
    assert point_words(pattern(), "front", key) == words


def test_the_designers_title_comes_first_and_one_side_is_said() -> None:
    spec = {
        "line_marks": {"cf": MarkSpec(title={"en": "meet here", "de": "hier treffen"}), "hip": MarkSpec(side="left")},
        "point_marks": {"x": MarkSpec(side="right"), "button": MarkSpec(title={"en": "hook"}, side="left")},
    }
    made = pattern(**spec)
    assert line_words(made, "front", "cf", "place") == ("meet here", "hier treffen")
    assert line_words(made, "front", "hip", "level")[0] == "hip line, wearer’s left only"
    assert point_words(made, "front", "x") == ("wearer’s right only", "nur rechts, wie getragen")
    assert point_words(made, "front", "button") == ("hook, wearer’s left only", "hook, nur links, wie getragen")
    assert line_words(made, "front-fusing", "cf", "place") == ("meet here", "hier treffen"), "a derived piece too"


@pytest.mark.parametrize(
    ("piece", "said"),
    [
        ("front", ("bust line", "waist line", "hip line", "centre front", "Patch pocket", "buttonhole")),
        ("upper-sleeve", ("elbow line", "elbow dart")),
        ("lining-back", ("pleat",)),
    ],
)
def test_the_jackets_lines_and_points_say_their_names_on_paper(piece: str, said: tuple[str, ...]) -> None:
    for drawn in nested("work-jacket"):
        if drawn.piece == piece:
            told = " / ".join(text.content for text in texts(drawn.drawings))
            assert all(words in told for words in said), told
            assert "level line" not in told


def test_and_on_the_projector() -> None:
    pattern, _ = demo("work-jacket")
    assert pattern.languages == BOTH
    front = next(drawn for drawn in projected("work-jacket") if drawn.piece == "front")
    told = " / ".join(text.content for text in texts(front.drawings))
    assert all(words in told for words in ("bust line", "waist line", "hip line", "buttonhole")), told


@pytest.mark.parametrize("drawn_as", [nested, projected])
def test_a_row_of_like_marks_is_named_once_a_size(drawn_as) -> None:
    """Five buttonholes that all say so are five words in the way of each other."""
    drawn = next(drawn for drawn in drawn_as("work-jacket") if drawn.piece == "front")
    named = [sizes for sizes, text in sized_texts(drawn.drawings) if text.startswith("buttonhole")]
    assert named
    assert max(Counter(size for sizes in named for size in sizes).values()) == 1


def sized_texts(drawings) -> list[tuple[tuple[str, ...], str]]:
    return [(drawing.sizes, text.content) for drawing in drawings for text in texts([drawing])]


@pytest.mark.parametrize(
    ("title", "words"),
    [
        (
            {"en": "fold to the wrong side", "de": "nach links umlegen"},
            ("fold to the wrong side", "nach links umlegen"),
        ),
        ({"en": "top of the cuff", "de": "Oberkante"}, ("top of the cuff: fold", "Oberkante: falten")),
        ({"en": "folder", "de": "Mappe"}, ("folder: fold", "Mappe: falten")),
    ],
)
def test_a_title_that_says_what_is_done_is_not_followed_by_it(title, words) -> None:
    marked = pattern(line_marks={"cuff": MarkSpec(title=title)})
    assert line_words(marked, "front", "cuff", "fold") == words


def test_french_sets_its_colon_apart_from_a_name_and_keeps_it_in_the_line() -> None:
    marked = pattern(line_marks={"cuff": MarkSpec(title={"fr": "haut du poignet"})})
    assert line_words(msgspec.structs.replace(marked, languages=("fr",)), "front", "cuff", "fold") == (
        "haut du poignet\u00a0: plier",
    )

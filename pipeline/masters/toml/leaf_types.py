"""The single values that `pattern.toml` is made of, with their patterns and what is expected in words.

`title` says what is expected, `code` is the finding where something else stands there, `unit` the one that a bare
number lacks.
"""

from typing import Annotated

from msgspec import Meta

from pipeline.masters.toml.sums import LONGEST_SUM
from pipeline.model.lengths import LENGTH_HINT, LENGTH_PATTERN
from pipeline.model.public_keys import KEY_HINT, KEY_PATTERN

LINE = r"^[^\u0000-\u001f\u007f\ufffe\uffff]*$"
LINES = r"^[^\u0000-\u0009\u000b-\u001f\u007f\ufffe\uffff]*$"
TAPER_PATTERN = rf"{LENGTH_PATTERN[:-1]}(\.\.{LENGTH_PATTERN[1:-1]})?$"
PERCENT = r"^\s*[0-9]{1,3}(\.[0-9]{1,6})?\s*%\s*$"

Name = Annotated[
    str,
    Meta(
        pattern=r"^[A-Za-z0-9_-]{1,40}$",
        title="a name of 1 to 40 ASCII letters, digits, - and _",
        extra={"code": "bad-name"},
    ),
]
Line = Annotated[
    str,
    Meta(
        pattern=LINE, max_length=1000, title="one line of text without control characters", extra={"code": "bad-text"}
    ),
]
Prose = Annotated[
    str, Meta(pattern=LINES, max_length=20000, title="text without control characters", extra={"code": "bad-text"})
]
Language = Annotated[
    str,
    Meta(
        pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}$",
        title='a language code, as "en", "de" or "pt-BR"',
        extra={"code": "bad-language"},
    ),
]
# In a union with a table a text carries no pattern of its own: msgspec 0.22 frees memory twice there. `leaves` checks.
Text = Annotated[
    str | dict[Language, Line],
    Meta(title='one line of text, or one a language, as { en = "Front", de = "Vorderteil" }'),
]
LongText = Annotated[str | dict[Language, Prose], Meta(title='a text, or one a language, as { en = "…", de = "…" }')]
Length = Annotated[
    str, Meta(pattern=LENGTH_PATTERN, max_length=60, title=LENGTH_HINT, extra={"code": "bad-length", "unit": "cm"})
]
Taper = Annotated[
    str,
    Meta(
        pattern=TAPER_PATTERN,
        max_length=120,
        title=f'{LENGTH_HINT}; or two for an allowance that tapers, as "2.5 cm .. 1 cm"',
        extra={"code": "bad-length", "unit": "cm"},
    ),
]
MOST_ROWS = 6
Rows = Annotated[
    str | Annotated[tuple[Length, ...], Meta(max_length=MOST_ROWS)],
    Meta(title='a length, or a list of them, as ["3 mm", "8 mm"]', extra={"code": "bad-length", "unit": "mm"}),
]
Percent = Annotated[
    str,
    Meta(pattern=PERCENT, max_length=60, title='a percentage, as "3 %"', extra={"code": "bad-percent", "unit": "%"}),
]
Version = Annotated[
    str,
    Meta(
        pattern=r"^(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})$",
        title='a version of three numbers, as "1.0.0"',
        extra={"code": "bad-version"},
    ),
]
PublicKey = Annotated[str, Meta(pattern=KEY_PATTERN, max_length=2000, title=KEY_HINT, extra={"code": "bad-key"})]
_SUM = 'a sum, as "2 x front.side + 9 cm" or "front.inseam[cf..knee] - 1 cm"'
SumText = Annotated[
    str,
    Meta(max_length=LONGEST_SUM, title=_SUM, extra={"code": "bad-sum", "unit": "cm"}),
]
Sums = Annotated[
    str | dict[Name, SumText],
    Meta(title='a sum, as "2 x front.side + 9 cm", or one a size, as { "34" = "18 cm", "36" = "20 cm" }'),
]
RangeText = Annotated[
    str,
    Meta(
        max_length=100,
        title='a range of lengths, as "20 mm .. 40 mm", or one length',
        extra={"code": "bad-range", "unit": "cm"},
    ),
]
EaseText = Annotated[
    str,
    Meta(
        max_length=100,
        title='a range, as "20 mm .. 40 mm" or "5 % .. 10 %", or one value',
        extra={"code": "bad-range", "unit": "cm"},
    ),
]
SideText = Annotated[
    str,
    Meta(
        max_length=200,
        title='an edge of a piece, as "front.side", turned: "!front.side", or a part of it: "front.side[hem..knee]"',
    ),
]
MOST_CASINGS = 20
Casings = Annotated[
    str | Annotated[tuple[str, ...], Meta(max_length=MOST_CASINGS)],
    Meta(title='a hem, or a fold, as "trousers.waist", or a strip, as "strips.waistband", or a list of them'),
]
PlaceText = Annotated[
    str, Meta(max_length=200, title='a piece, "piece.object", or "seams.name", "strips.name", "notions.name"')
]
Count = Annotated[int, Meta(ge=1, le=999, title="a whole number from 1 to 999")]
CountOfSize = Annotated[int, Meta(ge=0, le=999, title="a whole number from 0 to 999")]
Counts = Annotated[Count | dict[Name, CountOfSize], Meta(title='a number, or one a size, as { "34" = 6, "36" = 7 }')]
NotionCounts = Annotated[
    Count | str | dict[Name, CountOfSize],
    Meta(title='a number, or one a size, as { "34" = 6, "36" = 7 }, or the marks on pieces, as "marks front.button"'),
]
Mirrored = Annotated[CountOfSize | dict[Name, CountOfSize], Meta(title='a number, or one a size, as { "34" = 1 }')]

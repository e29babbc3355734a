"""Every bad file is refused with a finding that names file, object, what was found and what to do; none raises."""

import random
import re
import tomllib

import pytest

from tests.masters.svg_samples import CASES, FILE, FRONT, read, seam, svg

EXPECTED = tomllib.loads((CASES / "expected.toml").read_text("utf-8"))


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_a_bad_file_is_refused_for_what_is_wrong_with_it_and_nothing_else(name):
    drawn, findings = read((CASES / f"{name}.svg").read_bytes(), FRONT)
    blocking = [finding for finding in findings if finding.severity == "block"]
    assert drawn is None
    assert sorted([f.code, f.object or ""] for f in blocking) == EXPECTED[name]
    for finding in blocking:
        assert (finding.check, finding.pattern, finding.size, finding.piece) == ("masters", "invented", "36", "front")
        assert finding.file == FILE
        assert finding.message.endswith(".")
        assert finding.remedy.endswith(".")
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", finding.code)


def test_every_case_has_a_file_and_every_file_is_a_case():
    assert {path.stem for path in CASES.glob("*.svg")} == {*EXPECTED, "good"}


def test_the_file_that_the_bad_ones_were_made_from_is_read_without_a_word():
    drawn, findings = read((CASES / "good.svg").read_bytes(), FRONT)
    assert drawn is not None
    assert findings == ()


BOMBS = {
    "too-large": svg("<!--" + "x" * 4_000_000 + "-->"),
    "too-many-elements": svg("<g/>" * 20_001),
    "too-deep": "<g>" * 200_000,
    "too-many-points": svg('<path d="M0 0' + "h1" * 60_000 + '"/>'),
    "too-many-marks": svg(
        '<g id="seam"><rect width="100" height="100"/></g><g id="notches">' + '<circle r="1"/>' * 5_000 + "</g>"
    ),
    "too-many-edges": svg('<g id="seam">' + '<path d="M0 0h1"/>' * 5_000 + "</g>"),
    "bad-path-data": svg(f'<path d="M0 0 {"L1 1" * 40_000} x"/>'),
    "bad-transform": svg(f'<g transform="{"translate(1 1)" * 50_000}x"/>'),
    "bad-number": svg(f'<polyline points="{"1" * 3_000_000}.1.1.1,,"/>'),
}


@pytest.mark.parametrize("code", BOMBS)
def test_a_bomb_ends_at_its_limit(code):
    data = BOMBS[code] if BOMBS[code].startswith("<svg") else svg(BOMBS[code])
    drawn, findings = read(data)
    assert drawn is None
    assert code in [finding.code for finding in findings]


def test_limits_name_the_value_and_the_limit():
    (finding,) = read(BOMBS["too-many-elements"])[1]
    assert (finding.found, finding.allowed) == ("20001 or more", "20000")


def test_a_file_full_of_faults_lists_the_first_and_counts_the_rest():
    findings = read(svg('<path d="x"/>' * 3_000))[1]
    assert findings[-1].code == "more-findings"
    assert len(findings) == 201
    assert findings[-1].found == "2800"


def test_no_mutation_of_a_good_file_raises():
    source = (CASES / "good.svg").read_bytes()
    chance = random.Random(20)
    tokens = [
        b"0",
        b"-",
        b".",
        b"e9",
        b"<",
        b">",
        b'"',
        b"/",
        b"nan",
        b"M",
        b"A",
        b"Z",
        b"#",
        b"g",
        b"id",
        b" ",
        b"\xff",
    ]
    refused = 0
    for _ in range(1500):
        data = bytearray(source)
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(200, len(data))
            kind = chance.randrange(4)
            if kind == 0:
                data[at : at + chance.randint(1, 30)] = b""
            elif kind == 1:
                data[at:at] = chance.choice(tokens)
            elif kind == 2:
                data[at : at + 1] = chance.choice(tokens)
            else:
                start = chance.randrange(200, len(data))
                data[at:at] = data[start : start + chance.randint(1, 60)]
        drawn, findings = read(bytes(data), FRONT)
        blocks = any(finding.severity == "block" for finding in findings)
        assert (drawn is None) == blocks
        refused += blocks
    assert refused > 500


SQUARE = '<rect x="10" y="10" width="100" height="100"/>'
WRONG_TURNS = {
    "far and back in one transform": ("digits-lost", '<g transform="translate(1e15 0) translate(-1e15 0)">{}</g>'),
    "far and back in two": ("digits-lost", '<g transform="translate(1e15)"><g transform="translate(-1e15)">{}</g></g>'),
    "round a far centre": ("digits-lost", '<g transform="rotate(30 1e14 1e14) rotate(-30 1e14 1e14)">{}</g>'),
    "sheared and back": ("digits-lost", '<g transform="matrix(1 0 1e12 1 0 0) matrix(1 0 -1e12 1 0 0)">{}</g>'),
    "far by use": ("digits-lost", '<g transform="translate(-1e15)"><g id="a">{}</g><use href="#a" x="1e15"/></g>'),
    "far by a viewBox": ("digits-lost", '<svg viewBox="1e14 0 9 9"><g transform="translate(1e14)">{}</g></svg>'),
    "a rule in a rule": ("style-sheet", "<style>g{{fill:none; .h{{display:none}} }}</style>{}"),
    "a style sheet without end": ("style-sheet", "<style>" + "g{{fill:none}}" * 20_000 + "</style>{}"),
    "a style sheet that breaks off": ("style-sheet", "<style>g{{display:none}} g</style>{}"),
    "a property that is written with an escape": ("css-transform", '<g style="transfor\\6d:scale(2)">{}</g>'),
    "a word that CSS does not know": ("css-value", '<g style="display:none;display:hidden">{}</g>'),
    "a style sheet elsewhere": ("style-sheet", '<?xml-stylesheet href="hide.css"?>{}'),
}


@pytest.mark.parametrize("name", WRONG_TURNS)
def test_what_would_be_read_wrongly_in_silence_is_refused(name):
    code, around = WRONG_TURNS[name]
    drawn, findings = read(seam(around.format(SQUARE)))
    assert drawn is None
    assert code in [finding.code for finding in findings]


@pytest.mark.parametrize("encoding", ["unicode_escape", "raw_unicode_escape", "rot13", "punycode", "idna", "utf-7"])
def test_an_encoding_that_only_python_knows_is_refused(encoding):
    drawn, findings = read(f'<?xml version="1.0" encoding="{encoding}"?>' + seam(SQUARE))
    assert drawn is None
    assert [finding.code for finding in findings] == ["encoding"]


@pytest.mark.parametrize("encoding", ["UTF-8", "utf-16", "us-ascii", "ISO-8859-15", "windows-1252"])
def test_encodings_that_editors_write_are_read(encoding):
    text = f'<?xml version="1.0" encoding="{encoding}"?>' + seam(SQUARE)
    assert read(text.encode(encoding))[0] is not None

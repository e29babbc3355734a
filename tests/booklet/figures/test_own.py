"""A designer's own figure passes the guard of the masters, and nothing in it acts or is fetched."""

import os

import pytest

from pipeline.booklet.figures.own import OF_FIGURES, read_own_figure
from pipeline.masters import source_file

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    ' width="80mm" height="60mm" viewBox="0 0 80 60">'
)
LINE = '<path d="M10,10 L70,50" stroke="#000" fill="none"/>'


@pytest.fixture
def read(tmp_path):
    def read_text(inside: str, head: str = HEAD):
        file = tmp_path / "figure.svg"
        file.write_text(f"{head}{inside}</svg>", encoding="utf-8")
        return read_own_figure(file, "booklet/figures/figure.svg", "jacket")

    return read_text


def test_lines_and_texts_pass_as_they_are(read):
    figure, findings = read(f'{LINE}<text x="5" y="5" font-family="Noto Sans">collar</text>')
    assert findings == ()
    assert (figure.width_mm, figure.height_mm) == (80.0, 60.0)
    assert b"collar" in figure.data


def test_a_figure_may_be_drawn_in_pixels(read):
    figure, findings = read(LINE, HEAD.replace("80mm", "96").replace("60mm", "96px"))
    assert findings == ()
    assert figure.width_mm == pytest.approx(25.4)


@pytest.mark.parametrize(
    ("inside", "code", "found"),
    [
        ("<script>alert(1)</script>", "script", "script"),
        ('<rect width="5" height="5" onclick="go()"/>', "script", "onclick"),
        ('<rect width="5" height="5"><set attributeName="x" to="9"/></rect>', "script", "set"),
        ('<foreignObject width="5" height="5"/>', "script", "foreignObject"),
        ('<image width="5" height="5" xlink:href="photo.png"/>', "picture", "image"),
        ('<image width="5" height="5" href="data:image/png;base64,AAAA"/>', "picture", "image"),
        ('<a href="https://example.org"><rect width="5" height="5"/></a>', "outside", "https://example.org"),
        ('<use href="other.svg#part"/>', "outside", "other.svg#part"),
        ('<rect width="5" height="5" fill="url(https://example.org/p.svg#x)"/>', "outside", "https://example.org"),
        ("<style>@import 'x.css';</style>", "outside", "@import"),
        ('<style>@font-face { src: url("x.woff") }</style>', "outside", "x.woff"),
    ],
)
def test_what_acts_or_is_fetched_is_refused(read, inside, code, found):
    figure, findings = read(LINE + inside)
    assert figure is None
    told = next(finding for finding in findings if finding.code == code)
    assert told.check == OF_FIGURES.id
    assert told.severity == "block"
    assert told.file == "booklet/figures/figure.svg"
    assert found in told.found
    assert told.object
    assert told.allowed
    assert told.remedy


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ('<!DOCTYPE svg [<!ENTITY a "b">]>' + HEAD + LINE, "entities"),
        (HEAD + LINE + "<g>", "not-xml"),
        (HEAD.replace(' width="80mm"', "") + LINE, "size-missing"),
        (HEAD.replace('width="80mm"', 'width="90m"') + LINE, None),
        (HEAD.replace('width="80mm"', 'width="3000mm"') + LINE, "too-far"),
        (HEAD + "<g/>", "nothing-drawn"),
        (HEAD + "<g>" * 200 + LINE + "</g>" * 200, "too-deep"),
        (HEAD + LINE * 20_001, "too-many-elements"),
    ],
)
def test_a_file_that_is_no_plain_svg_of_a_sensible_size_is_refused(tmp_path, text, code):
    file = tmp_path / "figure.svg"
    file.write_text(f"{text}</svg>", encoding="utf-8")
    figure, findings = read_own_figure(file, "booklet/figures/figure.svg", "jacket")
    assert figure is None
    assert code is None or code in {finding.code for finding in findings}
    assert all(finding.message and finding.remedy for finding in findings)


def test_fifty_megabytes_are_refused_without_being_read(tmp_path, monkeypatch):
    file = tmp_path / "figure.svg"
    file.write_text(HEAD, encoding="utf-8")
    os.truncate(file, 50_000_000)
    monkeypatch.setattr(source_file.os, "read", lambda *_: pytest.fail("the file was read"))
    figure, (finding,) = read_own_figure(file, "booklet/figures/big.svg", "jacket")
    assert figure is None
    assert (finding.code, finding.file) == ("too-large", "booklet/figures/big.svg")
    assert "50,000,000" in finding.message


def test_a_figure_that_is_not_there_is_told(tmp_path):
    figure, (finding,) = read_own_figure(tmp_path / "none.svg", "booklet/figures/none.svg", "jacket")
    assert figure is None
    assert finding.code == "no-file"


def test_another_font_is_told_and_the_figure_is_kept(read):
    figure, (finding,) = read(LINE + '<text x="5" y="5" style="font-family: Cursive Fancy">x</text>')
    assert figure is not None
    assert (finding.code, finding.severity, finding.found) == ("font", "warn", "Cursive Fancy")

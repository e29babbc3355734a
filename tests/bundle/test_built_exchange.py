"""The file for cutting machines is held against the cut lines: lost, moved and strange blocks are told."""

import re
from collections.abc import Callable

import pytest

from pipeline.bundle.promised import exchange_file
from tests.bundle.conftest import Copy


def _codes(copy: Copy, change: Callable[[str], str]) -> set[tuple[str, str | None]]:
    file = copy.folder / exchange_file(copy.built.pattern)
    before = file.read_text(encoding="ascii")
    after = change(before)
    assert after != before
    file.write_text(after, encoding="ascii")
    return {(finding.code, finding.size) for finding in copy.found() if finding.check == "built-exchange"}


def _moved(text: str) -> str:
    """The first corner of the first boundary, by 0.2 mm up and to the left."""
    place = re.compile(r"(VERTEX\n8\n1\n10\n)([-\d.]+)(\n20\n)([-\d.]+)")
    return place.sub(lambda m: f"{m[1]}{float(m[2]) - 0.2:.4f}{m[3]}{float(m[4]) + 0.2:.4f}", text, count=1)


def test_the_file_as_it_is_built_shows_every_cut_line(copy: Copy):
    assert [finding for finding in copy.found() if finding.check == "built-exchange"] == []


@pytest.mark.parametrize(
    ("change", "codes"),
    [
        (_moved, {("off", "S")}),
        (lambda text: text.replace("SIZE: M", "SIZE: XXL"), {("piece-lost", "M"), ("extra", None)}),
        (lambda text: text[: len(text) // 3] + "wide", {("unreadable", None)}),
    ],
)
def test_what_is_spoilt_is_told(copy: Copy, change, codes):
    assert _codes(copy, change) == codes


def test_a_file_that_is_not_there_is_told(copy: Copy):
    (copy.folder / exchange_file(copy.built.pattern)).unlink()
    assert {finding.code for finding in copy.found() if finding.check == "built-exchange"} == {"lost"}

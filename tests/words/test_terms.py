"""The table of terms: every language of the catalogues has each term, and the catalogues use them where it says."""

from pathlib import Path

import pytest

from pipeline import words
from pipeline.words import catalogue, languages

_LINES = (Path(words.__file__).parent / "terms.md").read_text(encoding="utf-8").splitlines()
_CELLS = [[cell.strip() for cell in line.strip("|").split("|")] for line in _LINES if line.startswith("|")]
HEAD, ROWS = _CELLS[0], [dict(zip(_CELLS[0], cells, strict=True)) for cells in _CELLS[2:]]
USED = [row for row in ROWS if row["where"] != "–"]


def test_the_table_has_a_column_for_every_language():
    assert sorted(HEAD[2:-1]) == sorted(languages())


def test_no_term_lacks_a_language_or_a_source():
    assert all(all(row.values()) for row in ROWS)
    assert {row["source"] for row in ROWS} <= {"p", "g", "EN 14682"}


@pytest.mark.parametrize("language", languages())
def test_a_catalogue_uses_its_terms(language):
    texts = catalogue(language)
    other = [row["term"] for row in USED if row[language].lower() not in texts[row["where"]].lower()]
    assert not other

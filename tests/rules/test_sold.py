"""What a run leaves beside the copy of the source of what was sold, for the jobs that keep it."""

import shutil
from pathlib import Path

import msgspec
import pytest

from pipeline.ledger.before import Former
from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_json
from pipeline.ledger.facts import Facts, Measured
from pipeline.ledger.layouts import packed_layouts
from pipeline.ledger.seal import sealed
from pipeline.ledger.sheets import source_digest
from pipeline.rules.sources import Source, read_source
from pipeline.sheets.layout import Layout, SavedLayout
from tests.by_steps import APRON

NOTHING = Facts(sizes=("S", "M"), pieces={}, rows={}, texts={}, pages={})


@pytest.fixture
def origin(tmp_path) -> Path:
    return Path(shutil.copytree(APRON, tmp_path / "source/tea-apron"))


def read(origin: Path) -> Source:
    return read_source(origin, origin.parents[1] / "work")


def seal(origin: Path, version: str) -> None:
    """Enter a version of the source as it stands, with a layout of its own."""
    ledger = (
        msgspec.json.decode((origin / LEDGER).read_bytes(), type=Ledger) if (origin / LEDGER).exists() else Ledger()
    )
    name, text = packed_layouts(SavedLayout(layout=Layout(float(len(ledger.versions)), 1.0, ())))
    entry = Entry(
        version=version,
        date="2026-01-02",
        made_with={},
        files={},
        facts=NOTHING,
        previous="",
        source=source_digest(read(origin).hashes),
        layouts=name,
    )
    (origin / LEDGER).write_bytes(ledger_json(sealed(ledger, entry, Measured(NOTHING, {}), text)))


def edit(origin: Path, old: str, new: str) -> None:
    file = origin / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def kept(source: Source) -> str | None:
    """The version whose sheets are kept."""
    return msgspec.json.decode(source.sold()[0].read_bytes(), type=SavedLayout).sold if source.sold() else None


def before(source: Source) -> str | None:
    return msgspec.json.decode(source.former()[0].read_bytes(), type=Former).version if source.former() else None


def test_sealing_leaves_what_jobs_read_as_it_was(origin):
    assert (kept(read(origin)), before(read(origin))) == (None, None)
    seal(origin, "1.0.0")
    assert (kept(read(origin)), before(read(origin))) == (None, None)
    edit(origin, 'version = "1.0.0"', 'version = "1.1.0"')
    assert (kept(read(origin)), before(read(origin))) == ("1.0.0", "1.0.0")
    files = [file.read_bytes() for file in (*read(origin).sold(), *read(origin).former())]
    seal(origin, "1.1.0")
    assert [file.read_bytes() for file in (*read(origin).sold(), *read(origin).former())] == files


def test_the_first_edit_takes_the_sealed_sheets_whatever_the_number_says(origin):
    seal(origin, "1.0.0")
    edit(origin, "1 cm", "12 mm")
    assert (kept(read(origin)), before(read(origin))) == ("1.0.0", None)
    edit(origin, "12 mm", "1 cm")
    assert kept(read(origin)) is None


def test_layouts_that_a_search_saved_count_where_nothing_was_sold_or_all_is_to_be_laid_anew(origin):
    (origin / "layout.json").write_text('{"layout": {"width_mm": 1, "height_mm": 1, "placements": []}}', "utf-8")
    assert [file.name for file in read(origin).layouts()] == ["layout.json"]
    seal(origin, "1.0.0")
    edit(origin, 'version = "1.0.0"', 'version = "1.1.0"')
    assert [file.name for file in read(origin).layouts()] == ["sold-layout.json"]
    edit(origin, "[print]", "[layout]\nrenew = true\n\n[print]")
    assert [file.name for file in read(origin).layouts()] == ["layout.json"]
    assert before(read(origin)) == "1.0.0"


def test_a_ledger_that_was_edited_leaves_nothing(origin):
    seal(origin, "1.0.0")
    edit(origin, 'version = "1.0.0"', 'version = "1.1.0"')
    text = (origin / LEDGER).read_text(encoding="utf-8")
    (origin / LEDGER).write_text(text.replace("2026-01-02", "2026-01-03"), encoding="utf-8")
    assert (kept(read(origin)), before(read(origin))) == (None, None)

"""Which sealed version's sheets a build keeps, and how the ledger holds them."""

import msgspec

from pipeline.ledger.before import sold_before
from pipeline.ledger.book import Entry, Ledger, entry_digest, ledger_json, parsed_ledger
from pipeline.ledger.facts import Measured
from pipeline.ledger.layouts import merged, packed_layouts
from pipeline.ledger.seal import sealed
from pipeline.ledger.sheets import keeps_sheets_of, sold_layouts, source_digest
from pipeline.masters.source_file import FileFault
from pipeline.sheets.layout import LargeLayout, Layout, Page, PagePlan, Placement, SavedGrid, SavedLayout, Window
from tests.ledger.versions import SHAPES, facts

TILES = Layout(400.0, 500.0, (Placement("front", 10.0, 20.0, 1),))
KEPT = SavedLayout(layout=TILES, areas={"": {"front": 1000.0}})
WHAT = Measured(facts(), dict(SHAPES))


def entered(ledger: Ledger, version: str, source: str, kept: SavedLayout = KEPT) -> Ledger:
    name, text = packed_layouts(kept)
    made = Entry(
        version=version,
        date="2026-01-02",
        made_with={},
        files={},
        facts=WHAT.facts,
        previous="",
        source=source,
        layouts=name,
    )
    return sealed(ledger, made, WHAT, text)


def versions(entry: Entry | None) -> str | None:
    return entry and entry.version


def test_a_build_keeps_the_sheets_of_the_version_sealed_last_once_its_source_is_another():
    first = entered(Ledger(), "1.0.0", "aaa")
    both = entered(first, "1.1.0", "bbb")
    assert versions(keeps_sheets_of(Ledger(), "aaa")) is None
    assert versions(keeps_sheets_of(first, "edited")) == "1.0.0"
    assert versions(keeps_sheets_of(both, "edited")) == "1.1.0"


def test_sealing_changes_nothing_of_what_the_sealed_source_is_built_with():
    first = entered(Ledger(), "1.0.0", "aaa")
    assert keeps_sheets_of(first, "aaa") == keeps_sheets_of(Ledger(), "aaa")
    both = entered(first, "1.1.0", "bbb")
    assert keeps_sheets_of(both, "bbb") == keeps_sheets_of(first, "bbb")
    assert sold_before(both, "1.1.0") == sold_before(first, "1.1.0")
    assert sold_before(first, "1.0.0") is None


def test_the_version_before_has_a_lower_number_and_the_shapes_that_it_names():
    both = entered(entered(Ledger(), "1.9.0", "aaa"), "1.10.0", "bbb")
    former = sold_before(both, "1.10.1")
    assert former is not None
    assert former.version == "1.10.0"
    named = {piece.shape for sizes in former.facts.pieces.values() for piece in sizes.values()}
    assert former.shapes.keys() == named


def test_what_is_only_told_is_no_other_source():
    hashes = {"pattern.toml": "a", "sizes/40/front.svg": "b", "CHANGES.md": "c", "booklet/en.md": "d"}
    assert source_digest(hashes) == source_digest(
        {**hashes, "CHANGES.md": "x", "CHANGES.de.md": "z", "booklet/en.md": "y"}
    )
    assert source_digest(hashes) != source_digest({**hashes, "sizes/40/front.svg": "x"})


def test_layouts_come_back_as_they_were_with_the_version_that_sold_them():
    ledger = parsed_ledger(ledger_json(entered(Ledger(), "1.0.0", "aaa")))
    assert isinstance(ledger, Ledger)
    read = msgspec.json.decode(sold_layouts(ledger, ledger.versions[0]), type=SavedLayout)
    assert read == msgspec.structs.replace(KEPT, sold="1.0.0")


def test_the_same_layouts_are_kept_once():
    both = entered(entered(Ledger(), "1.0.0", "aaa"), "1.1.0", "bbb")
    assert len(both.layouts) == 1


def test_an_edited_or_lost_layout_shows():
    ledger = entered(Ledger(), "1.0.0", "aaa")
    (name,) = ledger.layouts
    _, other = packed_layouts(SavedLayout(layout=Layout(1.0, 1.0, ())))
    for layouts in ({name: other}, {name: "no text"}, {}):
        fault = parsed_ledger(ledger_json(msgspec.structs.replace(ledger, layouts=layouts)))
        assert isinstance(fault, FileFault)
        assert fault.code == "edited"


def test_an_entry_of_before_layouts_were_kept_has_the_digest_that_it_had():
    """What such an entry was hashed over: every field but these two."""
    entry = Entry(version="1.0.0", date="2026-01-02", made_with={}, files={}, facts=WHAT.facts, previous="")
    assert entry_digest(entry) != entry_digest(msgspec.structs.replace(entry, source="aaa"))
    text = msgspec.json.encode(msgspec.structs.replace(entry, digest=entry_digest(entry)))
    older = msgspec.json.decode(text, type=dict)
    del older["source"], older["layouts"]
    read = msgspec.convert(older, Entry)
    assert entry_digest(read) == read.digest


def test_all_files_are_merged_with_the_grids_of_their_pages():
    alone = SavedLayout(layout=Layout(0, 0, ()), alone={"40-a4": TILES}, areas={"40": {"front": 1.0}})
    roll = SavedLayout(layout=Layout(0, 0, ()), large={"view long-roll-36in": LargeLayout(1.0, 2.0, TILES)})
    page = Page(number=2, label="2B", row=2, column=1, window=Window(-5.0, 272.0, 190.0, 277.0), sizes=(), views=())
    plans = [
        PagePlan(
            format=name,
            page_width_mm=210.0,
            page_height_mm=297.0,
            margin_mm=10.0,
            overlap_mm=5.0,
            rows=2,
            columns=1,
            pages=(page,),
        )
        for name in ("a4", "by-size/40-a4", "by-view/long-a4")
    ]
    found = merged([KEPT, alone, roll], plans)
    assert found.layout == TILES
    assert (list(found.alone), list(found.large), list(found.areas)) == (["40-a4"], ["view long-roll-36in"], ["", "40"])
    grid = SavedGrid(-5.0, 0.0, 190.0, 277.0, 185.0, 272.0, ((2, 1),))
    assert found.grids == {"a4": grid, "40-a4": grid, "view long-a4": grid}

"""The file `layout.json`: what a search keeps is what a build uses."""

import json

import msgspec
import pytest

from pipeline.sheets.layout import LargeLayout, Layout, PagePlan, Placement, SavedLayout, saved_layout_json
from pipeline.steps import better_layout, by_size, layout, pieces
from pipeline.work.files import read_json
from tests.bundle.conftest import FOLDER
from tests.by_steps import apron_with, cut_sizes

SHEET = Layout(380.0, 554.0, (Placement("skirt", 10.5, 20.25, 1), Placement("band", 0.0, 400.0)))
ROLL = LargeLayout(894.4, 554.0, SHEET)


@pytest.mark.parametrize("alone", [{}, {"S-a4": SHEET}, {"S-a4": SHEET, 'M "large"-a4': SHEET}])
@pytest.mark.parametrize("pinned", [(), ("skirt",)])
def test_what_is_written_is_what_is_read(alone, pinned):
    kept = SavedLayout(layout=SHEET, pinned=pinned, alone=alone)
    assert msgspec.json.decode(saved_layout_json(kept), type=SavedLayout) == kept


def test_a_moved_piece_changes_one_line():
    moved = msgspec.structs.replace(SHEET, placements=(SHEET.placements[0], Placement("band", 5.0, 400.0)))
    before, after = (
        saved_layout_json(SavedLayout(layout=layout, alone={"S-a4": SHEET})).splitlines() for layout in (SHEET, moved)
    )
    assert sum(a != b for a, b in zip(before, after, strict=True)) == 1


def test_large_sheets_are_written_and_read_with_their_windows():
    kept = SavedLayout(layout=SHEET, large={"a0": LargeLayout(821.0, 1039.0, SHEET), "roll-36in": ROLL})
    assert msgspec.json.decode(saved_layout_json(kept), type=SavedLayout) == kept


def test_a_file_without_single_sizes_and_large_sheets_is_read():
    text = json.dumps({"layout": {"width_mm": 1.0, "height_mm": 1.0, "placements": []}})
    kept = msgspec.json.decode(text, type=SavedLayout)
    assert (kept.alone, kept.large) == ({}, {})


def test_a_search_keeps_a_layout_of_each_file_which_a_build_then_follows(tmp_path):
    folder = tmp_path / "tea-apron"
    folder.mkdir()
    (folder / "sizes").symlink_to(FOLDER / "sizes")
    text = (FOLDER / "pattern.toml").read_text(encoding="utf-8")
    (folder / "pattern.toml").write_text(text.replace('"letter", "a0", ', ""), encoding="utf-8")
    files = [tmp_path / f"{size}.json" for size in "SM"]
    for size, file in zip("SM", files, strict=True):
        pieces.main(folder, size, file, tmp_path / "read.json")

    better_layout.main(folder, files, 1)

    kept = read_json(folder / "layout.json", SavedLayout)
    assert list(kept.alone) == ["S-a4", "M-a4"]
    assert list(kept.large) == ["roll-36in", "S-roll-36in", "M-roll-36in"]
    longer = msgspec.structs.replace(kept.large["roll-36in"], sheet_height_mm=3000.0)
    longer = msgspec.structs.replace(longer, layout=msgspec.structs.replace(longer.layout, height_mm=3000.0))
    known = tmp_path / "longer.json"
    known.write_bytes(saved_layout_json(msgspec.structs.replace(kept, large={"roll-36in": longer})))
    written = [tmp_path / f"{name}.json" for name in ("layout", "layouts", "pages", "places")]
    layout.main(folder, files, [known], *written)
    assert read_json(written[1], dict[str, Layout]) == {"a4": kept.layout, "roll-36in": longer.layout}
    # the same place moved as a whole by 3 mm: nothing that a build would choose by itself
    places = tuple(msgspec.structs.replace(one, y_mm=one.y_mm + 3) for one in kept.alone["S-a4"].placements)
    shifted = Layout(kept.alone["S-a4"].width_mm, kept.alone["S-a4"].height_mm + 3, places)
    known = tmp_path / "known.json"
    known.write_bytes(saved_layout_json(msgspec.structs.replace(kept, alone={"S-a4": shifted})))
    (tmp_path / "work").mkdir()
    pages = {}
    for name, given in (("own", []), ("kept", [folder / "layout.json"]), ("shifted", [known])):
        by_size.main(
            folder,
            tmp_path / "work",
            files[0],
            given,
            tmp_path / name,
            tmp_path / f"{name}-projected",
            tmp_path / f"{name}.json",
            tmp_path / f"{name}-places.json",
        )
        plan = read_json(tmp_path / f"{name}.json", list[PagePlan])[0]
        pages[name] = len(plan.pages)
    assert pages["kept"] <= pages["own"]
    assert (tmp_path / "shifted/S-a4.pdf").read_bytes() != (tmp_path / "kept/S-a4.pdf").read_bytes()


def test_a_view_that_is_called_like_a_size_has_layouts_of_its_own(tmp_path):
    """Each shows other pieces: one's place would be no place for the other."""
    more = '[views.S]\ntitle = { en = "Short", de = "Kurz" }\n\n[print]\nformats = ["a4"]\n'
    folder = apron_with(tmp_path / "tea-apron", more)
    better_layout.main(folder, cut_sizes(folder, tmp_path, "SM"), 1)
    kept = read_json(folder / "layout.json", SavedLayout)
    assert list(kept.alone) == ["S-a4", "M-a4", "view S-a4"]
    assert kept.alone["S-a4"] != kept.alone["view S-a4"]

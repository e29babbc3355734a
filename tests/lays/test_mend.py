"""Kept lays made to hold again: after a fix, and for other sizes."""

import shutil

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.lays.lay import Lay, Placed
from pipeline.lays.mend import improved, mended
from pipeline.lays.proof import faults
from pipeline.lays.saved import Chosen, lay_key
from pipeline.lays.tell import made_again
from pipeline.model.findings import FindingsFile
from pipeline.steps import lays as lays_step
from pipeline.steps import pieces as pieces_step
from pipeline.work.files import read_json
from tests.lays.samples import pattern, rectangle, request
from tests.release.conftest import SMALL


def row(*names: str, step: float = 302.0, folded: bool = False) -> Lay:
    """Pieces one after the other along the cloth."""
    layers = "pair" if folded else "one"
    placed = [Placed(item=n, x_mm=step * i, y_mm=200, angle_deg=0, layers=layers) for i, n in enumerate(names)]
    return Lay(folded=folded, length_mm=step * len(names) - 2, placed=tuple(placed), seed=1, seconds=20)


def asked(first_mm: float = 300.0, width_mm: float = 390.0, **more):
    items = (rectangle("a", first_mm, width_mm, 1), rectangle("b", 300, 390, 1), rectangle("c", 300, 390, 1))
    return request(items, 400, gap_mm=2.0, **more)


KEPT = row("a", "b", "c")


@pytest.mark.parametrize("grown_mm", [0.0, 0.5, 1.0, 4.0])
def test_what_has_grown_pushes_the_others_along_as_far_as_it_has_grown(grown_mm):
    lay = mended(asked(300 + grown_mm), [KEPT])
    assert lay is not None
    assert faults(asked(300 + grown_mm), lay) == ()
    assert lay.length_mm == pytest.approx(904 + grown_mm, abs=0.01)


def test_what_has_shrunk_lets_the_others_draw_together():
    lay = mended(asked(297.0), [KEPT])
    assert lay is not None
    assert lay.length_mm == pytest.approx(901, abs=0.01)


def test_a_piece_that_grew_across_moves_aside_where_there_is_room():
    low = tuple(msgspec.structs.replace(place, y_mm=196) for place in KEPT.placed)  # 1 mm from the edge
    lay = mended(asked(width_mm=394.0), [msgspec.structs.replace(KEPT, placed=low)])
    assert lay is not None
    assert faults(asked(width_mm=394.0), lay) == ()


def test_what_no_longer_fits_beside_another_is_left_to_a_search():
    beside = (
        Placed(item="a", x_mm=0, y_mm=100, angle_deg=0),
        Placed(item="b", x_mm=0, y_mm=301, angle_deg=0),
    )
    items = (rectangle("a", 300, 199, 1), rectangle("b", 300, 198, 1))
    kept = Lay(folded=False, length_mm=300, placed=beside, seed=1, seconds=20)
    assert mended(request(items, 400, gap_mm=2.0), [kept]) is not None
    wider = (rectangle("a", 300, 205, 1), items[1])
    assert mended(request(wider, 400, gap_mm=2.0), [kept]) is None


@pytest.mark.parametrize(
    "kept", [row("a", "b"), row("a", "b", "c", "c"), row("a", "b", "d"), row("a", "b", "c", folded=True)]
)
def test_lays_of_other_pieces_or_of_another_kind_do_not_count(kept):
    assert mended(asked(), [kept]) is None


def test_of_several_the_shortest_that_holds_is_taken():
    lay = mended(asked(), [row("a", "b", "c", step=320.0), KEPT, row("c", "a", "b", step=310.0)])
    assert lay is not None
    assert lay.length_mm == pytest.approx(904, abs=0.01)


def test_a_size_takes_over_what_was_found_for_its_neighbour():
    small, large = asked(), msgspec.structs.replace(asked(301.0), size="42")
    poor = row("a", "b", "c", step=340.0)
    known = {lay_key(small): poor, lay_key(large): row("a", "b", "c", step=304.0)}
    best = improved((small, large), known)
    assert best[lay_key(small)].length_mm == pytest.approx(904, abs=0.01)
    assert best[lay_key(large)].length_mm == pytest.approx(905, abs=0.01)


@settings(deadline=None, max_examples=50)
@given(st.lists(st.floats(0, 8), min_size=3, max_size=3), st.floats(0, 6))
def test_whatever_grows_what_comes_out_is_proven(grown, across):
    items = tuple(rectangle(name, 300 + more, 390 + across, 1) for name, more in zip("abc", grown, strict=True))
    changed = request(items, 400, gap_mm=2.0)
    lay = mended(changed, [KEPT])
    assert lay is None or faults(changed, lay) == ()


def test_a_lay_that_was_made_again_is_told_with_its_material_and_size():
    (told,) = made_again(pattern(), [asked(), asked(301.0)])
    assert (told.code, told.severity, told.found) == ("made-again", "info", "shell 40")
    assert made_again(pattern(), []) == ()


def test_a_build_after_a_fix_mends_the_kept_lay_and_searches_nothing(tmp_path, monkeypatch):
    """The hem of the small pattern is let down by 2 mm; the kept lays of both sizes are in its lays.json."""
    monkeypatch.setattr(lays_step, "search_lays", lambda *_: pytest.fail("a lay was searched"))
    folder = tmp_path / "tea-apron"
    shutil.copytree(SMALL, folder)
    lengths, told = cloth(folder, tmp_path / "before")
    assert told == []
    text = (folder / "pattern.toml").read_text(encoding="utf-8")
    assert 'allowance = "4 cm"' in text
    (folder / "pattern.toml").write_text(text.replace('allowance = "4 cm"', 'allowance = "42 mm"'), encoding="utf-8")
    longer, told = cloth(folder, tmp_path / "after")
    assert told == ["made-again"]
    assert all(0 <= new - old < 10 for old, new in zip(lengths, longer, strict=True))


def cloth(folder, work):
    """Lengths of all lays, and what was told, by the steps themselves."""
    pieces = [work / f"{size}.json" for size in "SM"]
    for size, file in zip("SM", pieces, strict=True):
        pieces_step.main(folder, size, file, work / "read.json")
    lays_step.main(folder, work, pieces, [folder / "lays.json"], work / "lays.json", work / "told.json")
    told = read_json(work / "told.json", FindingsFile).findings
    return [each.lay.length_mm for each in read_json(work / "lays.json", list[Chosen])], [f.code for f in told]

"""No size is told to buy more because a search had bad luck with a smaller one."""

import msgspec
import pytest

from pipeline.lays.even import made_even, uneven
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Placed
from pipeline.lays.proof import faults
from pipeline.lays.saved import lay_key
from pipeline.lays.zone_search import Found
from pipeline.steps import lays as lays_step
from pipeline.work.cache import Answers
from tests.lays.samples import rectangle, request


def size(name: str, width_mm: float, **more: object) -> LayRequest:
    """Two pieces, which lie beside each other on cloth of 400 mm up to a width of 199 mm."""
    items = (rectangle("a", 300, width_mm, 1), rectangle("b", 300, width_mm, 1))
    return msgspec.structs.replace(request(items, 400, gap_mm=2.0, **more), size=name)


def lay(*places: tuple[str, float, float], length_mm: float) -> Lay:
    placed = tuple(Placed(item=item, x_mm=x, y_mm=y, angle_deg=0, layers="one") for item, x, y in places)
    return Lay(folded=False, length_mm=length_mm, placed=placed, seed=1, seconds=1)


SMALL, LARGE = size("S", 180.0), size("L", 190.0)
BESIDE = lay(("a", 0.0, 100.0), ("b", 0.0, 300.0), length_mm=300.0)
BEHIND = lay(("a", 0.0, 200.0), ("b", 302.0, 200.0), length_mm=602.0)
LAYS = {lay_key(SMALL): BEHIND, lay_key(LARGE): BESIDE}


def test_the_lays_of_this_test_hold() -> None:
    assert [faults(one, each) for one, each in ((SMALL, BESIDE), (SMALL, BEHIND), (LARGE, BESIDE))] == [(), (), ()]


def test_a_smaller_size_with_a_longer_lay_takes_that_of_the_larger() -> None:
    assert uneven((SMALL, LARGE), LAYS) == (SMALL,)
    (made,) = made_even((SMALL, LARGE), LAYS, {lay_key(SMALL)}).values()
    assert made.length_mm == pytest.approx(300.0, abs=0.1)
    assert faults(SMALL, made) == ()


def test_a_lay_that_is_kept_beside_the_source_stays_as_it_is() -> None:
    assert made_even((SMALL, LARGE), LAYS, {lay_key(LARGE)}) == {}


def test_a_larger_size_may_take_more() -> None:
    lays = {lay_key(SMALL): BESIDE, lay_key(LARGE): BEHIND}
    assert uneven((SMALL, LARGE), lays) == ()
    assert made_even((SMALL, LARGE), lays, lays.keys()) == {}


@pytest.mark.parametrize("other", [{"view": "long"}, {"width_mm": 1500.0}, {"one_way": True}])
def test_other_cloths_and_views_say_nothing(other: dict[str, object]) -> None:
    apart = msgspec.structs.replace(LARGE, **other)
    assert uneven((SMALL, apart), {lay_key(SMALL): BEHIND, lay_key(apart): BESIDE}) == ()


def test_what_no_other_lay_helps_is_searched_again_for_longer_and_remembered(tmp_path, monkeypatch) -> None:
    """The larger size's lay is of other pieces: nothing can be made of it."""
    other = msgspec.structs.replace(LARGE, items=(rectangle("c", 300, 390, 1),))
    shorter = lay(("c", 0.0, 200.0), length_mm=300.0)
    asked: list[tuple[str | None, int]] = []

    def search(requests, seconds):
        asked.extend((each.size, seconds) for each in requests)
        return [Found(BESIDE) for _ in requests]

    monkeypatch.setattr(lays_step, "search_lays", search)
    before = Answers(tmp_path / "found", "pipeline.lays.search")
    lays = {lay_key(SMALL): BEHIND, lay_key(other): shorter}
    made = lays_step._made_even((SMALL, other), lays, lays.keys(), 2, before)
    assert asked == [("S", 8)]
    assert made == {lay_key(SMALL): BESIDE}
    before.save()
    assert Answers(tmp_path / "found", "pipeline.lays.search").known((lay_key(SMALL), 2), Found) == Found(BESIDE)


def test_lays_that_another_build_found_lie_as_they_did(tmp_path, monkeypatch) -> None:
    """A fix of one size changes no other's length to buy, though the mended size would have taught it better."""
    monkeypatch.setattr(lays_step, "search_lays", lambda requests, seconds: pytest.fail("nothing is to be searched"))
    before = Answers(tmp_path / "found", "pipeline.lays.search")
    assert lays_step._made_even((SMALL, LARGE), LAYS, {lay_key(LARGE)}, 2, before) == {}

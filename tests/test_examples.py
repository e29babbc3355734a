"""The steady profile of `conftest.py`: a property is tried on the same examples, whatever else is loaded."""

import importlib.util
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def examples() -> list[tuple[int, float]]:
    tried = []

    @given(st.integers(0, 10**6), st.floats(0, 10**6))
    @settings(max_examples=200, database=None)
    def remember(whole: int, part: float) -> None:
        tried.append((whole, part))

    remember()
    return tried


@pytest.mark.skipif(settings.get_current_profile_name() != "steady", reason="the nightly run explores")
def test_a_module_that_is_loaded_meanwhile_changes_no_example(tmp_path: Path):
    before = examples()
    place = tmp_path / "numbers_of_another_room.py"
    place.write_text(f"NUMBERS = {[7919 * k for k in range(1, 100)]}\nPARTS = {[7919.25 * k for k in range(1, 100)]}\n")
    found = importlib.util.spec_from_file_location("numbers_of_another_room", place)
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(sys.modules, found.name, module)
        found.loader.exec_module(module)
        assert examples() == before
    assert len(set(before)) > 100

"""A bundle is complete or absent, whatever interrupts the swap."""

from pathlib import Path

import pytest

from pipeline.bundle.swap import beside, recover, swap


def _bundle(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "a4.pdf").write_text(text)
    return folder


def test_new_bundle_replaces_the_old_one_whole(tmp_path: Path):
    place = _bundle(tmp_path / "1.0.0", "old")
    (place / "stray.txt").write_text("left over")
    swap(_bundle(beside(place), "new"), place)
    assert [path.name for path in tmp_path.iterdir()] == ["1.0.0"]
    assert [path.name for path in place.iterdir()] == ["a4.pdf"]
    assert (place / "a4.pdf").read_text() == "new"


def test_other_versions_are_not_touched(tmp_path: Path):
    other = _bundle(tmp_path / "0.9.0", "sold")
    place = tmp_path / "1.0.0"
    swap(_bundle(beside(place), "new"), place)
    assert (other / "a4.pdf").read_text() == "sold"


def test_a_run_that_finds_only_the_old_one_puts_it_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    place = _bundle(tmp_path / "1.0.0", "old")
    new = _bundle(beside(place), "new")
    rename = Path.rename

    def stopped(self: Path, target: Path) -> Path:
        if self == new:
            raise KeyboardInterrupt
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", stopped)
    with pytest.raises(KeyboardInterrupt):
        swap(new, place)
    assert not place.exists()
    monkeypatch.undo()
    recover(place)
    assert (place / "a4.pdf").read_text() == "old"


def test_leftovers_of_a_stopped_build_are_not_built_upon(tmp_path: Path):
    place = tmp_path / "1.0.0"
    _bundle(beside(place), "half")
    assert list(beside(place).iterdir()) == []

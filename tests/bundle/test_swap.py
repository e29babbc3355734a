"""A bundle is complete or absent, whatever interrupts the swap, and never absent where names can be exchanged."""

import contextlib
import os
from pathlib import Path

import pytest

from pipeline.bundle import swap as swapping
from pipeline.bundle.swap import beside, recover, swap


def _bundle(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "a4.pdf").write_text(text)
    return folder


@pytest.fixture(params=["in one step", "by two renames"])
def release(request, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A release folder on a system that can exchange names, and on one that cannot."""
    if request.param == "by two renames":
        monkeypatch.setattr(swapping, "_exchange", lambda one, other: False)
    return tmp_path


def test_new_bundle_replaces_the_old_one_whole(release: Path):
    place = _bundle(release / "coat/1.0.0", "old")
    (place / "stray.txt").write_text("left over")
    swap(_bundle(beside(place), "new"), place)
    assert [path.name for path in place.parent.iterdir()] == ["1.0.0"]
    assert [path.name for path in place.iterdir()] == ["a4.pdf"]
    assert (place / "a4.pdf").read_text() == "new"


def test_other_versions_are_not_touched(release: Path):
    other = _bundle(release / "coat/0.9.0", "sold")
    place = release / "coat/1.0.0"
    swap(_bundle(beside(place), "new"), place)
    assert (other / "a4.pdf").read_text() == "sold"


def test_stopped_before_any_call_of_the_system_a_whole_bundle_stands_or_is_put_back(release: Path, monkeypatch):
    """Each rename and each removal in turn is where the process dies."""
    for stop_at in range(6):
        place = _bundle(release / f"coat-{stop_at}/1.0.0", "old")
        new = _bundle(beside(place), "new")
        calls = iter(range(100))

        def dying(act, calls=calls, stop_at=stop_at):
            def call(*words, **named):
                if next(calls) == stop_at:
                    raise KeyboardInterrupt
                return act(*words, **named)

            return call

        with monkeypatch.context() as patch:
            patch.setattr(os, "rename", dying(os.rename))
            patch.setattr(Path, "rename", dying(Path.rename))
            patch.setattr(swapping.shutil, "rmtree", dying(swapping.shutil.rmtree))
            with contextlib.suppress(KeyboardInterrupt):
                swap(new, place)
        recover(release)
        assert (place / "a4.pdf").read_text() in ("old", "new")
        assert [path.name for path in place.parent.iterdir()] == ["1.0.0"]


def test_every_version_of_every_pattern_is_put_back(release: Path):
    for name in ("coat/.1.0.0.old", "coat/.0.9.0.old", "gone-from-source/.2.1.0.old"):
        _bundle(release / name, "old")
    recover(release)
    assert {path.parent.name for path in release.rglob("a4.pdf")} == {"1.0.0", "0.9.0", "2.1.0"}


def test_leftovers_of_a_stopped_build_are_cleared_and_not_built_upon(release: Path):
    place = release / "coat/1.0.0"
    _bundle(beside(place), "half")
    assert list(beside(place).iterdir()) == []
    recover(release)
    assert list((release / "coat").iterdir()) == []


def test_linux_exchanges_two_names_in_one_step(tmp_path: Path):
    one, other = _bundle(tmp_path / "one", "1"), _bundle(tmp_path / "other", "2")
    if not swapping._exchange(one, other):
        pytest.skip("this file system cannot exchange names")
    assert ((one / "a4.pdf").read_text(), (other / "a4.pdf").read_text()) == ("2", "1")

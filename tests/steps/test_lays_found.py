"""A lay that is not kept beside the source is searched once a work folder, not at each fix of another size."""

import shutil
from pathlib import Path

import pytest

from pipeline.lays.saved import Chosen
from pipeline.steps import lays
from pipeline.work.files import read_json
from tests.by_steps import apron_with, cut_sizes


class Room:
    """The apron with a work folder; counts which lays are searched."""

    def __init__(self, folder: Path) -> None:
        self.work, self.source = folder / "work", apron_with(folder / "tea-apron", "[lays]\nseconds = 1\n")
        self.searched: list[str] = []

    def search(self, requests, seconds):
        self.searched += [request.size for request in requests]
        return self.real(requests, seconds)

    def lay(self) -> list[Chosen]:
        self.searched.clear()
        self.work.mkdir(exist_ok=True)
        cut = cut_sizes(self.source, self.work, ["S", "M"])
        lays.main(self.source, self.work, cut, [], self.work / "lays.json", self.work / "told.json")
        return read_json(self.work / "lays.json", list[Chosen])


@pytest.fixture
def room(tmp_path, monkeypatch) -> Room:
    made = Room(tmp_path)
    made.real = lays.search_lays
    made.search.__func__.__module__ = lays.search_lays.__module__
    monkeypatch.setattr(lays, "search_lays", made.search)
    return made


def test_what_was_found_in_one_build_lies_so_in_the_next(room):
    first = room.lay()
    assert set(room.searched) == {"S", "M"}
    assert room.lay() == first
    assert room.searched == []


def test_a_fix_of_one_size_searches_that_size_alone(room):
    before = {each.request.size: each for each in room.lay()}
    sizes = room.source / "sizes"
    real = sizes.resolve()
    sizes.unlink()
    shutil.copytree(real, sizes)
    band = sizes / "M/band.svg"
    band.write_text(band.read_text(encoding="utf-8").replace("60", "58"), encoding="utf-8")  # 2 mm narrower
    after = {each.request.size: each for each in room.lay()}
    assert set(room.searched) == {"M"}
    assert after["S"] == before["S"]
    assert after["M"] != before["M"]


def test_more_seconds_search_again(room):
    room.lay()
    file = room.source / "pattern.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("seconds = 1", "seconds = 2"), encoding="utf-8")
    room.lay()
    assert set(room.searched) == {"S", "M"}

"""What stands in a work folder after a run was stopped, harmed or undone: only what the source would give again."""

import os
import time
from pathlib import Path

import pytest

from pipeline.work.files import hash_file, write
from pipeline.work.receipts import Job, hashes, job_of, read_receipt, write_receipt
from pipeline.work.stale import restore, restore_all, set_stale_aside, sound_files

PATTERN = "coat"


class Workroom:
    """A source of one master; a job that cuts it, and one that draws what was cut into a folder."""

    def __init__(self, work: Path) -> None:
        self.work = work
        self.master = work / PATTERN / "source" / PATTERN / "front.svg"
        self.cut, self.drawn = work / PATTERN / "cut.json", work / PATTERN / "out/drawn"
        self.depends = {"cut": "shape", "draw": "text"}
        self.did: list[str] = []
        write(self.master, b"master")

    def job(self, name: str) -> Job:
        return job_of(self.work, self.work / PATTERN / "log" / f"{name}.log")

    def do(self, name: str, inputs: list[Path], outputs: list[Path], make) -> None:
        """As a job runs: taken back, or made and noted."""
        if all(path.exists() for path in outputs):
            return
        content = hashes(self.work, inputs)
        if not restore(self.job(name), self.depends[name], content):
            self.did.append(name)
            make()
            write_receipt(self.job(name), self.depends[name], content, outputs)

    def run(self) -> list[str]:
        """A whole run; what was really done."""
        self.hold()
        self.did = []
        self.do("cut", [self.master], [self.cut], lambda: write(self.cut, b"cut " + self.master.read_bytes().strip()))
        self.do("draw", [self.cut], [self.drawn], self._draw)
        return self.did

    def hold(self, by_content: bool = False) -> None:
        sources = {self.master.relative_to(self.work).as_posix(): hash_file(self.master)}
        depends = lambda folder, name: self.depends.get(name)  # noqa: E731
        set_stale_aside(self.work, [PATTERN], depends, sources, by_content)

    def _draw(self) -> None:
        for name in ("a.svg", "b.svg"):
            write(self.drawn / name, name.encode() + self.cut.read_bytes())

    def standing(self) -> set[str]:
        places = (self.cut, self.drawn / "a.svg", self.drawn / "b.svg")
        return {path.name for path in places if path.exists()}


@pytest.fixture
def room(tmp_path: Path) -> Workroom:
    room = Workroom(tmp_path / "work")
    assert room.run() == ["cut", "draw"]
    return room


ALL = {"cut.json", "a.svg", "b.svg"}


def test_a_second_run_does_nothing(room: Workroom):
    assert room.run() == []
    assert room.standing() == ALL


def test_a_changed_master_does_all_again_and_its_undoing_takes_back_what_was(room: Workroom):
    write(room.master, b"other")
    assert room.run() == ["cut", "draw"]
    assert (room.drawn / "a.svg").read_bytes() == b"a.svgcut other"
    write(room.master, b"master")
    assert room.run() == ["cut", "draw"]
    assert (room.drawn / "a.svg").read_bytes() == b"a.svgcut master"


def test_what_is_made_of_equal_content_is_taken_back_and_not_made(room: Workroom):
    write(room.master, b"master ")
    assert room.run() == ["cut"]
    assert room.standing() == ALL
    assert room.run() == []


def test_one_process_takes_back_all_that_is_made_of_equal_content(room: Workroom):
    write(room.master, b"master ")
    room.hold()
    room.do("cut", [room.master], [room.cut], lambda: write(room.cut, b"cut master"))
    assert room.standing() == {"cut.json"}
    restore_all(room.work, PATTERN, {"draw": "other text"})
    assert room.standing() == {"cut.json"}
    restore_all(room.work, PATTERN, {"draw": "text"})
    assert room.standing() == ALL
    assert room.run() == []


def test_dates_say_nothing(room: Workroom):
    for offset_s in (-1e9, 0, 1e9):
        write(room.master, b"master")
        os.utime(room.master, (time.time() + offset_s,) * 2)
        assert room.run() == []
    write(room.master, b"other")
    os.utime(room.master, (1, 1))
    assert room.run() == ["cut", "draw"]


def test_what_was_made_under_a_clock_that_was_ahead_is_dated_back(room: Workroom):
    mark = room.drawn / ".snakemake_timestamp"  # the engine's date of a folder
    mark.touch()
    ahead = (room.cut, room.master, mark)
    for file in ahead:
        os.utime(file, (time.time() + 1e6,) * 2)
    room.hold()
    assert [file for file in ahead if file.stat().st_mtime > time.time()] == []
    assert room.run() == []


@pytest.mark.parametrize(
    ("harm", "standing", "done"),
    [
        ("a file of a folder is gone", {"cut.json"}, ["draw"]),
        ("a file was cut off", {"cut.json"}, ["draw"]),
        ("a file was changed", {"cut.json"}, ["draw"]),
        ("an intermediate is gone", set(), ["cut"]),
        ("a receipt is gone", {"cut.json"}, ["draw"]),
        ("a receipt cannot be read", {"cut.json"}, ["draw"]),
        ("the receipt of what it is made of is gone", set(), ["cut"]),
        ("other settings", {"cut.json"}, ["draw"]),
        ("other code of all", set(), ["cut", "draw"]),
    ],
)
def test_what_was_harmed_or_left_unfinished_goes_with_all_that_was_made_of_it(room: Workroom, harm, standing, done):
    drawing = room.drawn / "b.svg"
    match harm:
        case "a file of a folder is gone":
            drawing.unlink()
        case "a file was cut off":
            drawing.write_bytes(drawing.read_bytes()[:3])
        case "a file was changed":
            drawing.write_bytes(drawing.read_bytes().replace(b"c", b"k"))
        case "an intermediate is gone":
            room.cut.unlink()
        case "a receipt is gone":
            room.job("draw").receipt.unlink()
        case "a receipt cannot be read":
            room.job("draw").receipt.write_bytes(b"{")
        case "the receipt of what it is made of is gone":
            room.job("cut").receipt.unlink()
        case "other settings":
            room.depends["draw"] = "other text"
        case "other code of all":
            room.depends = {"cut": "other", "draw": "other"}
    room.hold()
    assert room.standing() == standing
    assert room.run() == done
    assert room.standing() == ALL
    assert room.run() == []


def test_a_file_of_the_same_size_and_date_is_seen_where_dates_are_not_trusted(room: Workroom):
    drawing = room.drawn / "b.svg"
    found = drawing.stat()
    drawing.write_bytes(bytes(found.st_size))
    os.utime(drawing, ns=(found.st_atime_ns, found.st_mtime_ns))
    room.hold()
    assert room.standing() == ALL
    room.hold(by_content=True)
    assert room.standing() == {"cut.json"}


def test_a_former_file_that_was_harmed_is_not_taken_back(room: Workroom):
    write(room.master, b"master ")
    room.hold()
    former = room.job("draw").former / room.drawn.relative_to(room.work) / "a.svg"
    former.write_bytes(b"?" * former.stat().st_size)
    assert room.run() == ["cut", "draw"]


def test_files_of_no_receipt_go_and_what_is_no_output_stays(room: Workroom):
    stray, caches, log = (room.work / PATTERN / name for name in ("out/.a.svg.12", "cache/x", "log/draw.log"))
    for path in (stray, caches, log):
        write(path, b"x")
    room.hold()
    assert not stray.exists()
    assert caches.exists()
    assert log.exists()
    assert room.master.exists()


def test_stopped_before_any_move_of_what_is_set_aside_the_next_run_is_whole(room: Workroom, monkeypatch):
    for stop_at in range(12):
        write(room.master, b"other %d" % stop_at)
        calls = iter(range(100))
        replace = Path.replace

        def dying(self, target, calls=calls, stop_at=stop_at, replace=replace):
            if next(calls) == stop_at:
                raise KeyboardInterrupt
            return replace(self, target)

        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", dying)
            try:
                room.hold()
                room.run()
            except KeyboardInterrupt:
                pass
        room.run()
        assert (room.drawn / "b.svg").read_bytes() == b"b.svgcut other %d" % stop_at
        assert room.run() == []


def test_sound_files_are_those_made_of_one_another_and_of_this_source(room: Workroom):
    sources = {room.master.relative_to(room.work).as_posix(): hash_file(room.master)}
    assert {path.name for path in sound_files(room.work, PATTERN, sources)} == ALL
    other = dict.fromkeys(sources, "of another source")
    assert sound_files(room.work, PATTERN, other) == set()
    receipt = read_receipt(room.job("cut").receipt)
    assert receipt is not None
    room.cut.write_bytes(b"cut by hand")
    assert {path.name for path in sound_files(room.work, PATTERN, sources)} == set()

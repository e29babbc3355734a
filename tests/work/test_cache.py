"""What is saved equals what would be made, to the byte, and is made anew when anything that it is made of changes."""

from functools import partial

import msgspec
import pytest

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.work import cache as cache_room
from pipeline.work.cache import Cache
from tests.drawing.stack_factory import P, collar, pattern_of, stack, tab

PATTERN = pattern_of("collar", "tab")
CODE = "pipeline.drawing.piece.pieces"


class Workroom:
    """Draws stacks through a folder of saved drawings, a run at a time, and notes which were drawn and not read."""

    def __init__(self, folder):
        self.folder, self.drawn = folder, []

    def run(self, *stacks, pattern=PATTERN, turns=0, code=CODE):
        cache = Cache(self.folder, code)
        made = [
            cache.value_of((pattern, cuts, turns), partial(self._draw, pattern, cuts, turns), tuple[Drawing, ...])
            for cuts in stacks
        ]
        cache.forget_others()
        return made

    def _draw(self, pattern, cuts, turns):
        self.drawn.append(next(iter(cuts.values())).piece)
        return draw_nest(pattern, cuts, turns)


@pytest.fixture
def workroom(tmp_path):
    return Workroom(tmp_path)


def test_only_the_changed_stack_is_drawn_again_and_the_rest_is_the_same_to_the_byte(workroom):
    cuts = {"collar": stack(collar), "tab": stack(tab)}
    fresh = workroom.run(*cuts.values())
    assert workroom.drawn == ["collar", "tab"]
    changed = {**cuts["tab"], "34": msgspec.structs.replace(cuts["tab"]["34"], clips=((P(0, 0), P(0, 2)),))}
    again, anew = workroom.run(cuts["collar"], changed)
    assert msgspec.json.encode(again) == msgspec.json.encode(fresh[0])
    assert anew == draw_nest(PATTERN, changed, 0)
    assert workroom.drawn == ["collar", "tab", "tab"]


@pytest.mark.parametrize(
    "other",
    [
        {"turns": 1},
        {"pattern": msgspec.structs.replace(PATTERN, version="1.0.1")},
        {"code": "pipeline.press.preview"},
    ],
)
def test_a_turn_a_text_of_the_pattern_and_the_code_count_too(workroom, other):
    workroom.run(stack(tab))
    workroom.run(stack(tab))
    assert workroom.drawn == ["tab"]
    workroom.run(stack(tab), **other)
    assert workroom.drawn == ["tab", "tab"]


def test_what_is_no_longer_used_is_removed(workroom):
    workroom.run(stack(tab))
    workroom.run(stack(collar))
    assert len(list(workroom.folder.iterdir())) == 1


@pytest.mark.parametrize("harm", [lambda data: b"", lambda data: data[:-1], lambda data: data[:-1] + b"?"])
def test_a_file_that_was_harmed_is_made_anew(workroom, harm):
    (fresh,) = workroom.run(stack(tab))
    (file,) = workroom.folder.iterdir()
    file.write_bytes(harm(file.read_bytes()))
    assert workroom.run(stack(tab)) == [fresh]
    assert workroom.drawn == ["tab", "tab"]


def test_what_another_library_made_is_made_anew(workroom, monkeypatch):
    workroom.run(stack(collar))
    monkeypatch.setattr(cache_room, "all_versions", lambda: ("another one",))
    workroom.run(stack(collar))
    assert workroom.drawn == ["collar", "collar"]

"""Kept drawings equal fresh ones to the byte, and are drawn anew when anything that they are made of changes."""

import msgspec
import pytest

from pipeline.drawing.pieces import draw_stack
from pipeline.steps.kept_drawings import KeptDrawings
from tests.drawing.stack_factory import P, collar, pattern_of, stack, tab

PATTERN = pattern_of("collar", "tab")


@pytest.fixture
def drawn(monkeypatch):
    """The pieces that were drawn and not read."""
    names = []

    def counted(pattern, cuts, quarter_turns, joints):
        names.append(next(iter(cuts.values())).piece)
        return draw_stack(pattern, cuts, quarter_turns, joints=joints)

    counted.__module__ = draw_stack.__module__
    return counted, names


def test_only_the_changed_stack_is_drawn_again_and_the_rest_is_the_same_to_the_byte(tmp_path, drawn):
    draw, names = drawn
    cuts = {"collar": stack(collar), "tab": stack(tab)}
    first = KeptDrawings(tmp_path, PATTERN, draw)
    fresh = [first.drawn(each, 0) for each in cuts.values()]
    assert names == ["collar", "tab"]
    changed = {**cuts["tab"], "34": msgspec.structs.replace(cuts["tab"]["34"], clips=((P(0, 0), P(0, 2)),))}
    second = KeptDrawings(tmp_path, PATTERN, draw)
    assert msgspec.json.encode(second.drawn(cuts["collar"], 0)) == msgspec.json.encode(fresh[0])
    assert second.drawn(changed, 0) == draw_stack(PATTERN, changed, 0)
    assert names == ["collar", "tab", "tab"]


def test_a_turn_or_a_text_of_the_pattern_counts_too(tmp_path, drawn):
    draw, names = drawn
    cuts = stack(tab)
    KeptDrawings(tmp_path, PATTERN, draw).drawn(cuts, 0)
    KeptDrawings(tmp_path, PATTERN, draw).drawn(cuts, 1)
    KeptDrawings(tmp_path, msgspec.structs.replace(PATTERN, version="1.0.1"), draw).drawn(cuts, 0)
    assert names == ["tab", "tab", "tab"]


def test_what_is_no_longer_used_is_removed(tmp_path, drawn):
    draw, _ = drawn
    kept = KeptDrawings(tmp_path, PATTERN, draw)
    kept.drawn(stack(tab), 0)
    later = KeptDrawings(tmp_path, PATTERN, draw)
    later.drawn(stack(collar), 0)
    later.forget_others()
    assert len(list(tmp_path.iterdir())) == 1

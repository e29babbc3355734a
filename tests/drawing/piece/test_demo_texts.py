"""Every text of the demos can be read: in nests of all sizes, and in the files of one size alone."""

from collections import Counter
from collections.abc import Callable, Iterable

import pytest

from pipeline.drawing.wording import size_label
from tests.drawing.demo_nests import DEMOS, Drawn, alone, demo, nested
from tests.drawing.legibility import (
    Fault,
    foreign_lines,
    lines_through_texts,
    notches_on_joints,
    texts_on_joints,
    texts_on_texts,
)
from tests.drawing.seen import texts

TILED = ("a4", "letter")
ALONE = {"work-jacket": "52", "child-pinafore": "110"}
"""The jacket's narrow collar has least room in size 52, where the joints of both papers pass its middle."""
MOST_NOTCHES_ON_JOINTS = 0.02
"""Where notches lie against joints is the layout's: stacks that lie close to others cannot be moved off every one."""

Told = dict[tuple[str, str], list[Fault]]
"""Faults by pattern and piece."""


@pytest.fixture(scope="module")
def nests() -> list[Drawn]:
    return [drawn for name in DEMOS for drawn in nested(name)]


@pytest.fixture(scope="module")
def singles() -> list[Drawn]:
    return [drawn for name, size in ALONE.items() for drawn in alone(name, size)]


@pytest.fixture(params=["nests", "singles"])
def stacks(request: pytest.FixtureRequest) -> list[Drawn]:
    return request.getfixturevalue(request.param)


def told(stacks: Iterable[Drawn], look: Callable[[Drawn], Iterable[Fault]]) -> Told:
    faults = {(drawn.pattern, drawn.piece): list(look(drawn)) for drawn in stacks}
    return {place: found for place, found in faults.items() if found}


def test_no_line_of_any_size_crosses_a_text(stacks: list[Drawn]) -> None:
    assert told(stacks, lambda drawn: lines_through_texts(drawn.drawings)) == {}


def test_no_text_lies_on_another(stacks: list[Drawn]) -> None:
    assert told(stacks, lambda drawn: texts_on_texts(drawn.drawings)) == {}


def test_no_line_of_another_size_is_broken_for_a_text(stacks: list[Drawn]) -> None:
    """A size stands in its own line alone, so that nobody has to guess whose it is."""
    assert told(stacks, lambda drawn: foreign_lines(drawn.drawings, drawn.cuts, drawn.quarter_turns)) == {}


def test_every_text_block_stands_on_one_page(stacks: list[Drawn]) -> None:
    def blocks(drawn: Drawn) -> list[Fault]:
        joints = {paper: own for paper, own in drawn.joints.items() if paper in TILED}
        return [fault for fault in texts_on_joints(drawn.drawings, joints) if fault.kind == "block on joint"]

    assert told(stacks, blocks) == {}


def test_few_notches_lie_on_joints(nests: list[Drawn]) -> None:
    notches = sum(len(cut.slits) for drawn in nests for cut in drawn.cuts.values())
    parted = [
        fault
        for drawn in nests
        for fault in notches_on_joints(drawn.cuts, drawn.quarter_turns, drawn.joints)
        if fault.by in TILED
    ]
    assert len(parted) <= MOST_NOTCHES_ON_JOINTS * len(TILED) * notches


def test_every_size_is_named_at_its_own_lines(nests: list[Drawn]) -> None:
    """Beside the block: alone, or among those that share a line, for every size of every piece."""
    for drawn in nests:
        pattern = demo(drawn.pattern)[0]
        seen: Counter[str] = Counter()
        for text in texts(drawn.drawings):
            if text.anchor == "middle" and text.content.endswith(size_label(text.sizes, pattern)):
                seen.update(text.sizes)
        assert set(seen) == set(drawn.cuts), (drawn.pattern, drawn.piece)

"""A job runs again for every key of a pattern that its step reads: what it is not held against, it never looks at."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.pattern import Material, Pattern, Strip
from pipeline.model.piece_specs import EdgeSpec, MarkSpec, PieceSpec, Take
from pipeline.rules.depends import RULES, cloth_part, counts_part, exchange_part, shape_part, sheets_part, text_part
from pipeline.steps import data, exchange, layout, lays, pieces
from tests.by_steps import cut_sizes

SKIRT = Path(__file__).resolve().parents[2] / "source/half-circle-skirt"
OF_EVERY_JOB = {("Pattern", "name"), ("Pattern", "sizes")}
"""The one is the folder's, the other counts for all."""
WITHIN = {"pieces": PieceSpec, "strips": Strip, "materials": Material}
Read = set[tuple[str, str]]


class Watched:
    """Patterns that note which of their keys, and of their pieces', strips' and materials', are looked at."""

    def __init__(self) -> None:
        self.read: Read = set()
        self.kinds = {kind: self._watching(kind) for kind in (Pattern, *WITHIN.values())}

    def _watching(self, kind: Any) -> Any:
        fields, read = {field.name for field in msgspec.structs.fields(kind)}, self.read

        def look(value: Any, name: str) -> Any:
            if name in fields:
                read.add((kind.__name__, name))
            return kind.__getattribute__(value, name)

        return type(kind)(f"Watched{kind.__name__}", (kind,), {"__getattribute__": look}, frozen=True)

    def load(self, folder: Path) -> tuple[Any, Any]:
        pattern, findings = load_pattern(folder)
        return self._watch(pattern), findings

    def _watch(self, value: Any) -> Any:
        if type(value) in self.kinds:
            fields = msgspec.structs.fields(type(value))
            return self.kinds[type(value)](**{field.name: self._watch(getattr(value, field.name)) for field in fields})
        return {name: self._watch(each) for name, each in value.items()} if isinstance(value, dict) else value


def counted(pattern: Pattern, part: Callable[[Pattern], Any]) -> Read:
    """The keys that change what a job is held against."""
    was = msgspec.json.encode(part(pattern))

    def counts(other: Pattern) -> bool:
        try:
            return msgspec.json.encode(part(other)) != was
        except AttributeError:  # it looked into what is another thing now
            return True

    found: Read = set()
    for field in msgspec.structs.fields(Pattern):
        if counts(msgspec.structs.replace(pattern, **{field.name: "other"})):
            found.add(("Pattern", field.name))
    for owners, kind in WITHIN.items():
        name, owner = next(iter(getattr(pattern, owners).items()))
        for field in msgspec.structs.fields(kind):
            other = {**getattr(pattern, owners), name: msgspec.structs.replace(owner, **{field.name: "other"})}
            if counts(msgspec.structs.replace(pattern, **{owners: other})):
                found.add((kind.__name__, field.name))
    return found


@pytest.fixture(scope="module")
def cut(tmp_path_factory) -> list[Path]:
    place = tmp_path_factory.mktemp("cut")
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    return cut_sizes(SKIRT, place, pattern.sizes)


@pytest.mark.parametrize(
    ("step", "part", "run"),
    [
        (pieces, shape_part, lambda cut, at: pieces.main(SKIRT, "10", at / "10.json", at / "read.json")),
        (lays, cloth_part, lambda cut, at: lays.main(SKIRT, at, cut, [SKIRT / "lays.json"], at / "lays", at / "told")),
        (
            layout,
            sheets_part,
            lambda cut, at: layout.main(SKIRT, cut, [SKIRT / "layout.json"], *(at / str(n) for n in range(4))),
        ),
        (data, counts_part, lambda cut, at: data.main(SKIRT, cut, at / "data.json")),
        (exchange, exchange_part, lambda cut, at: exchange.main(SKIRT, cut, at / "all.dxf")),
    ],
)
def test_what_a_step_reads_counts(step, part, run, cut, tmp_path, monkeypatch):
    watched = Watched()
    monkeypatch.setattr(step, "load_pattern", watched.load)
    run(cut, tmp_path)
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    assert watched.read, "nothing was watched"
    assert watched.read - counted(pattern, part) - OF_EVERY_JOB == set()


def test_lays_are_held_against_what_darts_take_up_of_the_edges_that_strips_are_as_long_as():
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    name, piece = next(iter(pattern.pieces.items()))
    darted = msgspec.structs.replace(piece, edges={**piece.edges, "waist": EdgeSpec(takes=(Take("a", "b", "dart"),))})
    assert cloth_part(msgspec.structs.replace(pattern, pieces={**pattern.pieces, name: darted})) != cloth_part(pattern)


def test_guides_between_sizes_are_drawn_and_cut_nothing():
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    name, piece = next(iter(pattern.pieces.items()))
    blended = msgspec.structs.replace(piece, edges={**piece.edges, "waist": EdgeSpec(blend=True)})
    plain = msgspec.structs.replace(piece, edges={**piece.edges, "waist": EdgeSpec()})
    with_guides, without = (
        msgspec.structs.replace(pattern, pieces={**pattern.pieces, name: each}) for each in (blended, plain)
    )
    assert shape_part(with_guides) == shape_part(without)
    assert text_part(with_guides) != text_part(without)


POCKETS = parse_marks("marks panel-long.pocket")


@pytest.mark.parametrize("said", [{"count": {"10": 4}}, {"count": None, "marks": POCKETS}])
def test_how_many_of_a_notion_there_are_is_told_by_tables_alone(said):
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    notions = {**pattern.notions, "hook": msgspec.structs.replace(pattern.notions["hook"], **said)}
    other = msgspec.structs.replace(pattern, notions=notions)
    assert [name for name, rule in RULES.items() if rule.part(other) != rule.part(pattern)] == ["tables"]
    assert shape_part(other) == shape_part(pattern)


def test_a_side_or_size_that_a_mark_gets_is_told_by_tables():
    pattern, _ = load_pattern(SKIRT)
    assert pattern is not None
    for mark in (MarkSpec(side="left"), MarkSpec(sizes=("10",))):
        panel = msgspec.structs.replace(pattern.pieces["panel-long"], point_marks={"pocket": mark})
        other = msgspec.structs.replace(pattern, pieces={**pattern.pieces, "panel-long": panel})
        assert RULES["tables"].part(other) != RULES["tables"].part(pattern)
        assert shape_part(other) == shape_part(pattern)
        assert cloth_part(other) == cloth_part(pattern)

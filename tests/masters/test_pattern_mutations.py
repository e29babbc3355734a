"""Whatever stands in `pattern.toml`, reading it ends with a pattern or with findings, never with an exception."""

import tomllib
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from pipeline.masters.toml.convert import convert
from pipeline.masters.toml.faults import Faults
from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.walk import read_document

GOOD = (Path(__file__).parent / "toml_cases" / "good.toml").read_text(encoding="utf-8")
DATA = GOOD.encode()
LINES = GOOD.splitlines()
VALUES = st.one_of(
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=8),
    st.sampled_from(
        ["", "34", "back", "1 cm", "1e400 cm", "9" * 400 + " cm", "-1 cm", "5 %", "back.hem", "all", "long"]
    ),
    st.just([]),
    st.just({}),
    st.lists(st.sampled_from(["34", "36", "long", 3, {}]), max_size=3),
    st.dictionaries(st.sampled_from(["34", "en", "body", "", "a b", "kind"]), st.integers(-1, 3), max_size=2),
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("mutations") / "coat"
    place.mkdir()
    return place


def read(folder: Path, data: bytes) -> None:
    (folder / "pattern.toml").write_bytes(data)
    pattern, findings = load_pattern(folder)
    assert (pattern is None) == bool(findings)
    assert all(finding.message and finding.remedy for finding in findings)


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(st.tuples(st.integers(0, len(DATA) - 1), st.integers(0, 2), st.integers(0, 255)), max_size=4))
def test_changed_bytes(folder: Path, edits: list[tuple[int, int, int]]) -> None:
    data = bytearray(DATA)
    for place, kind, byte in edits:
        at = min(place, len(data) - 1)
        data[at : at + (kind > 0)] = b"" if kind == 1 else bytes([byte])
    read(folder, bytes(data))


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(st.tuples(st.integers(0, len(LINES) - 1), st.integers(0, len(LINES) - 1)), max_size=3))
def test_changed_lines(folder: Path, edits: list[tuple[int, int]]) -> None:
    """Lines left out (where both numbers are alike) or replaced by other lines."""
    lines = [*LINES]
    for place, other in edits:
        lines[place] = "" if place == other else LINES[other]
    read(folder, "\n".join(lines).encode())


def leaves(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(leaf for key, below in inside for leaf in leaves(below, (*path, key)))]


PLACES = leaves(tomllib.loads(GOOD))[1:]


@settings(max_examples=400, deadline=None)
@given(edits=st.lists(st.tuples(st.sampled_from(PLACES), VALUES), min_size=1, max_size=3))
@example(edits=[(("materials", "shell", "shrinkage"), {})])
@example(edits=[(("pattern", "sizes"), [])])
@example(edits=[(("pieces",), [])])
@example(edits=[(("pieces", "front"), 3)])
def test_changed_values(edits: list[tuple[tuple[Any, ...], Any]]) -> None:
    """Any value, table or list replaced by any other one."""
    values = tomllib.loads(GOOD)
    for path, new in edits:
        place: Any = values
        for key in path[:-1]:
            inside = isinstance(place, dict) and key in place
            inside = inside or (isinstance(place, list) and isinstance(key, int) and key < len(place))
            place = place[key] if inside else {}
        named = isinstance(place, dict) and isinstance(path[-1], str)
        if named or (isinstance(place, list) and isinstance(path[-1], int) and path[-1] < len(place)):
            place[path[-1]] = deepcopy(new)
    faults = Faults("coat")
    convert("coat", read_document(values, faults), faults)
    objects = [(finding.code, finding.object) for finding in faults.findings]
    assert len(objects) == len(set(objects)), "nothing is told twice"


@pytest.mark.parametrize("path", PLACES, ids=lambda path: ".".join(map(str, path)))
def test_a_value_of_no_sense_is_told_at_its_key_or_above(path: tuple[Any, ...]) -> None:
    """A date fits nowhere: whatever it replaces, exactly that key is told of, and nothing that uses it."""
    values = tomllib.loads(GOOD)
    place: Any = values
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = tomllib.loads("day = 2020-02-02")["day"]
    faults = Faults("coat")
    convert("coat", read_document(values, faults), faults)
    key = "".join(f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in path)[1:]
    assert [finding.object for finding in faults.findings] == [key]

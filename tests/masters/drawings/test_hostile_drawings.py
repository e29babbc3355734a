"""Drawings that are not what they seem are refused before they cost anything."""

import pytest

from tests.masters.drawings.small import drawing, taken, told

BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]>'


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (BOMB + drawing(), "entities"),
        (drawing(more="<g/>" * 100_001), "too-many-elements"),
        (drawing(more='<path d="M0 0' + "h1" * 60_000 + '"/>'), "too-many-points"),
        (drawing(more="<g>" * 101 + "</g>" * 101), "too-deep"),
        (drawing().replace('width="700mm"', 'width="700"'), "size-pixels"),
        (drawing().replace('width="700mm" height="400mm" ', ""), "size-missing"),
        (drawing()[:500], "not-xml"),
    ],
)
def test_a_hostile_drawing_is_refused(tmp_path, text, code):
    found = taken(tmp_path, text)
    assert code in {code for code, _, _ in told(found)}
    assert not any(name.startswith("sizes/") for name in found.hashes)


def test_a_drawing_of_a_million_objects_is_refused_before_it_is_held_in_memory(tmp_path):
    found = taken(tmp_path, drawing(more="<path/>" * 1_000_000))
    assert ("too-many-elements", None, None) in told(found)
    found = taken(tmp_path, drawing(more=f"<!--{'x' * 20_000_000}-->"))
    assert ("too-large", None, None) in told(found)

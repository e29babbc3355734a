"""A drawing of sizes on two ladders: layers of either ladder say the point together, or are drawn once for a value."""

import pytest

from tests.masters.drawings.small import AROUND, GROWN, HEAD, flap, front, taken, told

SIZES = tuple(GROWN)
AXES = HEAD.replace('sizes = ["s", "m", "l"]\nbase = "m"', 'base = "m-short"') + (
    '[size-axes]\nsize = ["s", "m", "l"]\nlength = ["short", "long"]\n'
)


def point(size: str, length: str) -> str:
    """The front of a point: a long one is longer by 30 mm below its notches."""
    drawn = front(size).replace(f'seam-{size}"', f'seam-{size}-{length}"').replace(f"path-{size}-1", f"{size}-{length}")
    return drawn if length == "short" else drawn.replace(",220 L", ",250 L").replace(f"{230 + GROWN[size]} V", "260 V")


def nest(way) -> str:
    """Fronts of all points on the way that is given, flaps by size alone."""
    fronts = "".join(way(size, length, point(size, length)) for size in SIZES for length in ("short", "long"))
    flaps = "".join(f'<g data-name="Size {size}"><g data-name="Flap">{flap(size)}</g></g>' for size in SIZES)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400">'
        f"{fronts}{flaps}</svg>"
    )


WAYS = {
    "size, then length": '<g data-name="Size {0}"><g data-name="{1}"><g data-name="Front panel">{2}</g></g></g>',
    "length, then size": '<g data-name="Length {1}"><g data-name="Size {0}"><g data-name="front">{2}</g></g></g>',
    "the point": '<g data-name="{0}-{1}"><g data-name="front">{2}</g></g>',
    "the point the other way round": '<g data-name="{1} {0} – Front panel">{2}</g>',
    "the size, then the point": '<g data-name="Size {0}"><g data-name="{0}-{1}"><g data-name="front">{2}</g></g></g>',
}


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS.keys())
def test_layers_of_both_axes_say_the_point_together(way, tmp_path):
    found = taken(tmp_path, nest(way.format), AROUND, AXES)
    assert told(found) == []
    masters = sorted(file.relative_to(tmp_path / "work/bag").as_posix() for file in tmp_path.glob("work/bag/sizes/*/*"))
    assert masters == sorted(
        [f"sizes/{size}-{length}/front.svg" for size in SIZES for length in ("short", "long")]
        + [f"sizes/{size}/flap.svg" for size in SIZES]
    )


def test_two_values_of_one_axis_contradict_each_other(tmp_path):
    way = '<g data-name="Size {0}"><g data-name="s"><g data-name="{1}"><g data-name="front">{2}</g></g></g></g>'
    assert "names-contradict" in {code for code, _, _ in told(taken(tmp_path, nest(way.format), AROUND, AXES))}


def test_layers_of_a_second_ladder_that_nothing_says_are_told_with_what_to_write(tmp_path):
    found = taken(tmp_path, nest('<g data-name="{0} {1}"><g data-name="front">{2}</g></g>'.format), AROUND)
    (finding,) = [each for each in found.findings if each.code == "not-matched"]
    assert finding.remedy == (
        'If "short", "long" are a second ladder of sizes, beside s, m, l, say both in pattern.toml: [size-axes].'
    )


def test_the_name_of_a_ladder_is_understood_in_every_language(tmp_path):
    way = '<g data-name="Size {0}"><g data-name="Länge {1}"><g data-name="front">{2}</g></g></g>'
    assert told(taken(tmp_path, nest(way.format), AROUND, AXES)) == []

"""Seams over darts and pleats are proposed with what these take."""

from tests.masters.drawings.small import GROWN
from tests.starting.from_layers import started

DART = {"dart-a": 70.0, "dart-b": 90.0, "middle": 115.0}


def darted(size: str, notches: dict[str, float] = DART) -> str:
    """A front whose top has these notches, and is 160 mm long in the smallest size."""
    g = GROWN[size]
    top = "".join(f'<circle data-name="{name}" cx="{x + g / 2}" cy="20" r="1"/>' for name, x in notches.items())
    return (
        f'<g data-name="seam"><path d="M20,20 H{180 + g} L{200 + g},220 L10,{230 + g} Z"/></g>'
        f'<g data-name="notches">{top}</g><g data-name="grain"><path d="M60,200 V60"/></g>'
    )


def band(size: str, taken: float = 20.0) -> str:
    """What is sewn to it, once so much of it is sewn away."""
    right = 560 + GROWN[size] - taken
    return (
        f'<g data-name="seam"><path d="M400,20 H{right} L{right - 10},61 L405,57 Z"/></g>'
        '<g data-name="grain"><path d="M440,50 V30"/></g>'
    )


def test_a_seam_over_a_dart_is_proposed_with_what_the_dart_takes(folder):
    layers = {f"front_{size}": darted(size) for size in GROWN} | {f"flap_{size}": band(size) for size in GROWN}
    said = started(folder, **layers)
    assert '# edges.edge-1 = { takes = [{ from = "dart-a", to = "dart-b", kind = "dart" }] }  # proposed' in said
    assert "once the dart from dart-a to dart-b is sewn\n" in said
    assert '# a = ["front-panel.edge-1"]\n# b = ["klappe.edge-1"]' in said


def test_pleats_that_take_up_the_same_are_proposed_together(folder):
    pleats = {"pleat-1a": 60.0, "pleat-1b": 80.0, "pleat-2a": 110.0, "pleat-2b": 130.0}
    layers = {f"front_{size}": darted(size, pleats) for size in GROWN}
    said = started(folder, **layers, **{f"flap_{size}": band(size, 40.0) for size in GROWN})
    one = '{ from = "pleat-1a", to = "pleat-1b", kind = "pleat" }'
    assert f"# edges.edge-1 = {{ takes = [{one}, {one.replace('-1', '-2')}] }}  # proposed" in said


def test_what_takes_up_the_difference_in_some_sizes_alone_is_no_dart(folder):
    layers = {f"front_{size}": darted(size) for size in "sm"} | {f"flap_{size}": band(size) for size in GROWN}
    assert "takes" not in started(folder, **layers, front_l=darted("l", {**DART, "dart-b": 93.0}))

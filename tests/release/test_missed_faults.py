"""Faults of marks, turned parts, strips, hems and zips that were found in no demo once: seeded where they can occur."""

from random import Random

import pytest

from tests.bench.faults import seeded
from tests.bench.kinds_marks import KINDS
from tests.bench.seeding import DEMOS, SOURCE, Demo, names, told_above_info

_NOWHERE = {
    "work-jacket": {"zip longer than its opening", "strip count wrong"},
    "half-circle-skirt": {
        *("dart line off its notches", "piece for the wrong side", "turned part left tapering", "hem uneven by 1 cm"),
        *("allowance 4 mm off its partner", "strip count wrong", "strip grain that does not give"),
    },
    "child-pinafore": {
        *("dart line off its notches", "piece for the wrong side", "turned part left tapering"),
        "zip longer than its opening",
    },
}
"""What a demo has nothing for: a fold line, a dart, a zip with its opening, a strip with a mark."""
_NOWHERE["work-jacket"].add("strip grain that does not give")

_TOLD_ACROSS = {("work-jacket", "hem uneven by 1 cm")}
"""Told at the edges beside it, across their seams: of two hems either may be the wrong one, and both are named."""


@pytest.fixture(scope="module")
def demos(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Demo]:
    room = tmp_path_factory.mktemp("demos")
    return {name: Demo(SOURCE / name, room) for name in DEMOS}


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("title", KINDS)
def test_a_fault_that_was_missed_is_found_and_named(title: str, demo: str, demos: dict[str, Demo]) -> None:
    fault = seeded([demos[demo]], KINDS[title], Random(7))
    assert (fault is None) == (title in _NOWHERE[demo])
    if fault is not None:
        found = told_above_info(demos[demo].findings(fault.changes))
        if (demo, title) in _TOLD_ACROSS:
            assert any(f"{fault.piece}.{fault.edges[0]}" in finding.message for finding in found), fault.told
        else:
            assert any(names(finding, fault, demos[demo].pattern) for finding in found), fault.told

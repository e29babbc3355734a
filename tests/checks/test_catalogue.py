"""The catalogue that designers read is what the registries say."""

import re
from pathlib import Path

from pipeline.bundle import archives
from pipeline.bundle.built_files import BUILT
from pipeline.checks.__main__ import STAGES, catalogue
from pipeline.checks.catalogue import CHECKS, ON_BUILT_FILES, ON_THE_WAY
from pipeline.correction import number
from pipeline.tables import cloth

FILE = Path(__file__).resolve().parents[2] / "source/checks.md"


def test_the_file_is_in_step_with_the_checks():
    assert FILE.read_text(encoding="utf-8") == catalogue(), "run: python -m pipeline.checks > source/checks.md"


def test_every_check_is_told_with_a_source_and_has_an_id_of_its_own():
    ids = [check.id for check in (*CHECKS, *BUILT)]
    assert len(ids) == len(set(ids))
    text = catalogue()
    for check in (*CHECKS, *BUILT):
        assert f"| `{check.id}` |" in text
        assert check.source
        assert check.rationale
        assert check.rationale != check.title


def test_an_id_tells_whether_only_a_build_runs_the_check():
    assert all(check.id.startswith(ON_BUILT_FILES) for check in BUILT)
    assert not any(check.id.startswith(ON_BUILT_FILES) for check in CHECKS)


def test_no_finding_has_an_id_that_the_catalogue_lacks():
    """A stage's id is said once, in its `Stage`; a finding that is built with a text of its own would be in no list."""
    files = sorted((FILE.parents[1] / "pipeline").rglob("*.py"))
    assert not [file.name for file in files if re.search(r'\bcheck="', file.read_text(encoding="utf-8"))]
    told = [stage.id for stage in STAGES]
    assert len(told) == len(set(told))
    assert set(told).isdisjoint(check.id for check in (*CHECKS, *BUILT))
    assert all(f"| `{stage}` |" in catalogue() for stage in told)


def test_what_only_a_build_tells_is_known_by_its_id():
    """A waiver for it is not idle where only checks were run."""
    told_on_the_way = {archives.STAGE.id, cloth.STAGE.id, number.STAGE.id}
    assert set(ON_THE_WAY) == told_on_the_way

"""An empty folder, and a drawing beside it."""

from pathlib import Path

import pytest

from tests.masters.drawings.small import drawing


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty folder of a pattern, with a drawing beside it."""
    (tmp_path / "nest.svg").write_text(drawing(), encoding="utf-8")
    (tmp_path / "source/bag").mkdir(parents=True)
    return tmp_path / "source/bag"

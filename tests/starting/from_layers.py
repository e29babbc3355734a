"""A first pattern of layers that are written here."""

from pathlib import Path

from pipeline.starting.first import start
from tests.masters.drawings.small import drawing


def started(folder: Path, **layers: str) -> str:
    """What is written of a front and a band in three sizes."""
    (folder.parents[1] / "nest.svg").write_text(drawing(**layers), encoding="utf-8")
    start(folder, [folder.parents[1] / "nest.svg"])
    return (folder / "pattern.toml").read_text()

"""How a new bundle takes the place of the old one: complete or not at all."""

import shutil
from pathlib import Path


def beside(place: Path) -> Path:
    """An empty folder beside a bundle's place, to build in."""
    folder = place.with_name(f".{place.name}.new")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    return folder


def swap(new: Path, place: Path) -> None:
    """Old one aside, new one in, old one deleted; `recover` mends what is interrupted between the two renames."""
    old = _aside(place)
    shutil.rmtree(old, ignore_errors=True)
    if place.exists():
        place.rename(old)
    new.rename(place)
    shutil.rmtree(old, ignore_errors=True)


def recover(place: Path) -> None:
    """Put the old bundle back where a run was stopped before the new one was in."""
    old = _aside(place)
    if old.is_dir() and not place.exists():
        old.rename(place)


def _aside(place: Path) -> Path:
    return place.with_name(f".{place.name}.old")

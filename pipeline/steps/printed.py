"""What a step does that prints a pattern, or tells what was printed of it."""

from pathlib import Path

from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.words import use_words
from pipeline.words.brought import usable


def printed_pattern(folder: Path) -> Pattern:
    """A pattern of which nothing blocks, its languages said from here on as `speak` says."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    speak(pattern)
    return pattern


def speak(pattern: Pattern) -> None:
    """Say a pattern's languages, in all that this process does, in the words that were brought for them."""
    use_words(usable(pattern.words))

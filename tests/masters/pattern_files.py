"""Files of one pattern that say every key of the format, for tests that change them."""

from pathlib import Path

CASES = Path(__file__).parent / "toml_cases"
GOOD = (CASES / "good.toml").read_text(encoding="utf-8")


def write(folder: Path, text: str) -> Path:
    """The folder of a pattern with this text."""
    (folder / "coat").mkdir()
    (folder / "coat" / "pattern.toml").write_text(text, encoding="utf-8")
    return folder / "coat"

"""What a release needs beside `pattern.toml`, begun so that it can be filled in."""

from pipeline.model.texts import CHANGES
from pipeline.starting.languages import UNTOLD, language_of
from pipeline.starting.look import Look

BOOKLET = "booklet"


def other_files(name: str, look: Look) -> dict[str, str]:
    """The texts by file. What no drawing says is said in English alone, and left open in other languages."""
    language = language_of(look.names) or UNTOLD
    told = "\nFirst release.\n" if language == UNTOLD else ""
    return {CHANGES: f"# {name}\n\n## 1.0.0\n{told}", f"{BOOKLET}/{language}.md": _booklet(look, language)}


def _booklet(look: Look, language: str) -> str:
    """Instructions to fill in: a place holder that is left stops a release."""
    pieces = ", ".join(f"{{{{ piece {piece} }}}}" for piece in look.pieces)
    if language == UNTOLD:
        return f"# Before you sew\n\nYou sew {pieces}.\n\n# Sew\n\n1. …\n"
    return f"# …\n\n{pieces}.\n\n# …\n\n1. …\n"

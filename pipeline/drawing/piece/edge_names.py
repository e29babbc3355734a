"""What edges are called where a piece tells their allowances: the usual names, which are common practice.

They stand in the catalogues of words under `edge`. An edge has one where its own name is that name and nothing else but
which of several it is ("side-1", "armhole-low"), so that no edge is called what it is not.
"""

import re
from collections.abc import Sequence

from pipeline.model.pieces import CutEdge
from pipeline.words import catalogue

_WHICH = re.compile(
    "upper|lower|top|low|bottom|front|back|left|right|in|out|inner|outer|inside|outside|under|edge|seam|line|[a-f]|[0-9]+"
)
"""What the name of an edge says besides what the edge is."""
_SPELLED = {
    "neckline": "neck",
    "armscye": "armhole",
    "waistline": "waist",
    "sleeve-cap": "cap",
    "sleevehead": "cap",
    "center-front": "cf",
    "centre-front": "cf",
    "center-back": "cb",
    "centre-back": "cb",
    "sides": "side",
    "side-seam": "side",
    "upper": "top",
    "top-edge": "top",
    "lower": "bottom",
    "low": "bottom",
    "inside-leg": "inseam",
    "outside-leg": "outseam",
    "pocket-mouth": "mouth",
    "pocket-opening": "mouth",
    "sleeve-hem": "hem",
    "underarm-seam": "underarm",
    "round": "curve",
}


def edge_word(language: str, name: str) -> str | None:
    """What an edge of such a name is called in a language; none where its name is no usual one."""
    known = catalogue(language)
    parts = name.lower().replace("_", "-").split("-")
    for some in (parts, [part for part in parts if not _WHICH.fullmatch(part)]):
        word = "-".join(some)
        if (found := known.get(f"edge.{_SPELLED.get(word, word)}")) is not None:
            return found
    return None


def edge_words(language: str, told: Sequence[CutEdge], others: Sequence[CutEdge]) -> tuple[str, ...] | None:
    """What edges are called that are told together, each wording once.

    None where one has no usual name, or where another edge that is meant otherwise has the same.
    """
    words = [edge_word(language, edge.name) for edge in told]
    besides = {edge_word(language, edge.name) for edge in others}
    found = tuple(dict.fromkeys(word for word in words if word is not None and word not in besides))
    return found if all(word in found for word in words) else None

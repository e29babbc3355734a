"""What the name of a layer, group or file says: a size, a piece, a role, several of them, or nothing. Never a guess.

A name says something where all its words are accounted for, in one way only: "Size 34", "34 – front" and "Front" do,
"Front old" does not. Of several ways that with the fewest names counts: "inside pocket" is the piece of that name, not
the inside of a pocket. A piece's key wins over the title of another, where it stands as pattern.toml spells it.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from pathlib import PurePosixPath

import msgspec

from pipeline.masters.groups import GROUPS
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.svg.tree import Node
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import values_in_any_order

CORNERS, NAMES = "corners", "names"
ROLES = (*GROUPS, CORNERS, NAMES)
"""What a drawing's groups may hold: what masters hold, marks of corners, and the names of edges."""
SIZE_WORDS = (
    *("size", "sizes", "größe", "größen", "groesse", "groessen", "grösse", "grössen", "taille", "tailles"),
    *("talla", "tallas", "maat", "maten", "storlek", "storlekar", "gr", "sz"),
    *("cm", "month", "months", "year", "years", "monate", "jahre", "mois", "ans", "meses", "años", "maanden", "jaar"),
    *("månader", "år"),
)
"""What stands beside a size in the languages that the pipeline has words in; a designer's own come from her words."""
AXIS_WORDS = {
    "height": (
        *("height", "heights", "höhe", "körpergröße", "körperhöhe", "stature", "estatura", "altura"),
        *("lichaamslengte", "kroppslängd"),
    ),
    "length": ("length", "lengths", "länge", "longueur", "largo", "lengte", "längd"),
    "width": ("width", "widths", "weite", "largeur", "ancho", "wijdte", "vidd"),
    "cup": ("cup", "cups", "cupgröße", "körbchen", "bonnet", "bonnets", "copa", "cupmaat", "kupa"),
}
"""What stands beside a value of a ladder that is called so (from memory)."""
AXIS_VALUES = {
    "height": (
        ("petite", "short", "kurz", "court", "corto", "kort"),
        ("regular", "normal", "normale", "standard"),
        ("tall", "long", "lang"),
    ),
    "width": (("slim", "narrow", "schmal"), ("regular", "normal", "normale", "standard"), ("wide", "weit")),
}
"""Words for values without a word for their ladder, smallest first (from memory)."""
MOST_WORDS = 12
"""A name of more words says nothing that is looked for."""
_WORD = re.compile(r"[^\W\d_]+|\d+")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{2,6})_")
_COUNTED = re.compile(r"(?<=.)_\d+_$")
_BY_EDITOR = re.compile(
    r"(?i)(path|rect|circle|ellipse|line|polyline|polygon|use|text|tspan|g|group|layer|svg|shape|object|image)"
    r"[-_ ]?\d+([-_]\d+)*_?"
)
_LARGEST_LETTER = 0x10FFFF


class Said(msgspec.Struct, frozen=True):
    """What one name says; None where it says nothing of that kind. `size` may be a set of sizes, or `all`."""

    role: str | None = None
    size: str | None = None
    piece: str | None = None


class AmbiguousNameError(Exception):
    """A name that says several things; `readings` are all of them."""

    def __init__(self, readings: list[Said]) -> None:
        super().__init__()
        self.readings = readings


def layer_name(node: Node) -> str:
    """The name as its editor shows it; of ids, what editors must escape and count is undone."""
    attributes = node.attributes
    shown = next((v for key, v in attributes.items() if v and (key == "label" or key.endswith("}label"))), None)
    if shown or attributes.get("data-name"):
        return shown or attributes["data-name"]
    return _COUNTED.sub("", _unescaped(attributes.get("id", "")))


def object_name(node: Node) -> str:
    """The name that a person gave an object; "" for none, and for one that an editor numbers by itself."""
    return by_person(layer_name(node))


def by_person(name: str) -> str:
    """The name, or "" where it is one that editors give by themselves."""
    return "" if _BY_EDITOR.fullmatch(name) else name


def _unescaped(text: str) -> str:
    def letter(match: re.Match[str]) -> str:
        code = int(match[1], 16)
        return chr(code) if code <= _LARGEST_LETTER and chr(code).isprintable() else match[0]

    return _ESCAPED.sub(letter, text)


def words(name: str) -> tuple[str, ...]:
    """The words and numbers of a name, however they are parted and whatever is written large."""
    return tuple(_WORD.findall(unicodedata.normalize("NFKC", name).casefold()))


def _by_key(name: str, readings: list[Said]) -> list[Said]:
    """Of readings that differ in the piece alone, that of which the name has the piece's key; else all."""
    keyed = [said for said in readings if said.piece and re.search(rf"(?<![^\W_]){said.piece}(?![^\W_])", name)]
    return keyed if len(keyed) == 1 and len({(said.role, said.size) for said in readings}) == 1 else readings


class Vocabulary:
    """What names can say in one pattern: its sizes and sets, its drawn pieces by name and title, and the roles.

    In the names of `files`, words that all of them share and the pattern's own name and titles say nothing: drawings
    called "skirt S" and "skirt M" are those of two sizes.
    """

    def __init__(self, pattern: Pattern, files: Sequence[str] = ()) -> None:
        of_files = [set(words(PurePosixPath(file).stem)) for file in files]
        self._of_all_files = set.intersection(*of_files) if len(of_files) > 1 else set()
        self._of_all_files |= {word for text in (pattern.name, *pattern.title.values()) for word in words(text)}
        self._meanings: dict[tuple[str, ...], set[tuple[str, str]]] = {}
        self._known: dict[str, Said | list[Said]] = {}
        self._add("role", ((role, role) for role in ROLES))
        self._add("size", ((size, size) for size in (*pattern.sizes, *pattern.size_sets, EVERY_SIZE)))
        self._add("size", values_in_any_order(pattern))
        drawn = [piece for piece in pattern.pieces.values() if piece.source is None]
        self._add("piece", ((piece.name, text) for piece in drawn for text in (piece.name, *piece.title.values())))
        brought = (texts.get(f"size.{key}", "") for texts in pattern.words.values() for key in ("name", "several"))
        of_axes = (word for axis in pattern.size_axes for word in (axis, *AXIS_WORDS.get(axis, ())))
        self._add("filler", (("", word) for word in (*SIZE_WORDS, *of_axes, *brought)))

    def _add(self, kind: str, entries: Iterable[tuple[str, str]]) -> None:
        for value, text in entries:
            if spelled := words(text):
                self._meanings.setdefault(spelled, set()).add((kind, value))

    def said(self, name: str) -> Said:
        """What a name says. Raises AmbiguousNameError."""
        if name not in self._known:
            spelled = words(name)
            found = self._plainest(spelled) if 0 < len(spelled) <= MOST_WORDS else []
            found = _by_key(name, found) if len(found) > 1 else found
            self._known[name] = found[0] if len(found) == 1 else found or Said()
        known = self._known[name]
        if isinstance(known, list):
            raise AmbiguousNameError(known)
        return known

    def said_of_file(self, name: str) -> Said:
        """What the name of a file or folder says, without what says nothing. Raises AmbiguousNameError."""
        said = self.said(name)
        rest = [word for word in words(name) if word not in self._of_all_files]
        return self.said(" ".join(rest)) if said == Said() else said

    def _plainest(self, spelled: tuple[str, ...]) -> list[Said]:
        """The readings that take the name for the fewest names."""
        found = sorted(set(self._readings(spelled, Said())), key=repr)
        counts = [sum(part is not None for part in msgspec.structs.astuple(said)) for said in found]
        return [said for said, count in zip(found, counts, strict=True) if count == min(counts)]

    def _readings(self, spelled: tuple[str, ...], so_far: Said) -> Iterator[Said]:
        if not spelled:
            yield so_far
        for length in range(1, len(spelled) + 1):
            for kind, value in self._meanings.get(spelled[:length], ()):
                if kind == "filler":
                    yield from self._readings(spelled[length:], so_far)
                elif getattr(so_far, kind) is None:
                    yield from self._readings(spelled[length:], msgspec.structs.replace(so_far, **{kind: value}))

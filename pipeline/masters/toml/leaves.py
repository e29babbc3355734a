"""Single values of `pattern.toml` as the model has them, checked against what the rest of the file declares."""

import math
import re
from collections.abc import Callable, Iterable
from typing import TypeVar

from msgspec import UNSET, UnsetType

from pipeline.masters.toml.document import Document
from pipeline.masters.toml.faults import Faults, KeyPath, did_you_mean, item, key_text, shown
from pipeline.masters.toml.leaf_types import LINE, LINES, PERCENT
from pipeline.masters.toml.size_axes import check_sizes, read_sizes
from pipeline.masters.toml.sums import LONGEST_MM, GrammarError, parse_marks, parse_range, parse_sum
from pipeline.model.lengths import metric_text, parse_length
from pipeline.model.mark_sums import MarkSum
from pipeline.model.pattern import Range, Reference, Sum
from pipeline.model.piece_specs import Texts

LARGEST_ALLOWANCE_MM = 200.0

_Value = TypeVar("_Value")
_Told = TypeVar("_Told")


class Leaves:
    """Reads single values of one document. What is told of goes to `faults`; a value at fault reads as a blank."""

    def __init__(self, document: Document, faults: Faults) -> None:
        self.document = document
        self.faults = faults
        told = read_sizes(document)
        self.sizes, self.sizes_at, self.axes, self.by_value = told
        check_sizes(document, told, faults)
        self.languages = tuple(dict.fromkeys(document.pattern.languages))

    def length(self, path: KeyPath, text: str, least_mm: float = 0.0, most_mm: float = LONGEST_MM) -> float:
        """Millimetres of a length between two limits."""
        if self.faults.spoiled(path):
            return least_mm
        try:
            length_mm = parse_length(text)
        except (ValueError, OverflowError):
            length_mm = math.inf
        if least_mm <= length_mm <= most_mm:
            return length_mm
        allowed = f"{metric_text(least_mm)} to {metric_text(most_mm)}"
        message, remedy = f"is {shown(text)}; expected {allowed}.", "Write a length within these limits, with its unit."
        self.faults.tell(path, "length-out-of-range", message, remedy, found=text, allowed=allowed)
        return least_mm

    def allowance(self, path: KeyPath, text: str) -> float:
        """Millimetres of an allowance: 0 to 200 mm."""
        return self.length(path, text, 0.0, LARGEST_ALLOWANCE_MM)

    def taper(self, path: KeyPath, text: str) -> tuple[float, float | None]:
        """An allowance at an edge's first point, and at its last where it tapers: each 0 to 200 mm."""
        if self.faults.spoiled(path):
            return 0.0, None
        start_mm, *rest = (self.allowance(path, part) for part in text.split(".."))
        return start_mm, rest[0] if rest and rest[0] != start_mm else None

    def share(self, path: KeyPath, text: str, most: float, least: float = 0.0) -> float:
        """The fraction that a percentage says, from `least` to `most`."""
        if self.faults.spoiled(path):
            return 0.0
        allowed = f"{least:.0%} to {most:.0%}".replace("%", " %").replace("  ", " ")
        if re.fullmatch(PERCENT, text) is None:
            message, remedy = f"is {shown(text)}; expected a percentage.", 'Write a percentage, as "3 %".'
            self.faults.tell(path, "bad-percent", message, remedy, found=text, allowed=allowed)
            return 0.0
        share = float(text.strip().rstrip("%")) / 100
        if least <= share <= most:
            return share
        message, remedy = f"is {shown(text)}; expected {allowed}.", "Write a percentage within these limits."
        self.faults.tell(path, "percent-out-of-range", message, remedy, found=text, allowed=allowed)
        return 0.0

    def texts(self, path: KeyPath, text: str | dict[str, str], *, lines: bool = False) -> Texts:
        """A text by language; one string is taken for every language. Further languages than the pattern's stay."""
        if isinstance(text, str):
            if re.fullmatch(LINES if lines else LINE, text) is None and not self.faults.spoiled(path):
                message = "has control characters" + ("." if lines else ", or more than one line.")
                self.faults.tell(path, "bad-text", message, "Take them out of the text.", found=shown(text))
            return dict.fromkeys(self.languages, text)
        return dict(text)

    def sum(self, path: KeyPath, text: str | UnsetType) -> Sum | None:
        """A sum whose pieces and body measures exist; None where it says nothing or cannot be read."""
        if text is UNSET:
            return None
        total = self._grammar(path, text, parse_sum)
        for term in total.terms if total else ():
            if isinstance(term.of, Reference):
                self._reference(path, term.of)
        return total

    def sums(self, path: KeyPath, text: str | dict[str, str]) -> dict[str, Sum]:
        """A sum for each size of the pattern: the same for all, or one a size."""
        if self.faults.spoiled(path):
            return {}
        if isinstance(text, str):
            total = self.sum(path, text)
            return {} if total is None else dict.fromkeys(self.sizes, total)
        keys = self.by_size(path, text, self.sizes)
        totals = {key: self.sum((*path, key), text[key]) for key in dict.fromkeys(keys.values())}
        return {size: total for size, key in keys.items() if (total := totals[key]) is not None}

    def marks(self, path: KeyPath, text: str) -> MarkSum | None:
        """A count of marks whose pieces exist; None where it cannot be read."""
        total = self._grammar(path, text, parse_marks)
        for piece in dict.fromkeys(piece for piece, _ in total.named) if total else ():
            self.known(path, piece, self.document.pieces, ("pieces",), "piece")
        return total

    def _reference(self, path: KeyPath, reference: Reference) -> None:
        if reference.piece == "body":
            self.known(path, reference.line, self.document.body, ("body",), "body measure")
        else:
            self.known(path, reference.piece, self.document.pieces, ("pieces",), "piece")

    def range(self, path: KeyPath, text: str | UnsetType, *, percent: bool) -> Range | None:
        """A range; None where it says nothing or cannot be read."""
        return None if text is UNSET else self._grammar(path, text, lambda sentence: parse_range(sentence, percent))

    def _grammar(self, path: KeyPath, text: str, parse: Callable[[str], _Value]) -> _Value | None:
        if self.faults.spoiled(path):
            return None
        try:
            return parse(text)
        except GrammarError as error:
            self.grammar_fault(path, error)
            return None

    def grammar_fault(self, path: KeyPath, error: GrammarError) -> None:
        """Tell of a text that cannot be read."""
        message = f"has {shown(error.found)}; expected {error.expected}."
        self.faults.tell(
            path, error.code, message, f"Write {error.expected}.", found=error.found, allowed=error.expected
        )
        self.faults.spoil(path)

    def known(self, path: KeyPath, name: str, among: Iterable[str], declared: KeyPath, kind: str) -> bool:
        """Whether a name is declared; told where it is not, unless the declaration itself cannot be read."""
        names = list(among)
        if name in names:
            return True
        if not self.faults.spoiled(path) and self.faults.whole(declared[:1] if declared[0] != "pattern" else declared):
            message = f"names the {kind} {shown(name)}, which is not declared under {key_text(declared)}."
            allowed = ", ".join(names)
            self.faults.tell(
                path,
                f"unknown-{kind.replace(' ', '-')}",
                message,
                "" if self.faults.full else did_you_mean(name, names),
                found=name,
                allowed=allowed,
            )
        return False

    def size(self, path: KeyPath, name: str) -> bool:
        """Whether a size is one of the pattern's."""
        return self.known(path, name, self.sizes, self.sizes_at, "size")

    def size_or_value(self, path: KeyPath, name: str) -> bool:
        """Whether a name is a size, or a value of an axis, which stands for all its sizes."""
        return self.known(path, name, (*self.sizes, *self.by_value), self.sizes_at, "size")

    def sizes_of(self, names: Iterable[str]) -> tuple[str, ...]:
        """The sizes, smallest first, that sizes and values of axes name."""
        named = {size for name in names for size in self.by_value.get(name, (name,))}
        return tuple(size for size in self.sizes if size in named)

    def views(self, path: KeyPath, names: tuple[str, ...] | UnsetType) -> tuple[str, ...]:
        """The views that a piece, strip or notion is limited to."""
        if names is UNSET:
            return ()
        return self.each_once(
            path, names, lambda below, name: self.known(below, name, self.document.views, ("views",), "view")
        )

    def each_once(
        self, path: KeyPath, names: tuple[str, ...], check: Callable[[KeyPath, str], object]
    ) -> tuple[str, ...]:
        """The names of a list, each checked, none twice."""
        kept: dict[str, None] = {}
        for position, name in enumerate(names):
            below = (*path, item(position))
            if self.faults.spoiled(below):
                continue
            if name in kept:
                message = f"is {shown(name)}, which stands in the list already."
                self.faults.tell(below, "twice", message, "Take one of the two out.", found=name, allowed="each once")
            else:
                check(below, name)
            kept[name] = None
        return tuple(kept)

    def counts(
        self, path: KeyPath, count: int | dict[str, int], sizes: tuple[str, ...], declared: KeyPath | None = None
    ) -> dict[str, int]:
        """A count for each of the sizes, which are declared at a key."""
        if self.faults.spoiled(path):
            return {}
        if isinstance(count, int):
            return dict.fromkeys(sizes, count)
        keys = self.by_size(path, count, sizes, declared)
        return {size: count[key] for size, key in keys.items() if not self.faults.spoiled((*path, key))}

    def by_size(
        self, path: KeyPath, values: dict[str, _Told], sizes: tuple[str, ...], declared: KeyPath | None = None
    ) -> dict[str, str]:
        """Which key of a table by size speaks of each size. Tells of sizes that it leaves out, or has too many.

        A value of an axis speaks of all its sizes, but for those of which another key says more.
        """
        held = {name: frozenset(self.by_value.get(name, (name,))) for name in values}
        keys = {size: key for size in sizes if (key := self._key_of(path, held, size)) is not None}
        if not self.faults.whole(declared or self.sizes_at) or not self.faults.whole(self.sizes_at):
            return keys
        for name in values:
            if self.size_or_value((*path, name), name) and not set(self.sizes_of((name,))) & set(sizes):
                message = "is a size that this piece is not made in."
                self.faults.tell(
                    (*path, name), "size-not-made", message, "Take it out.", found=name, allowed=", ".join(sizes)
                )
        missing = [size for size in sizes if size not in keys]
        if missing:
            message = f"says nothing of the sizes {', '.join(missing)}."
            remedy = "Give one value for each size."
            found, allowed, only = ", ".join(values), ", ".join(sizes), missing[0] if len(missing) == 1 else None
            self.faults.tell(path, "size-missing", message, remedy, found=found, allowed=allowed, size=only)
        return keys

    def _key_of(self, path: KeyPath, held: dict[str, frozenset[str]], size: str) -> str | None:
        """The key that says most of a size: that of the fewest, all of which the others that speak of it hold too."""
        holding = [name for name, sizes in held.items() if size in sizes]
        nearest = min(holding, key=lambda name: len(held[name]), default=None)
        other = next((name for name in holding if nearest is not None and not held[nearest] <= held[name]), None)
        if nearest is not None and other is not None:
            message = f"says two things of the size {size}: {shown(nearest)} and {shown(other)}."
            remedy = f'Give the size a value of its own, "{size}" = …, or keep to the values of one axis.'
            self.faults.tell(
                path, "size-twice", message, remedy, found=f"{nearest}, {other}", allowed="one value a size", size=size
            )
        return nearest


def given(value: _Value | UnsetType) -> _Value | None:
    """The value, or None where the key is left out."""
    return None if value is UNSET else value

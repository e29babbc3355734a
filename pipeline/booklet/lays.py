"""The lays that a booklet shows: not all, but those that most buyers begin with; the file of lays has them all.

A buyer has one size and one width. So each material is shown on the first width that `pattern.toml` names, in the base
size and in one size of every other grading band, a page each; where that would be more than `MOST` pages, in the base
size alone. Pieces carry their numbers, so that a picture is the same in every language, and letters of 12 pt; less only
where a page that is not of large print would not hold what is said below the picture, down to 60 % of its size.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import msgspec

from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Apart, Head, Listed, Node, Pictures, Text, plain
from pipeline.drawing.cloth.laid_cloth import Cloth, Look
from pipeline.drawing.cloth.lay_words import LayWords
from pipeline.drawing.lay_names import LaidName
from pipeline.drawing.piece.own_image import is_own_image
from pipeline.drawing.scene import Scene
from pipeline.drawing.wording import in_decimals, size_range, told_of
from pipeline.lays.lay import Shapes
from pipeline.lays.saved import Chosen
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import ladders
from pipeline.tables.cloth import ClothRow
from pipeline.words import say

MOST = 4
GROWN = 1.25
_LEAST_MM = 4.24 / GROWN
"""12 pt on paper, drawn smaller by as much as the picture is shown larger."""
_WIDE = Look(235.0 / GROWN, 96.0 / GROWN, _LEAST_MM, titles=False, coarse_mm=0.06)
"""What a page of A4 and one of Letter, lying on its side, both have beside texts."""
_TALL = Look(160.0 / GROWN, 150.0 / GROWN, _LEAST_MM, titles=False, coarse_mm=0.06)


class _Asked(msgspec.Struct):
    """What tells lays apart that may be shown from all others."""

    size: str
    material: str
    width_mm: float


class _Kept(msgspec.Struct):
    request: _Asked


def shown_lays(pattern: Pattern, lays: bytes) -> tuple[Chosen, ...]:
    """The usual lays of the file `lays.json`; of all others only sizes, materials and widths are read."""
    each = msgspec.json.decode(lays, type=list[msgspec.Raw])
    asked = [msgspec.json.decode(raw, type=_Kept).request for raw in each]
    first = _first_widths(pattern, ((one.material, one.width_mm) for one in asked))
    sizes = {pattern.base, *_of_bands(pattern)}
    may = [one.size in sizes and one.width_mm == first[one.material] for one in asked]
    wanted = [raw for raw, wanted in zip(each, may, strict=True) if wanted]
    return usual_lays(pattern, [msgspec.json.decode(raw, type=Chosen) for raw in wanted])


def usual_lays(pattern: Pattern, chosen: Sequence[Chosen]) -> tuple[Chosen, ...]:
    """The lays to show, material by material; views that lay the same share one, which then names no view."""
    first = _first_widths(pattern, ((each.request.material, each.request.width_mm) for each in chosen))
    for sizes in (_of_bands(pattern), (pattern.base,)):
        found: dict[object, list[Chosen]] = {}
        for material in pattern.materials:
            for size in sizes:
                for each in chosen:
                    asked = each.request
                    if (asked.material, asked.size, asked.width_mm) == (material, size, first[material]):
                        found.setdefault((material, size, asked.items), []).append(each)
        if len(found) <= MOST:
            break
    return tuple(_as_one(pattern, alike) for alike in found.values())


def _first_widths(pattern: Pattern, laid: Iterable[tuple[str, float]]) -> dict[str, float | None]:
    """The first width of each material on which there is a lay."""
    there = set(laid)
    return {
        name: next((width for width in material.widths_mm if (name, width) in there), None)
        for name, material in pattern.materials.items()
    }


def _of_bands(pattern: Pattern) -> tuple[str, ...]:
    """The base size, and the middle one of every other grading band that the ladders through it have."""
    found = [pattern.base]
    for ladder in ladders(pattern):
        bands: list[list[str]] = [[]]
        for size in ladder.sizes if pattern.base in ladder.sizes else ():
            bands[-1].append(size)
            if size in ladder.ends:
                bands.append([])
        found += [band[(len(band) - 1) // 2] for band in bands if band and pattern.base not in band]
    return tuple(size for size in pattern.sizes if size in found)


def _as_one(pattern: Pattern, alike: Sequence[Chosen]) -> Chosen:
    """The first of lays of the same pieces: end for end where both are told, of no view where all views have them."""
    views = {each.request.view for each in alike}
    if len(views) < max(2, len(pattern.views)):
        return alike[0]
    return msgspec.structs.replace(alike[0], request=msgspec.structs.replace(alike[0].request, view=None))


def _sentence(told: str) -> str:
    """What is written over pictures of lays, where it stands in a text."""
    return f"{told[:1].upper()}{told[1:]}."


def _name(each: Chosen) -> tuple[object, ...]:
    asked = each.request
    return asked.view, asked.size, asked.material


class _Said(NamedTuple):
    """All that is said of a lay in one language."""

    facts: str
    about: str
    tones: str
    counts: tuple[str, ...]
    alt: str


class _OwnImages(Collection[str]):
    """The pieces of a size that are their own mirror image, each looked at when it is asked for: few are."""

    def __init__(self, model: Model, each: Chosen) -> None:
        self.cuts = model.in_size(each.request.size)
        self.known: dict[str, bool] = {}

    def __contains__(self, name: object) -> bool:
        if not isinstance(name, str) or name not in self.cuts:
            return False
        if name not in self.known:
            self.known[name] = is_own_image(self.cuts[name])
        return self.known[name]

    def __iter__(self) -> Iterator[str]:
        return (name for name in self.cuts if name in self)

    def __len__(self) -> int:
        return len(list(iter(self)))


class Lays:
    """The lays of one booklet: `lays` are those to show, `rows` what is bought for each."""

    def __init__(self, model: Model, lays: Sequence[Chosen], rows: Sequence[ClothRow], pictures: Pictures) -> None:
        self.model, self.lays, self.rows, self.pictures = model, lays, rows, pictures
        self.mine = msgspec.structs.replace(model.pattern, languages=(model.language,))

    def sentence(self) -> str:
        """For which sizes lays are shown, and where all others are; nothing where none is."""
        sizes = tuple(dict.fromkeys(each.request.size for each in self.lays))
        shown = size_range(sizes, self.model.pattern, self.model.language)
        return say(self.model.language, "booklet.lays-shown", sizes=shown) if self.lays else ""

    def pages(self, level: int) -> list[Node]:
        """A page a lay, lying on its side where the cloth is longer than it is wide."""
        nodes: list[Node] = []
        for each in self.lays:
            wide = self._cloth(each, _WIDE).scale >= self._cloth(each, _TALL).scale
            told = told_of(self.model.language, say(self.model.language, "booklet.lay"), self._title(each))
            nodes.append(Apart((Head(level, plain(told)), *self._told(each, _WIDE if wide else _TALL)), wide))
        return nodes

    def within(self) -> list[Node]:
        """The same within a step or a box, which no page can part: each under its name."""
        return [
            node for each in self.lays for node in (Text(plain(self._title(each), bold=True)), *self._told(each, _TALL))
        ]

    def _words(self, each: Chosen) -> LayWords:
        own = self.model.garment.once(("own-image", each.request.size), lambda: _OwnImages(self.model, each))
        return LayWords(pattern=self.mine, chosen=each, own_image=own)

    def _cloth(self, each: Chosen, look: Look) -> Cloth:
        return Cloth(self._words(each), look)

    def _title(self, each: Chosen) -> str:
        return self._words(each).head(self.model.language, "")[0]

    def _told(self, each: Chosen, look: Look) -> list[Node]:
        """What is known of a lay, its picture, what its tones mean and how often each number is cut."""
        said = self._once(("told", _name(each)), partial(self._said, each))
        columns = 2 if look is _WIDE and not self.pictures.large else 1
        items = tuple((Text(plain(line)),) for line in said.counts)
        return [
            Text(plain(said.facts)),
            Text(plain(said.about)),
            self.pictures.draw(self._scene(each, look), said.alt, GROWN),
            Text(plain(said.tones)),
            Listed(items, columns=columns),
        ]

    def _said(self, each: Chosen) -> "_Said":
        words, language = self._words(each), self.model.language
        title, facts, about = words.head(language, self._buy(each))
        width = in_decimals(language, cloth_width(each.request.width_mm, self.model.pattern.units))
        pieces = ", ".join(f"{name.short} {name.title}" for name in self._along(each))
        return _Said(
            facts=_sentence(facts),
            about=_sentence(about),
            tones=_sentence(words.tones(language)),
            counts=tuple(words.counts(language)),
            alt=say(language, "booklet.lay-alt", title=title, width=width, pieces=pieces),
        )

    def _along(self, each: Chosen) -> list[LaidName]:
        """The pieces in the order in which they begin along the cloth."""
        shapes = Shapes(each.request)
        placed = sorted(each.lay.placed, key=lambda place: float(shapes.placed(place)[:, 0].min()))
        return [self.model.names[place.item] for place in placed]

    def _scene(self, each: Chosen, look: Look) -> Scene:
        """The cloth in the booklet's language; its pieces are drawn once for all languages."""
        cloth, key = self._cloth(each, look), ("lay", _name(each), look)
        pieces = self.model.garment.once(key, lambda: tuple(cloth.pieces()))
        scene: Scene = self._once(key, partial(cloth.scene, pieces))
        return scene

    def _once(self, key: object, make: Callable[[], Any]) -> Any:
        """What serves all editions of a language."""
        if key not in self.model.once:
            self.model.once[key] = make()
        return self.model.once[key]

    def _buy(self, each: Chosen) -> str:
        asked = each.request
        for row in self.rows:
            same = (row.size, row.material, row.width_mm, row.one_way) == (
                asked.size,
                asked.material,
                asked.width_mm,
                asked.one_way,
            )
            if same and asked.view in (row.view, None):
                first, second = row.metric, row.imperial
                if self.model.pattern.units == "imperial":
                    first, second = second, first
                return f"{first} ({second})"
        raise KeyError(asked.size, asked.material)

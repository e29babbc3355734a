"""What is written over and under a lay, in every language of the pattern."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from functools import lru_cache

import msgspec

from pipeline.checks.mirror import is_symmetric
from pipeline.drawing.lay_names import LaidName, laid_names, usable_width
from pipeline.drawing.piece.mark_names import one_sided_marks
from pipeline.drawing.piece.own_image import sides_alike
from pipeline.drawing.piece.words import cut_sentence
from pipeline.drawing.wording import SEPARATOR, all_languages, in_decimals, length_words, told_apart, told_of
from pipeline.lays.alone import alone_makes_long
from pipeline.lays.items import LayItem
from pipeline.lays.lay import Placed
from pipeline.lays.saved import Chosen
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.questions import copies, side_of
from pipeline.words import say, say_all

_STRIP = "strips."
# the same pieces lie on every width, and are told in all languages
_is_symmetric = lru_cache(maxsize=1024)(is_symmetric)


class LayWords(msgspec.Struct, frozen=True, kw_only=True):
    """A lay in words. `own_image`: pieces that are their own mirror image, which lie either side up."""

    pattern: Pattern
    chosen: Chosen
    own_image: Collection[str] = ()

    def names(self) -> dict[str, LaidName]:
        """Every piece's short name, and its title in all languages."""
        by_language = [laid_names(self.pattern, language) for language in self.pattern.languages]
        return {
            item: LaidName(name.short, SEPARATOR.join(dict.fromkeys(names[item].title for names in by_language)))
            for item, name in by_language[0].items()
        }

    def garment(self) -> str:
        """The garment and its version."""
        languages = self.pattern.languages
        version = say_all(languages, "piece.version", version=self.pattern.version)
        return f"{all_languages(self.pattern.title, languages)} · {version}"

    def head(self, language: str, buy: str) -> tuple[str, str, str]:
        """(title, measures, how the cloth lies), `buy` the length to buy as it is written."""
        request, lay = self.chosen.request, self.chosen.lay
        material = in_language(self.pattern.materials[request.material].title, language)
        title = say(language, "lay.title", material=material, size=request.size)
        if request.view is not None:
            title += f", {in_language(self.pattern.views[request.view].title, language)}"
        width = in_decimals(language, cloth_width(request.width_mm, self.pattern.units))
        usable = usable_width(request.usable_mm, self.pattern.units)
        facts = (
            say(language, "lay.buy", length=in_decimals(language, buy)),
            say(language, "lay.width", width=width),
            say(language, "lay.usable", width=in_decimals(language, usable)),
            say(language, "lay.length", length=self.length(language, lay.length_mm)),
        )
        nap = "one-way" if request.one_way else "any-way" if request.free_turn else "either-way"
        kind = "tried-open" if request.tried_open else _KINDS[request.way]
        depth = self.length(language, lay.doubled_mm + request.selvedge_mm)
        about = (say(language, f"lay.{kind}", depth=depth), say(language, f"lay.{nap}"))
        return title, " · ".join(facts), " · ".join(about)

    def length(self, language: str, length_mm: float) -> str:
        """A length in both systems."""
        return length_words(language, length_mm, self.pattern.units)

    def on_ruler(self, length_mm: float) -> str:
        """A length in both systems for a ruler, as the first language writes it: all are written over the cloth."""
        return self.length(self.pattern.languages[0], length_mm)

    def face_down(self, place: Placed) -> bool:
        """Whether a piece must be laid with its printed side down to look as it is drawn."""
        return place.mirrored and place.layers != "fold" and not self.is_own_image(place.item)

    def is_own_image(self, item: str) -> bool:
        """Whether a piece and its mirror image are one."""
        return self.chosen.request.item(item).symmetric or item in self.own_image

    def tones(self, language: str) -> str:
        """What the tones and hatchings that are there mean."""
        placed = self.chosen.lay.placed
        keys = {
            "lay.pair": any(place.layers in ("pair", "fold") for place in placed),
            "lay.single": any(place.layers in ("lower", "upper") for place in placed),
            "lay.plain": any(place.layers == "one" for place in placed),
            "lay.image": any(place.layers == "one" and self.face_down(place) for place in placed),
        }
        return " · ".join(say(language, key) for key, there in keys.items() if there)

    def legend(self) -> tuple[tuple[str, ...], ...]:
        """What stands under the cloth, by language: what the tones mean, then a text a piece."""
        return tuple((self.tones(language), *self.counts(language)) for language in self.pattern.languages)

    def counts(self, language: str) -> Iterator[str]:
        """How often every piece is cut, as its label says it, and what is to be known of how it lies here."""
        names: Mapping[str, LaidName] = laid_names(self.pattern, language)
        laid: dict[str, list[Placed]] = {item.name: [] for item in self.chosen.request.items}
        for place in self.chosen.lay.placed:
            laid[place.item].append(place)
        for item in sorted(self.chosen.request.items, key=lambda each: list(names).index(each.name)):
            name = names[item.name]
            notes = (self._cut(language, item), *self._notes(language, item, laid[item.name]))
            more = (*one_sided_marks(self.pattern, item.name, language), *self._may_join(language, item))
            yield told_of(language, f"{name.short} {name.title}", told_apart(language, (", ".join(notes), *more)))
        if any(self._is_whole(name, places) for name, places in laid.items()):
            yield say(language, "lay.trace-whole")

    def _cut(self, language: str, item: LayItem) -> str:
        request = self.chosen.request
        material = in_language(self.pattern.materials[request.material].title, language)
        strip = self.pattern.strips.get(item.name.removeprefix(_STRIP))
        if strip is not None and item.name.startswith(_STRIP):
            count = copies(strip.cut, request.size, request.material).copies
            sentence = cut_sentence(language, count, 0, material, on_fold=False)
            parts = item.count // count
            key = "lay.in-parts" if count == 1 else "lay.each-in-parts"
            return f"{sentence}, {say(language, key, parts=parts)}" if parts > 1 else sentence
        on_fold = self._label_says_fold(item.name)
        piece = self.pattern.pieces.get(item.name)
        # as on the label: its own mirror image may lie either way, and of an interfacing it is not known
        one_sided = piece is not None and piece.source is None and not on_fold and not _is_symmetric(item.outline)
        alike = item.name in self.own_image and sides_alike(self.pattern, item.name, request.material)
        mirrored = 0 if alike else item.mirrored
        sentence = cut_sentence(language, item.count, mirrored, material, on_fold, one_sided)
        entries = (entry for entry in piece.cut if entry.material == request.material) if piece else ()
        side = side_of(entries)
        return f"{sentence}, {say(language, f'mark-side.{side}')}" if side else sentence

    def _may_join(self, language: str, item: LayItem) -> Iterator[str]:
        """That a strip lies whole which may be joined, where the cloth would be shorter without it."""
        strip = self.pattern.strips.get(item.name.removeprefix(_STRIP)) if item.name.startswith(_STRIP) else None
        request = self.chosen.request
        if strip is None or strip.join_mm is None:
            return
        whole = item.count == copies(strip.cut, request.size, request.material).copies
        if whole and alone_makes_long(request, self.chosen.lay, item.name):
            yield say(language, "lay.may-join")

    def _label_says_fold(self, name: str) -> bool:
        if name not in self.pattern.pieces:
            return False
        piece = self.pattern.pieces[name]
        drawn_as = self.pattern.pieces[piece.source] if piece.source else piece
        return any(edge.fold for edge in drawn_as.edges.values())

    def _is_whole(self, name: str, places: list[Placed]) -> bool:
        """Whether a piece whose label says that it is cut on the fold lies whole."""
        return self._label_says_fold(name) and any(place.layers != "fold" for place in places)

    def _notes(self, language: str, item: LayItem, places: list[Placed]) -> Iterator[str]:
        if self._is_whole(item.name, places):
            yield say(language, "lay.whole")
        layers = Counter(place.layers for place in places if place.layers in ("lower", "upper"))
        for layer, count in sorted(layers.items()):
            times = f"{say(language, 'lay.times', count=count)} " if len(places) > 1 else ""
            yield times + say(language, f"lay.{layer}")
        down = sum(self.face_down(place) for place in places if place.layers != "one")
        if down:
            times = f"{say(language, 'lay.times', count=down)} " if down < len(places) else ""
            yield times + say(language, "lay.face-down")


_KINDS = {"fold": "folded", "two-folds": "two-folds", "partial-fold": "partial-fold", "open": "open"}

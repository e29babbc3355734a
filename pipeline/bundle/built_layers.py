"""Layers of print files: one a size, none hidden, and in each the lines of its own size, at their measured size."""

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import partial

import msgspec
import numpy as np

from pipeline.bundle.built import Built, PieceData, name_parts
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_pdf import BuiltForm, BuiltPdf
from pipeline.bundle.pdf_content import line_extents, odd_matrix, texts_written
from pipeline.checks.registry import Outcome
from pipeline.model.lengths import MM_PER_POINT
from pipeline.model.pattern import Pattern
from pipeline.words import say

TOLERANCE_MM = 0.15
_LARGEST = 4
_SAME_SHARE = 0.0008
_SCALED = 0.002

Extents = tuple[float, float]


@BUILT.register(
    id="built-layers",
    title="Every size is a layer of its own name, and none is hidden",
    rationale="A size without its layer cannot be printed alone; a hidden one looks as if it were missing.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="layers: ISO 32000-1, 8.11; common practice",
)
def built_layers(built: Built) -> Iterator[Outcome]:
    """Names and order of the layers of each layered print file, their state, and that each shows something."""
    for pdf in built.prints:
        if name_parts(built.pattern, pdf.path).size is None:
            yield from built.told(pdf, _layers)


def _layers(built: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    expected = _layer_names(built.speaking(pdf))
    if pdf.layers != expected:
        lost = [name for name in expected if name not in pdf.layers]
        text = f"layers are missing: {', '.join(lost)}" if lost else "layers stand in another order, or are too many"
        yield at_file(pdf.path, "layers", text, ", ".join(pdf.layers) or "none", ", ".join(expected))
    if pdf.hidden_layers:
        yield at_file(pdf.path, "hidden", "layers are hidden", ", ".join(pdf.hidden_layers), "all shown")
    # what several sizes share does not count: every size has at least its own number in a text block
    used = {shown.layers[0] for page in pdf.pages for shown in page.shown if len(shown.layers) == 1}
    for size, name in zip(built.pattern.sizes, expected, strict=True):
        if name in pdf.layers and name not in used:
            yield at_file(pdf.path, "empty", f"the layer {name} shows nothing", "nothing", "its lines", size=size)


def _layer_names(pattern: Pattern) -> tuple[str, ...]:
    word = say(pattern.languages[0], "size.name")
    return tuple(f"{word} {size}" for size in pattern.sizes)


@BUILT.register(
    id="built-sizes",
    title="A layer or file of one size shows that size, as large as its pieces were measured",
    rationale="Where two layers are swapped, every buyer cuts the wrong size.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="the cut lines of data/pieces.json, within 0.15 mm (three roundings of a chord, common practice)",
)
def built_sizes(built: Built) -> Iterator[Outcome]:
    """Sizes that are written in a layer, and the extents of the largest drawings that belong to it alone."""
    known = _Measured(built)
    for pdf in built.prints:
        shown: list[_Shown] = built.known(pdf, partial(_shown, built, pdf), list[_Shown], _shown)
        for each in shown:
            yield from _written(pdf, each)
            yield from _measured(known, pdf, each)


class _Shown(msgspec.Struct, frozen=True):
    """What a file shows of one size and no other: how often sizes are written, how large its largest drawings are.

    `shares`: some of its lines are drawn once together with other sizes. `scaled` are matrices that no drawing of ours
    has.
    """

    size: str
    shares: bool
    written: dict[str, int]
    extents: tuple[Extents, ...]
    scaled: tuple[str, ...]


def _shown(built: Built, pdf: BuiltPdf) -> list[_Shown]:
    alone = name_parts(built.pattern, pdf.path).size
    shared = _share_lines(built, pdf) if alone is None else set()
    found = []
    for size, forms in _own_forms(built, pdf, alone).items():
        texts = (text for form in forms for text in texts_written(form.content)) if alone is None else ()
        largest = _largest(forms)
        matrices = (odd_matrix(form.content, flips=True) or form.matrix for form in largest)
        found.append(
            _Shown(
                size=size,
                shares=size in shared,
                written=Counter(text for text in texts if text in built.pattern.sizes),
                extents=tuple(extents for form in largest if (extents := _extents_of(form)) is not None),
                scaled=tuple(matrix for matrix in matrices if matrix is not None),
            )
        )
    return found


def own_layers(built: Built, pdf: BuiltPdf) -> dict[str, list[BuiltForm]]:
    """The drawings that show with the layer of a size, by size; all of a file that shows one size alone."""
    names = dict(zip(_layer_names(built.speaking(pdf)), built.pattern.sizes, strict=True))
    found: dict[str, list[BuiltForm]] = {size: [] for size in built.pattern.sizes}
    for form, layers in _layers_of(pdf).items():
        for size in {names[name] for name in layers if name in names}:
            found[size].append(form)
    alone = name_parts(built.pattern, pdf.path).size
    return found if alone is None else {alone: list(_layers_of(pdf))}


def _own_forms(built: Built, pdf: BuiltPdf, alone: str | None) -> dict[str, list[BuiltForm]]:
    """The drawings that belong to one size only, by size."""
    layers = _layers_of(pdf)
    if alone is not None:
        return {alone: list(layers)}
    names = dict(zip(_layer_names(built.speaking(pdf)), built.pattern.sizes, strict=True))
    found: dict[str, list[BuiltForm]] = {size: [] for size in built.pattern.sizes}
    for form, of in layers.items():
        own = next(iter(of)) if len(of) == 1 else None
        if own in names:
            found[names[own]].append(form)
    return found


def _share_lines(built: Built, pdf: BuiltPdf) -> set[str]:
    """Sizes of which some lines are drawn once together with other sizes: what is left of a piece may be but a part."""
    shown = {form for page in pdf.pages for form in page.shown if len(form.layers) > 1}
    names = {name for form in shown if line_extents(form.form.content) is not None for name in form.layers}
    return {
        size for size, name in zip(built.pattern.sizes, _layer_names(built.speaking(pdf)), strict=True) if name in names
    }


def _layers_of(pdf: BuiltPdf) -> dict[BuiltForm, set[str]]:
    """Every drawing of the pattern, and the layers that show it."""
    layers: dict[BuiltForm, set[str]] = {}
    for page in pdf.pages:
        for shown in page.shown:
            if shown.name != "/Overlay":
                layers.setdefault(shown.form, set()).update(shown.layers)
    return layers


def _written(pdf: BuiltPdf, shown: _Shown) -> Iterator[Outcome]:
    """Sizes are written alone, beside lines and in the text block, in the layer of their size."""
    size, counts = shown.size, shown.written
    other = max((text for text in counts if text != size), key=lambda text: counts[text], default=None)
    if other is not None and counts[other] > counts.get(size, 0):
        text = f"the layer of size {size} says {other}"
        yield at_file(pdf.path, "other-label", text, f"{other}, {counts[other]} times", size, size=size)


class _Measured:
    """Widths and heights of the cut lines of all pieces, by size; both ways, since paper turns pieces."""

    def __init__(self, built: Built) -> None:
        self.sizes = {
            size: np.array([pair for piece in data.pieces.values() for pair in _extents(piece)]).reshape(-1, 2)
            for size, data in built.pieces.sizes.items()
        }

    def sizes_of(self, found: Extents) -> list[str]:
        """Sizes that have a piece as large as this."""
        return [size for size, pairs in self.sizes.items() if (np.abs(pairs - found) <= TOLERANCE_MM).all(axis=1).any()]

    def scales(self, found: Extents, size: str) -> set[float]:
        """By what some piece of a size would have to be scaled to be as large as this, to 0.1 %."""
        shares = ((found[0] / pair[0], found[1] / pair[1]) for pair in self.sizes[size])
        near = {round(a, 3) for a, b in shares if abs(a / b - 1) <= _SAME_SHARE and 0.5 < a < 2}
        return {scale for scale in near if abs(scale - 1) > _SCALED}


def _extents(piece: PieceData) -> list[Extents]:
    across, down = zip(*piece.cut_outline, strict=True)
    width, height = max(across) - min(across), max(down) - min(down)
    halves = [(width / 2, height), (width, height / 2)] if piece.on_fold else []
    return [pair for w, h in ((width, height), *halves) for pair in ((w, h), (h, w))]


def _measured(known: _Measured, pdf: BuiltPdf, shown: _Shown) -> Iterator[Outcome]:
    """The largest drawings of one size. A cut line that is partly drawn with other sizes tells nothing.

    Where lines are shared, one drawing can be as large as another size's piece by chance: it takes two, and none of
    the size itself.
    """
    size, found = shown.size, shown.extents
    others: Counter[str] = Counter()
    own = 0
    for extents in found:
        sizes = known.sizes_of(extents)
        own += size in sizes
        others.update(sizes if size not in sizes else ())
    strange = sum(bool(sizes) and size not in sizes for sizes in map(known.sizes_of, found))
    if strange > 1 and not own if shown.shares else strange:
        other = others.most_common(1)[0][0]
        text = f"what it shows as size {size} is as large as size {other}"
        yield at_file(pdf.path, "other-size", text, f"a piece of size {other}", f"pieces of size {size}", size=size)
    elif not own:
        scales = Counter(scale for extents in found for scale in known.scales(extents, size))
        scale, times = scales.most_common(1)[0] if scales else (1.0, 0)
        if times > 1:
            text = f"the pieces of size {size} are drawn at {scale:.1%} of what they measure"
            yield at_file(pdf.path, "scaled", text, f"{scale:.3f}", "1.000", size=size)
        else:
            text = (
                f"whether the pieces of size {size} are as large as they should be in the finished file was not"
                " measured there, for none of them is drawn by itself, without lines of other sizes"
            )
            yield at_file(pdf.path, "not-measured", text, "", "", size=size, severity="skip")
    for matrix in shown.scaled:
        text = f"a drawing of size {size} is scaled or turned"
        yield at_file(pdf.path, "scaled", text, matrix, "1 0 0 1", size=size)


def _largest(forms: Sequence[BuiltForm]) -> list[BuiltForm]:
    return sorted(forms, key=lambda form: form.area, reverse=True)[:_LARGEST]


def _extents_of(form: BuiltForm) -> Extents | None:
    box = line_extents(form.content)
    return None if box is None else (box.width * MM_PER_POINT, box.height * MM_PER_POINT)

"""What is written on a piece: the lines of its text block, in every language and both unit systems."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from pipeline.checks.mirror import is_symmetric
from pipeline.drawing.labels.block_layouts import NO_BREAK, Words
from pipeline.drawing.piece.edge_names import edge_word, edge_words
from pipeline.drawing.piece.own_image import told_copies
from pipeline.drawing.wording import SEPARATOR, all_languages, length_words, size_range, told_apart, told_of
from pipeline.model.pattern import Pattern, Units, in_language
from pipeline.model.piece_specs import Cut, PieceSpec, Texts
from pipeline.model.pieces import CutEdge, CutPiece, GrownPart
from pipeline.model.questions import owner_of, side_of
from pipeline.words import say, say_all


def piece_title(pattern: Pattern, piece: str) -> Texts:
    """The title of a piece, or of a strip that is drawn. Raises KeyError."""
    return owner_of(pattern, piece).title


def piece_cuts(pattern: Pattern, piece: str) -> tuple[Cut, ...]:
    """What is cut from a piece, or from a strip that is drawn. Raises KeyError."""
    return owner_of(pattern, piece).cut


def block_words(pattern: Pattern, cuts: Mapping[str, CutPiece], plain: bool, whole: bool) -> tuple[Words, ...]:
    """The block of a piece whose cut pieces stand in `cuts` by size.

    A plain one belongs to one size alone; on a `whole` one the fold is opened, so nothing is said of it.
    """
    sizes = tuple(cuts)
    name = next(iter(cuts.values())).piece
    languages = pattern.languages
    numbered = (
        [say(lang, "piece.number", **_number(pattern, name)) for lang in languages] if name in pattern.pieces else []
    )
    version = say_all(languages, "piece.version", version=pattern.version)
    if plain:
        named = [f"{say(language, 'size.name')} {sizes[0]}" for language in languages]
        written = dict.fromkeys(map(_kept_together, named))
        size_line = Words(SEPARATOR.join(written), sizes, 1.3, bold=True)
    else:
        size_line = _size_slots(pattern, sizes, 1.1)
    return (
        Words(all_languages(piece_title(pattern, name), languages), sizes, 1.6, bold=True),
        Words(all_languages(pattern.title, languages), sizes, 1.1, bold=True),
        Words(SEPARATOR.join(_kept_together(text) for text in (*dict.fromkeys(numbered), version)), sizes),
        size_line,
        *by_sizes(pattern, {size: cut_sentences(pattern, cut, whole) for size, cut in cuts.items()}),
        *(Words(sentence, sizes, bold=True, vital=True) for sentence in vital_sentences(pattern, name)),
        *by_sizes(pattern, {size: allowance_sentences(pattern, cut) for size, cut in cuts.items()}),
    )


def terse_words(pattern: Pattern, cuts: Mapping[str, CutPiece], whole: bool) -> tuple[Words, ...]:
    """What is read of a piece from afar: title, sizes, how it is cut, its side, that it is off grain; as `block_words`.

    What holds for the whole file stands at its edge, allowances on the printed piece.
    """
    sizes = tuple(cuts)
    name = next(iter(cuts.values())).piece
    return (
        Words(all_languages(piece_title(pattern, name), pattern.languages), sizes, 1.3, bold=True),
        _size_slots(pattern, sizes, 1.0),
        *by_sizes(pattern, {size: cut_sentences(pattern, cut, whole) for size, cut in cuts.items()}),
        *(Words(sentence, sizes, bold=True, vital=True) for sentence in vital_sentences(pattern, name)),
    )


def _size_slots(pattern: Pattern, sizes: tuple[str, ...], scale: float) -> Words:
    key = "size.name" if len(sizes) == 1 else "size.several"
    slots = tuple(_value_slots(pattern, sizes)) or tuple((size, (size,)) for size in sizes)
    return Words(say_all(pattern.languages, key), sizes, scale, bold=True, slots=slots)


def _value_slots(pattern: Pattern, sizes: tuple[str, ...]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Where sizes are all points of several ladders, their values, each shown in its sizes: 36 38 40 · petite tall."""
    if not pattern.size_axes or len(sizes) < len(pattern.sizes):
        return
    for number, values in enumerate(pattern.size_axes.values()):
        yield from ((SEPARATOR.strip(), sizes),) * bool(number)
        yield from ((value, pattern.size_sets[value]) for value in values)


def vital_sentences(pattern: Pattern, piece: str) -> tuple[str, ...]:
    """That one side of the wearer alone has a piece, and that it does not lie along the grain, in every language.

    Nothing where neither is so. A strip's own arrow is always along the grain.
    """
    side = side_of(piece_cuts(pattern, piece))
    sided = [said[:1].upper() + said[1:] for said in _each(pattern, f"mark-side.{side}")] if side else []
    grain = pattern.pieces[piece].grain if piece in pattern.pieces else "warp"
    return (*dict.fromkeys(sided), *dict.fromkeys(_each(pattern, f"piece.cut-{grain}") if grain != "warp" else ()))


def _each(pattern: Pattern, key: str) -> list[str]:
    return [say(language, key) for language in pattern.languages]


def _number(pattern: Pattern, piece: str) -> dict[str, int]:
    numbers = [spec.number for spec in pattern.pieces.values()]
    return {"number": pattern.pieces[piece].number, "count": max(len(numbers), *numbers)}


def by_sizes(pattern: Pattern, sentences: Mapping[str, tuple[str, ...]]) -> list[Words]:
    """Sentences that are alike in all sizes once; others with their sizes before them, each shown in those sizes."""
    found: dict[tuple[str, ...], list[str]] = {}
    for size, own in sentences.items():
        found.setdefault(own, []).append(size)
    words = []
    for lines, sizes in found.items():
        for line in lines:
            text = line if len(found) == 1 else told_of(pattern.languages[0], size_range(sizes, pattern), line)
            words.append(Words(text, tuple(sizes)))
    return words


def cut_sentences(pattern: Pattern, cut: CutPiece, whole: bool = False) -> tuple[str, ...]:
    """How many to cut of which material, on the fold or in pairs, and which side is up where only one will do.

    A sentence a language and entry, with the side of the wearer where entries differ in it. A piece that is its own
    mirror image may lie either way; of one that takes another's outline, as an interfacing, nothing is said: which of
    its sides is glued is not known.
    """
    sentences = []
    on_fold = cut.fold is not None and not whole
    spec = pattern.pieces.get(cut.piece)
    one_sided = cut.fold is None and spec is not None and spec.source is None and not is_symmetric(cut.cut_outline)
    entries = piece_cuts(pattern, cut.piece)
    by_entry = side_of(entries) is None
    for language in pattern.languages:
        for entry in entries:
            count, mirrored = told_copies(pattern, cut, entry)
            if count:
                material = in_language(pattern.materials[entry.material].title, language)
                sentence = cut_sentence(language, count, mirrored, material, on_fold, one_sided)
                side = say(language, f"mark-side.{entry.side}") if by_entry and entry.side else ""
                sentences.append(f"{sentence}, {side}" if side else sentence)
    return tuple(dict.fromkeys(sentences))


def cut_sentence(
    language: str, count: int, mirrored: int, material: str, on_fold: bool, one_sided: bool = False
) -> str:
    """How many to cut of a material, on the fold or in pairs, in one language."""
    if on_fold:
        return say(language, "piece.cut-fold", count=count, material=material)
    if mirrored == 0:
        return say(language, "piece.cut-one-sided" if one_sided else "piece.cut", count=count, material=material)
    if mirrored == count:
        return say(language, "piece.cut-all-mirrored", count=count, material=material)
    if 2 * mirrored == count:
        return say(language, "piece.cut-pairs", count=count, material=material, pairs=mirrored)
    return say(language, "piece.cut-some-mirrored", count=count, material=material, mirrored=mirrored)


def allowance_sentences(pattern: Pattern, cut: CutPiece) -> tuple[str, ...]:
    """Which allowances the cut line includes: the general one, hems by name, then the edges that differ.

    A derived piece is told by how far it is cut from the piece that it is made of, and whether it is a part of it.
    """
    return tuple(said for language in pattern.languages for said in _allowances_in(pattern, language, cut))


def _allowances_in(pattern: Pattern, language: str, cut: CutPiece) -> Iterator[str]:
    if (spec := pattern.pieces.get(cut.piece)) is not None and spec.source is not None:
        distance_mm, key = _from_source(spec)
        number = pattern.pieces[spec.source].number
        if spec.part is not None:
            yield say(language, "piece.part", number=number)
        if key is not None:
            yield say(language, key, distance=_length(pattern, language, distance_mm), number=number)
            return
    yield _allowance_sentence(pattern, language, cut.edges)


def _from_source(spec: PieceSpec) -> tuple[float, str | None]:
    """How far from its source a derived piece is cut, and the words for it; none where it keeps its allowances."""
    if spec.trim_mm is not None:
        return spec.trim_mm, "piece.allowance-trimmed"
    if spec.past_seam_mm is None:
        return 0.0, None
    if spec.past_seam_mm == 0:
        return 0.0, "piece.allowance-even"
    return abs(spec.past_seam_mm), "piece.allowance-past" if spec.past_seam_mm > 0 else "piece.allowance-short"


class _Width(NamedTuple):
    """An allowance as it is told: where it tapers, to `narrow_mm` at the edge that is called `beside`; where it changes
    in parts, from `narrow_mm` to `wide_mm` and beside none."""

    wide_mm: float
    narrow_mm: float
    beside: str = ""


def _width(edges: Sequence[CutEdge], index: int) -> _Width:
    if edges[index].allowance_between:
        return _Width(round(edges[index].widest_mm, 3), round(edges[index].narrowest_mm, 3))
    start_mm, end_mm = (round(edges[index].allowance_at(share), 3) for share in (0.0, 1.0))
    if start_mm == end_mm:
        return _Width(start_mm, start_mm)
    narrow_at = (index + 1) % len(edges) if end_mm < start_mm else index - 1
    return _Width(max(start_mm, end_mm), min(start_mm, end_mm), edges[narrow_at].name)


def _allowance_sentence(pattern: Pattern, language: str, edges: Sequence[CutEdge]) -> str:
    """The general allowance is the one along most of the seam line that has any, one that does not taper first."""
    plain: dict[_Width, list[CutEdge]] = {}
    hems: set[_Width] = set()
    for index, edge in enumerate(edges):
        width = _width(edges, index)
        if edge.hem and width.wide_mm > 0:
            hems.add(width)
        elif not edge.folded:
            plain.setdefault(width, []).append(edge)
    nothing = _Width(0.0, 0.0)
    general, *others = sorted(
        plain, key=lambda w: (w == nothing, w.wide_mm != w.narrow_mm, -_gross_mm(plain[w]), w)
    ) or [nothing]
    if general == nothing:
        parts = [say(language, "piece.allowance-none")]
    else:
        parts = [say(language, "piece.allowance", allowance=_width_words(pattern, language, general))]
    for hem in sorted(hems):
        parts.append(say(language, "piece.allowance-hem", allowance=_width_words(pattern, language, hem)))
    told = (_differing(pattern, language, width, plain[width], edges) for width in others)
    grown = (_grown_words(pattern, language, edge, part) for edge in edges for part in edge.grown_on)
    return told_apart(language, (", ".join(parts), *told, *dict.fromkeys(grown)))


def grown_width(widths_mm: Sequence[float], language: str, units: Units) -> str:
    """How wide something grown on is: "4 cm"; "5 cm tapering to 3 cm"."""
    wide, narrow = (length_words(language, mm, units) for mm in (max(widths_mm), min(widths_mm)))
    return wide if wide == narrow else say(language, "piece.taper", wide=wide, narrow=narrow)


def _grown_words(pattern: Pattern, language: str, edge: CutEdge, part: GrownPart) -> str:
    """ "centre front: 4 cm grown on, fold along the line"; without the edge where its name has no words."""
    width, turn_in = grown_width(part.widths_mm, language, pattern.units), _length(pattern, language, part.turn_in_mm)
    key = "piece.grown-on-turned" if part.turn_in_mm > 0 else "piece.grown-on"
    told, name = say(language, key, width=width, turn_in=turn_in), edge_word(language, edge.name)
    return told_of(language, name, told) if name else told


def _width_words(pattern: Pattern, language: str, width: _Width) -> str:
    """ "1 cm", "2.5 cm tapering to 1 cm at the waist" (without the neighbour where its name has no words), or "1 cm to
    2.5 cm, as drawn"."""
    wide, narrow = (_length(pattern, language, mm) for mm in (width.wide_mm, width.narrow_mm))
    if not width.beside:
        uneven = width.wide_mm != width.narrow_mm
        return say(language, "piece.allowance-parts", narrow=narrow, wide=wide) if uneven else wide
    beside = edge_word(language, width.beside)
    if beside is None:
        return say(language, "piece.taper", wide=wide, narrow=narrow)
    return say(language, "piece.taper-at", wide=wide, narrow=narrow, edge=beside)


def _differing(
    pattern: Pattern, language: str, width: _Width, edges: Sequence[CutEdge], all_edges: Sequence[CutEdge]
) -> str:
    """Edges whose allowance is not the general one: by name where all their names have words that name no others."""
    key = "piece.allowance-other" if width.wide_mm else "piece.allowance-no"
    values = {"allowance": _width_words(pattern, language, width)} if width.wide_mm else {}
    named = edge_words(language, edges, [edge for edge in all_edges if edge not in edges])
    if named is not None:
        return say(language, key, edges=", ".join(named), **values)
    return say(language, f"{key}-some", **values)


def _gross_mm(edges: Sequence[CutEdge]) -> float:
    return sum(edge.gross_length_mm for edge in edges)


def _length(pattern: Pattern, language: str, length_mm: float) -> str:
    return _kept_together(length_words(language, length_mm, pattern.units))


def _kept_together(text: str) -> str:
    """No line ends within it: spaces become no-break spaces, which the block prints as spaces."""
    return text.replace(" ", NO_BREAK)

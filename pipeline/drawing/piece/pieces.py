"""All sizes of a piece as drawings: one for each set of sizes that share something."""

from collections.abc import Mapping, Sequence
from typing import Literal

import msgspec
import numpy as np
import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.ink import Ink, drawings_of, patch_inks
from pipeline.drawing.labels.courses import Obstacles
from pipeline.drawing.labels.point_labels import point_labels
from pipeline.drawing.labels.side_text import Room
from pipeline.drawing.labels.text_block import block_ink, number_ink, terse_block_ink
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.nest.all_sizes import Nest, nest_of
from pipeline.drawing.nest.blends import blend_guides
from pipeline.drawing.nest.lines import (
    BLEND,
    InsideLine,
    Line,
    cut_lines,
    inside_lines,
    line_inks,
    other_lines,
    square_ended,
)
from pipeline.drawing.nest.marks import (
    Heads,
    between_heads,
    common_grain,
    fold_bracket,
    fold_ink,
    grain_ink,
    head_mm,
    notch_inks,
    point_inks,
)
from pipeline.drawing.nest.opened import CENTRE
from pipeline.drawing.nest.page_joints import Joints, joint_lines
from pipeline.drawing.nest.sewing_marks import clip_inks, pleat_inks, tip_inks
from pipeline.drawing.nest.stretch_sign import stretch_sign
from pipeline.drawing.piece.afar import centre_texts, clearer, off_centre
from pipeline.drawing.piece.along_lines import cut_texts, inside_texts
from pipeline.drawing.piece.blend_texts import blend_texts
from pipeline.drawing.piece.few_words import shorter_words, words_apart
from pipeline.drawing.piece.point_texts import point_names
from pipeline.drawing.piece.texts import side_texts
from pipeline.drawing.piece.words import block_words, terse_words
from pipeline.drawing.scene import recoloured
from pipeline.drawing.styles import BLACK, PROJECTED, WHITE, LineStyle, Look, nested, plain
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import nap_of, owner_of, stretches_most

NestStyle = Literal["nested", "plain"]
Ground = Literal["black-on-white", "white-on-black"]

_TEXT_CLEAR_MM = 2.0
_TEXT_CLEAR_SHARE = 0.06
"""The block keeps so far from lines; on a small piece, this share of its narrower side."""


def draw_nest(
    pattern: Pattern,
    cuts: Mapping[str, CutPiece],
    quarter_turns: int,
    style: NestStyle = "nested",
    joints: Sequence[Joints] = (),
) -> tuple[Drawing, ...]:
    """Drawings of one piece in nest coordinates, turned clockwise; `cuts` has its sizes in the pattern's order.

    "nested": each size's cut line in its code and colour, what sizes share solid and black. "plain": one size, solid.
    Texts stand upright or are read from the right, whatever the turn. `joints` are those of each print file, the most
    important first: texts keep clear of all of them where there is room, else of the first files'. Raises ValueError
    where the font lacks a letter of a text, where a language has no words, or where the piece has no room for its
    shortest text.
    """
    if style == "plain" and len(cuts) != 1:
        raise ValueError(f"a plain drawing shows one size, not {len(cuts)}")
    look = plain(pattern.style) if style == "plain" else nested(pattern.print.black, pattern.style)
    return _drawn(pattern, cuts, quarter_turns, look, whole=False, joints=joints)


def draw_projector_nest(pattern: Pattern, cuts: Mapping[str, CutPiece], quarter_turns: int) -> tuple[Drawing, ...]:
    """Drawings of one piece for a projector, in nest coordinates: thick solid lines and few large texts, in black.

    Lines are whole: what is written in them hides them only while the text's own sizes are shown. Pieces on the fold
    are whole where the pattern's projector says so. Seam lines are left out: at this width they
    would hide the cut lines of the next sizes. The ground itself is the page's. Raises as `draw_nest`.
    """
    return _drawn(pattern, cuts, quarter_turns, PROJECTED, whole=pattern.projector.unfold)


def in_white(drawing: Drawing) -> Drawing:
    """A drawing in black on white as one in white on black."""
    return msgspec.structs.replace(drawing, shapes=recoloured(drawing.shapes, {BLACK: WHITE, WHITE: BLACK}))


def _drawn(
    pattern: Pattern,
    cuts: Mapping[str, CutPiece],
    quarter_turns: int,
    look: Look,
    whole: bool,
    joints: Sequence[Joints] = (),
) -> tuple[Drawing, ...]:
    nest = nest_of(pattern, cuts, quarter_turns, look, whole)
    cuts_drawn, others, inside = cut_lines(nest), other_lines(nest), inside_lines(nest)
    guides = blend_guides(nest, cuts, quarter_turns)
    lines = [*others, *(Line(line.stretch, line.style, f"line-{line.kind}") for line in inside), *cuts_drawn]
    before_guides = len(lines)
    lines += [guide.line for guide in guides]
    points = point_inks({size: piece.points for size, piece in nest.pieces.items()}, nest.codes, look)
    sewing = pleat_inks(nest.pieces, nest.codes, look, nest.ground)
    sewing += [ink for inks in (clip_inks, tip_inks) for ink in inks(nest.pieces, nest.codes, look)]
    notches = [*notch_inks(nest.pieces, nest.codes, look), *sewing]
    folds, grains = _fold_signs(nest), _grain_lines(nest)
    marks = [*(ink for ink, _ in (*folds, *grains)), *(spot.ink for spot in points), *notches]
    marks += _stretch_signs(nest, grains, lines, marks)
    faint = {index for index, line in enumerate(lines) if line.sign in ("seam", BLEND)}
    obstacles = Obstacles([line.stretch for line in lines], [stroke for ink in marks for stroke in ink.strokes], faint)
    taken: list[shapely.Geometry] = []
    left, top, right, bottom = shapely.total_bounds(obstacles.tree.geometries).tolist()
    bounds = left, top, right, bottom
    room = Room(nest.ground, obstacles, taken, joint_lines(joints, bounds), look.clear_mm)
    shapely.prepare(room.joints)
    # from afar, a piece's title is worth more than words beside its arrow
    texts = [] if look.terse else side_texts(nest, folds, grains, room, taken)
    texts += cut_texts(
        nest, cuts_drawn, len(others) + len(inside), room, taken, [joint_lines([f], bounds) for f in joints]
    )
    texts += inside_texts(nest, inside, len(others), room, taken)
    texts += blend_texts(nest, guides, before_guides, room._replace(ground=nest.cut_ground), taken)
    texts += point_labels(nest, points, room._replace(ground=shapely.box(*bounds)), taken)
    texts += point_names(nest, points, room, taken)
    marks += [ink for ink in texts if ink.strokes]
    texts = [ink for ink in texts if ink.boxes]
    block = _text_block(nest, cuts, _free_areas(nest, inside, marks, taken, joints), whole)
    if any(line.key == CENTRE for line in inside):
        sides = [line for line in inside if line.key != CENTRE]
        across = _text_block(nest, cuts, _free_areas(nest, sides, marks, taken, joints), whole)
        block = clearer(block, off_centre(across, inside))
    if look.terse:
        taken += [box for ink in block for box in ink.boxes]
        texts += side_texts(nest, folds, grains, room, taken)
        texts += centre_texts(nest, inside, room, taken)
    if look.ground is None:
        drawn = line_inks(lines, [gap for ink in texts for gap in ink.gaps])
        return drawings_of(nest.name, pattern.sizes, [*drawn, *marks, *texts, *block], quarter_turns)
    above = [*patch_inks([*texts, *block], look.ground), *texts, *block]
    return (
        *drawings_of(nest.name, pattern.sizes, [*line_inks([*map(square_ended, lines)], ()), *marks], quarter_turns),
        *drawings_of(nest.name, pattern.sizes, above, quarter_turns, above=True),
    )


def _fold_signs(nest: Nest) -> list[tuple[Ink, tuple[Point, Point]]]:
    """The fold sign with the line its text stands beside: one for all sizes where their folds lie on one line."""
    folds = {size: piece.fold for size, piece in nest.pieces.items() if piece.fold is not None}
    if not folds:
        return []
    first = next(iter(folds.values()))
    along = first[0].to(first[1]).unit()
    reach = [[along.dot(first[0].to(end)) for end in fold] for fold in folds.values()]
    off = max(abs(along.cross(first[0].to(end))) for fold in folds.values() for end in fold)
    low, high = max(ends[0] for ends in reach), min(ends[1] for ends in reach)
    if off <= 0.1 and high > low:
        folds_of = {tuple(folds): (first[0].plus(along.scaled(low)), first[0].plus(along.scaled(high)))}
    else:
        folds_of = {(size,): fold for size, fold in folds.items()}
    found = []
    for sizes, fold in folds_of.items():
        bracket = fold_bracket(fold)
        style = LineStyle(nest.look.colour(sizes, nest.codes), nest.look.mark_mm)
        found.append((fold_ink(sizes, bracket, style), (bracket[1], bracket[2])))
    return found


def _grain_lines(nest: Nest) -> list[tuple[Ink, tuple[Point, Point]]]:
    """The grain line with what a text beside it may use: one for all sizes where they are parallel."""
    nap = nap_of(nest.pattern, nest.name)
    heads: Heads = "one" if nap == "one-way" else "open" if nap == "either" else "two"
    common = common_grain(nest.pieces, nest.ground)
    lines = {nest.sizes: common} if common else {(size,): piece.grain for size, piece in nest.pieces.items()}
    found = []
    for sizes, line in lines.items():
        style = LineStyle(nest.look.colour(sizes, nest.codes), nest.look.mark_mm)
        head = head_mm(line, nest.look)
        found.append((grain_ink(sizes, line, heads, style, head), between_heads(line, head)))
    return found


def _stretch_signs(
    nest: Nest, grains: Sequence[tuple[Ink, tuple[Point, Point]]], lines: Sequence[Line], marks: Sequence[Ink]
) -> list[Ink]:
    """The direction in which a piece's cloth gives most, at each of its grain lines; none for a piece on the bias, on
    which it is not told which of both diagonals that is."""
    spec = nest.pattern.pieces.get(nest.name)
    cloths = {stretches_most(nest.pattern.materials[cut.material]) for cut in owner_of(nest.pattern, nest.name).cut}
    ways = cloths - {None}
    if len(ways) != 1 or (spec is not None and spec.grain == "bias"):
        return []
    across = ways == ({"along"} if spec is not None and spec.grain == "weft" else {"across"})
    grain_inks = [ink for ink, _ in grains]
    drawn = [shapely.LineString(line.stretch.ring) for line in lines]
    drawn += [shapely.LineString(stroke) for ink in marks if ink not in grain_inks for stroke in ink.strokes]
    found = []
    for ink, line in grains:
        ground = nest.ground if ink.sizes == nest.sizes else shapely.Polygon(nest.pieces[ink.sizes[0]].ground)
        style = LineStyle(nest.look.colour(ink.sizes, nest.codes), nest.look.mark_mm)
        found.append(stretch_sign(ink.sizes, line, across, ground, drawn, style, nest.look))
    return [sign for sign in found if sign is not None]


def _free_areas(
    nest: Nest,
    inside: Sequence[InsideLine],
    marks: Sequence[Ink],
    taken: Sequence[shapely.Polygon],
    joints: Sequence[Joints],
) -> list[shapely.Geometry]:
    """Where the block may stand: inside every size, away from lines, marks and other texts.

    First what is clear of all joints of pages, then of those of ever fewer files and of single ones, last all of it.
    """
    strokes = [*shapely.linestrings([stroke for ink in marks for stroke in ink.strokes])]
    strokes += [shapely.LineString(line.stretch.ring) for line in inside]
    left, top, right, bottom = nest.ground.bounds
    clear = min(_TEXT_CLEAR_MM * nest.look.marks**0.5, _TEXT_CLEAR_SHARE * min(right - left, bottom - top))
    occupied = np.array([*strokes, *taken], dtype=object)
    near = occupied[shapely.dwithin(occupied, nest.ground, clear)]
    blocked = shapely.union_all(shapely.buffer(near, clear, quad_segs=2))
    free = nest.ground.buffer(-clear, quad_segs=2).difference(blocked)
    files = [joints[:count] for count in range(len(joints), 0, -1)] + [(other,) for other in joints[1:]]
    passed = dict.fromkeys(joint_lines(some, nest.ground.bounds) for some in files)
    return [*(free.difference(lines.buffer(clear)) for lines in passed if not lines.is_empty), free]


def _text_block(
    nest: Nest, cuts: Mapping[str, CutPiece], free: Sequence[shapely.Geometry], whole: bool
) -> tuple[Ink, ...]:
    """The text block; of a piece too small for any, its number."""
    base = nest.pieces.get(nest.pattern.base) or next(iter(nest.pieces.values()))
    wanted = shapely.Polygon(base.label) if base.label else None
    pattern, look = nest.pattern, nest.look
    if look.terse:
        first = msgspec.structs.replace(pattern, languages=pattern.languages[:1])
        words = terse_words(first, cuts, whole)
        least = tuple(line for line in words if not line.slots)
        every = terse_words(pattern, cuts, whole)
        titled = (every[0], *words[1:])
        block = terse_block_ink((every, titled, words, least), free[-1], wanted, look.ink)
    else:
        words = block_words(pattern, cuts, plain=not look.coded, whole=whole)
        shorter = shorter_words(pattern, cuts, plain=not look.coded, whole=whole)
        apart = words_apart(pattern, cuts, plain=not look.coded, whole=whole)
        block = block_ink(words, apart, shorter, free, wanted, look.block_mm, look.ink)
    if block is None:
        named = laid_names(pattern, pattern.languages[0])
        short = (named.get(nest.name) or named[f"strips.{nest.name}"]).short
        return number_ink(short, nest.sizes, free[-1], nest.ground, look.ink, afar=look.terse)
    return block

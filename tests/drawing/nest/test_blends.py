"""Guides between sizes, on the demo pinafore with blended sides: where they lie, when they show, what they say."""

import math
from itertools import pairwise

import msgspec
import numpy as np
import pytest
import shapely

from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.nest.all_sizes import nest_of
from pipeline.drawing.nest.blends import Guide, blend_guides
from pipeline.drawing.nest.lines import BLEND
from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.drawing.styles import NESTED, PROJECTED
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgePart, EdgeSpec
from pipeline.sheets.layout import nest_affine
from tests.drawing.demo_nests import demo
from tests.drawing.legibility import lines_through_texts, texts_on_texts
from tests.drawing.seen import texts

PLAIN_PATTERN, CUTS = demo("child-pinafore")
PIECE = "skirt-front"
SIZES = PLAIN_PATTERN.sizes


def blended(blend: EdgePart | bool = True, piece: str = PIECE, **more) -> Pattern:
    spec = PLAIN_PATTERN.pieces[piece]
    edges = {**spec.edges, "side": EdgeSpec(blend=blend)}
    pieces = {**PLAIN_PATTERN.pieces, piece: msgspec.structs.replace(spec, edges=edges)}
    return msgspec.structs.replace(PLAIN_PATTERN, pieces=pieces, **more)


def guides_of(pattern: Pattern, turns: int = 0, piece: str = PIECE) -> list[Guide]:
    return blend_guides(nest_of(pattern, CUTS[piece], turns, NESTED, False), CUTS[piece], turns)


def cut_line(size: str, turns: int = 0, piece: str = PIECE) -> shapely.LineString:
    cut = CUTS[piece][size]
    affine = nest_affine(cut.drawn.anchor, turns)
    return shapely.LineString([affine.point(place) for run in cut.edge("side").cut_line for place in run])


@pytest.mark.parametrize("turns", [0, 1])
def test_they_lead_from_each_size_to_its_neighbours_and_back(turns: int) -> None:
    guides = guides_of(blended(), turns)
    pairs = [(a, b) for one, other in pairwise(SIZES) for a, b in ((one, other), (other, one))]
    assert [(guide.start, guide.end) for guide in guides] == pairs
    for guide in guides:
        points = guide.line.stretch.points
        first, second = cut_line(guide.start, turns), cut_line(guide.end, turns)
        assert math.dist(points[0], first.coords[0]) < 0.05
        assert math.dist(points[-1], second.coords[-1]) < 0.05
        between = shapely.Polygon([*first.coords, *reversed(second.coords)])
        assert between.buffer(0.05).covers(shapely.LineString(points))
        for (a, b), (c, d) in ((points[:2], first.coords[:2]), (points[-2:], second.coords[-2:])):
            turn = math.atan2(b[1] - a[1], b[0] - a[0]) - math.atan2(d[1] - c[1], d[0] - c[0])
            assert abs(math.degrees((turn + math.pi) % (2 * math.pi) - math.pi)) < 1


def test_between_two_places_they_lie_along_that_part_alone() -> None:
    names = {notch.name for notch in CUTS[PIECE][SIZES[0]].drawn.notches if notch.edge == "side"} - {None}
    assert names
    name = min(names)
    end = CUTS[PIECE][SIZES[0]].drawn.edges[1].name
    assert end == "side"
    whole, part = guides_of(blended()), guides_of(blended(EdgePart(name, "hem")))
    assert len(part) == len(whole)
    for short, long in zip(part, whole, strict=True):
        lengths = [shapely.LineString(guide.line.stretch.points).length for guide in (short, long)]
        assert lengths[0] < lengths[1] - 5
        at = cut_line(short.start)
        assert at.distance(shapely.Point(short.line.stretch.points[0])) < 0.05
        cut = CUTS[PIECE][short.start]
        notch = next(each for each in cut.drawn.notches if each.name == name)
        place = nest_affine(cut.drawn.anchor, 0).point(notch.place)
        ends = [math.dist(place, short.line.stretch.points[k]) for k in (0, -1)]
        assert min(ends) < 15, "an allowance away from the notch"


def test_one_size_alone_and_projector_files_have_none() -> None:
    alone = {SIZES[0]: CUTS[PIECE][SIZES[0]]}
    assert draw_nest(blended(), alone, 0, "plain") == draw_nest(PLAIN_PATTERN, alone, 0, "plain")
    assert draw_projector_nest(blended(), CUTS[PIECE], 0) == draw_projector_nest(PLAIN_PATTERN, CUTS[PIECE], 0)
    assert blend_guides(nest_of(blended(), CUTS[PIECE], 0, PROJECTED, False), CUTS[PIECE], 0) == []


def test_edges_of_which_nothing_is_said_are_drawn_as_they_were() -> None:
    assert guides_of(PLAIN_PATTERN) == []
    assert draw_nest(blended(False), CUTS[PIECE], 0) == draw_nest(PLAIN_PATTERN, CUTS[PIECE], 0)


def test_they_are_of_both_sizes_together_and_of_no_other() -> None:
    drawn = draw_nest(blended(), CUTS[PIECE], 0)
    shown = [drawing for drawing in drawn if drawing.together]
    assert [drawing.sizes for drawing in shown] == list(pairwise(SIZES))
    assert all(drawing.signs == (BLEND,) for drawing in shown)
    assert BLEND not in shown_signs(drawing for drawing in drawn if not drawing.together)


@pytest.mark.parametrize("piece", ["skirt-front", "skirt-back", "bodice-back"])
def test_no_text_of_the_piece_is_crossed_or_covered(piece: str) -> None:
    drawn = draw_nest(blended(piece=piece), CUTS[piece], 0)
    assert list(lines_through_texts(drawn)) == []
    assert list(texts_on_texts(drawn)) == []


@pytest.mark.parametrize("turns", range(4))
def test_each_pair_is_labelled_so_that_a_size_stands_at_the_end_where_its_line_is_met(turns: int) -> None:
    drawn = draw_nest(blended(), CUTS[PIECE], turns)
    together = {drawing.sizes for drawing in drawn if drawing.together}
    found = [text for text in texts(drawn) if text.content.startswith("from ")]
    assert {text.sizes for text in found} == together, "each pair has a label"
    for text in found:
        first, second = text.content.split(" · ")[0].removeprefix("from ").split(" to ")
        way = np.array((math.cos(math.radians(text.turned_deg)), math.sin(math.radians(text.turned_deg))))
        (guide,) = [
            points
            for guide in guides_of(blended(), turns)
            if (points := shapely.LineString(guide.line.stretch.points)).distance(text.box.centroid) < 0.6
            and {guide.start, guide.end} == {first, second}
        ]
        ends = sorted((guide.coords[0], guide.coords[-1]), key=lambda end: way @ np.array(end))
        lines = [cut_line(size, turns) for size in (first, second)]
        for end, own, other in zip(ends, lines, reversed(lines), strict=True):
            assert own.distance(shapely.Point(end)) < 0.05 < other.distance(shapely.Point(end))


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "nl", "sv"])
def test_it_is_said_in_every_language(language: str) -> None:
    drawn = draw_nest(blended(languages=(language,)), CUTS[PIECE], 0)
    words = {"en": "from", "de": "von", "fr": "de", "es": "de", "nl": "van", "sv": "från"}
    assert [text for text in texts(drawn) if text.content.startswith(f"{words[language]} 92 ")]

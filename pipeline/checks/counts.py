"""How often every piece is cut: of some material, in pairs where it must be, and as often as its seams need it."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.mirror import is_symmetric
from pipeline.checks.partners import Hands, Quarrel, quarrels
from pipeline.checks.registry import Outcome
from pipeline.model.piece_specs import Cut, PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies, copies_of, side_of, worn_of


@CHECKS.register(
    id="cut-material",
    title="Every piece is cut of some material, in every size it is made in",
    rationale="A piece without material, or of which none is cut, is on paper but in no cut list: what is it for?",
    remedy="name a material and a count in the piece's cut, or take the piece out of that size",
    severity="block",
    source="what is drawn is what is cut: common practice",
)
def cut_material(garment: Garment) -> Iterator[Outcome]:
    """Pieces and strips without material, counts of 0, and materials that nothing is cut of."""
    pattern = garment.pattern
    for name, (place, cuts) in owners(garment).items():
        if not cuts:
            yield _uncut("no-material", name, place, None, "no cut entry")
            continue
        spec = pattern.pieces.get(name)
        for size in spec.sizes if spec else pattern.sizes:
            if not copies(cuts, size).copies:
                yield _uncut("count-zero", name, place, size, "a count of 0")
    used = {cut.material for _, cuts in owners(garment).values() for cut in cuts}
    for material in pattern.materials:
        if material not in used:
            yield Outcome(
                code="unused-material",
                severity="warn",
                where=f"materials.{material}",
                file="pattern.toml",
                object=f"materials.{material}",
                found="no piece or strip",
                allowed="at least one",
                message=f"nothing is cut of {material}",
                remedy="take the material out, or name it where something is cut of it",
            )


def owners(garment: Garment) -> dict[str, tuple[str | None, tuple[Cut, ...]]]:
    """All that is cut, with the `where` of a strip."""
    owners: dict[str, tuple[str | None, tuple[Cut, ...]]] = {}
    owners |= {name: (None, piece.cut) for name, piece in garment.pattern.pieces.items()}
    return owners | {name: (f"strips.{name}", strip.cut) for name, strip in garment.pattern.strips.items()}


def _uncut(code: str, name: str, where: str | None, size: str | None, found: str) -> Outcome:
    return Outcome(
        code=code,
        size=size,
        piece=None if where else name,
        where=where,
        file="pattern.toml",
        object=f"{where or f'pieces.{name}'}.cut",
        found=found,
        allowed="a material and a count above 0",
        message=f"{name} is cut of nothing",
    )


@CHECKS.register(
    id="cut-whole",
    title="Every piece is there, cut, in every size that it is made in",
    rationale="A piece that was lost between the master and the paper is one that no buyer can sew without.",
    remedy="report this: what cannot be read or cut has to be told by itself, and here nothing was",
    severity="block",
    source="pattern.toml says which pieces there are: common practice",
)
def cut_whole(garment: Garment) -> Iterator[Outcome]:
    """Pieces of pattern.toml that are not among the cut ones, though nothing that was told before blocks."""
    for spec in garment.pattern.pieces.values():
        for size in spec.sizes:
            if garment.cut(spec.name, size) is None:
                yield Outcome(
                    code="lost",
                    size=size,
                    piece=spec.name,
                    file="pattern.toml",
                    object=f"pieces.{spec.name}",
                    found="no cut piece",
                    allowed="one a size",
                    message=f"{spec.name} was neither cut nor told of: that is a fault of the program",
                )


@CHECKS.register(
    id="cut-pairs",
    title="Pairs are pairs: of a piece that is not symmetric, half of an even count is mirrored",
    rationale="Two left fronts make no coat; where all pieces are alike on purpose, mirrored says so.",
    remedy="take mirrored out, so that half of the count is mirrored, or leave it where all are alike on purpose",
    severity="info",
    source="common practice",
)
def cut_pairs(garment: Garment) -> Iterator[Outcome]:
    """Even counts of asymmetric pieces whose `mirrored` says something else than half; half a pair in one material.

    A piece that is a pair in its shell and single in its lining warns: seams fit one of the two, and hide the other.
    """
    for spec, cut in garment.each():
        if cut.fold is not None:
            continue
        hands = [_hands_of(entry, cut.size) for entry in spec.cut]
        single = [
            entry for entry, of in zip(spec.cut, hands, strict=True) if entry.side is None and min(of) == 0 < max(of)
        ]
        if single and any(min(of) > 0 for of in hands) and not symmetric(garment, cut):
            yield Outcome(
                code="half-a-pair",
                severity="warn",
                size=cut.size,
                piece=cut.piece,
                file="pattern.toml",
                object=f"pieces.{cut.piece}.cut",
                found=f"{sum(_hands_of(single[0], cut.size))} of {single[0].material}, all of one hand",
                allowed="both hands, as of its other material",
                message=f"{cut.piece} is cut as a pair of one material and not of {single[0].material}",
                remedy="correct the count of one of them, or say its side where one side alone has that layer",
            )
        for entry in spec.cut:
            count, mirrored = copies_of(entry, cut.size)
            if count and count % 2 == 0 and 2 * mirrored != count and not entry.side and not symmetric(garment, cut):
                yield Outcome(
                    code="not-pairs",
                    size=cut.size,
                    piece=cut.piece,
                    file="pattern.toml",
                    object=f"pieces.{cut.piece}.cut",
                    found=f"{mirrored} of {count} mirrored",
                    allowed=f"{count // 2} of {count}, or as the designer says",
                    message=f"{cut.piece} is not symmetric, and not half of it is mirrored, as pattern.toml says",
                )


@CHECKS.register(
    id="cut-layers",
    title="What is sewn to another layer of itself is there an even number of times",
    rationale="A flap needs its outside and its inside: of three layers one is left over, and of one there is no flap.",
    remedy="correct the count of one of its materials, or say its layers; waive this where one layer is only laid on",
    severity="warn",
    source="two layers to a seam: common practice",
    needs=("seams",),
)
def cut_layers(garment: Garment) -> Iterator[Outcome]:
    """Pieces of several materials both sides of whose seam are one and the same edge: all layers counted together.

    Layers that are said to lie on each other may count once.

    Materials that are only ever cut beside another, as interfacings are, count as no layer. A piece on the fold is
    sewn to its own other half, however often it is cut.
    """
    sewn = {
        step.piece
        for seam in garment.pattern.seams.values()
        for step in seam.a
        if seam.kind == "sewn" and any((step.piece, step.edge) == (other.piece, other.edge) for other in seam.b)
    }
    layers = layer_materials(garment)
    for spec, cut in garment.each():
        counts = {entry.material: copies_of(entry, cut.size).copies for entry in spec.cut if entry.material in layers}
        worn = sum(worn_of(entry, cut.size).copies for entry in spec.cut if entry.material in layers)
        odd = sum(counts.values()) % 2 and worn % 2
        if spec.name in sewn and cut.fold is None and len(counts) > 1 and odd:
            yield Outcome(
                code="odd",
                size=cut.size,
                piece=spec.name,
                file="pattern.toml",
                object=f"pieces.{spec.name}.cut",
                found=" and ".join(f"{count} of {material}" for material, count in counts.items()),
                allowed="an even number of layers",
                message=f"{spec.name} is sewn to another layer of itself, and one layer is left over",
            )


def layer_materials(garment: Garment) -> set[str]:
    """Materials that something is cut of alone; those that are only ever cut beside another are interfacings."""
    alone = (spec for spec in garment.pattern.pieces.values() if spec.source is None and len(spec.cut) == 1)
    return {spec.cut[0].material for spec in alone}


def symmetric(garment: Garment, cut: CutPiece) -> bool:
    """Whether a piece is its own mirror image, asked once a piece and size."""
    return garment.once(("symmetric", cut.piece, cut.size), lambda: is_symmetric(cut.cut_outline))


@CHECKS.register(
    id="cut-counts",
    title="Every piece is cut as often, and as often mirrored, as the pieces it is sewn to",
    rationale="A seam joins pieces one to one: with one sleeve for two armholes the garment cannot be sewn.",
    remedy="correct count or mirrored in the piece's cut",
    severity="block",
    source=(
        "one edge for each edge it is sewn to; a multiple can be a second layer, as of a yoke, and is one where a seam "
        "sews the piece to itself; both layers of a bag have a seam of their own: common practice"
    ),
    needs=("seams",),
)
def cut_counts(garment: Garment) -> Iterator[Outcome]:
    """The fewest pieces that explain all seams whose sides are not there equally often.

    A whole multiple (a waistband of two layers on one skirt) can be meant, so it only warns.
    """
    for size in garment.pattern.sizes:
        for quarrel in quarrels(garment, size, lambda cut: symmetric(garment, cut)):
            yield _quarrel_outcome(garment.pattern.pieces[quarrel.piece], size, quarrel)


def _quarrel_outcome(spec: PieceSpec, size: str, quarrel: Quarrel) -> Outcome:
    seams = ", ".join(dict.fromkeys(quarrel.seams))
    layers = quarrel.is_multiple
    return Outcome(
        code="another-layer" if layers else "does-not-pair",
        severity="warn" if layers else "block",
        size=size,
        piece=spec.name,
        file="pattern.toml",
        object=f"pieces.{spec.name}.cut",
        found=f"{_edges(quarrel.mine)} at {quarrel.edge}",
        allowed=f"{_edges(quarrel.theirs)}, as {quarrel.partner} {'have' if quarrel.together else 'has'}",
        message=f"{spec.name} is not cut as often as what it is sewn to (seams {seams})",
        remedy=(
            f"correct the count of {spec.name} or of {quarrel.partner}; where it is a second layer, say layers = 2"
            if layers
            else f"cut {spec.name} once for each of {quarrel.partner}: it is sewn to another layer of itself"
            if quarrel.together
            else f"correct count or mirrored of {spec.name}, or of {quarrel.partner}"
        ),
    )


def _edges(hands: Hands) -> str:
    drawn, mirrored = hands
    count = drawn if drawn and mirrored else drawn + mirrored
    edges = f"{count} edge{'' if count == 1 else 's'}"
    return f"{edges} and {mirrored} mirrored" if drawn and mirrored else edges


@CHECKS.register(
    id="cut-derived",
    title="A derived piece is cut at most as often as the piece whose outline it has",
    rationale="Interfacing that is cut more often than its piece, or only for one of a pair, is left over or missing.",
    remedy="give the derived piece the count of its source, or less",
    severity="warn",
    source="common practice",
)
def cut_derived(garment: Garment) -> Iterator[Outcome]:
    """Counts of derived pieces against their sources, and pairs that are half missing."""
    for spec, cut in garment.each():
        source = garment.pattern.pieces.get(spec.source or "")
        if source is None:
            continue
        mine, theirs = _hands(spec, cut.size), _hands(source, cut.size)
        more = sum(mine) > sum(theirs)
        one_hand = cut.fold is None and min(theirs) > 0 and min(mine) == 0 < max(mine) and not side_of(spec.cut)
        if more or (one_hand and not symmetric(garment, cut)):
            yield Outcome(
                code="more-than-source" if more else "half-a-pair",
                size=cut.size,
                piece=cut.piece,
                file="pattern.toml",
                object=f"pieces.{cut.piece}.cut",
                found=f"{sum(mine)} pieces, {mine[1]} mirrored",
                allowed=f"at most {sum(theirs)}, {theirs[1]} mirrored",
                message=f"{cut.piece} has the outline of {source.name}, and is not cut as that is",
            )


def _hands(spec: PieceSpec, size: str) -> Hands:
    cut = copies(spec.cut, size)
    return cut.as_drawn, cut.mirrored


def _hands_of(entry: Cut, size: str) -> Hands:
    cut = copies_of(entry, size)
    return cut.as_drawn, cut.mirrored

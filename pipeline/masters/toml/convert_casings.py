"""Elastic and drawstrings in `pattern.toml`: what they are drawn into, and what elastic cannot say without more."""

from collections.abc import Iterator

from msgspec import UNSET

from pipeline.masters.toml.document import NotionTable, PieceTable, StripTable
from pipeline.masters.toml.faults import KeyPath, did_you_mean, item, shown
from pipeline.masters.toml.leaves import Leaves
from pipeline.model.pattern import Casing

_STRIPS = "strips"


def casings_of_notion(leaves: Leaves, path: KeyPath, table: NotionTable) -> tuple[Casing, ...]:
    """What elastic is drawn into: hems or folds that pieces say, or strips."""
    _check_beside(leaves, path, table)
    return _casings_of(leaves, path, table.casing, list(_casings(leaves)))


def casings_of_strip(leaves: Leaves, path: KeyPath, table: StripTable) -> tuple[Casing, ...]:
    """What a strip is drawn into; any of these but itself."""
    own = ".".join(map(str, path))
    return _casings_of(leaves, path, table.casing, [one for one in _casings(leaves) if one != own])


def _casings_of(leaves: Leaves, path: KeyPath, told: str | tuple[str, ...], known: list[str]) -> tuple[Casing, ...]:
    below = (*path, "casing")
    if leaves.faults.spoiled(below):
        return ()
    texts, paths = (
        ((told,), (below,)) if isinstance(told, str) else (told, [(*below, item(k)) for k in range(len(told))])
    )
    pairs = zip(paths, texts, strict=True)
    return tuple(_casing(leaves, at, text, known) for at, text in pairs if not leaves.faults.spoiled(at))


def _casing(leaves: Leaves, path: KeyPath, said: str, known: list[str]) -> Casing:
    owner, _, line = said.strip().partition(".")
    if said.strip() not in known and leaves.faults.whole(("pieces",)) and leaves.faults.whole((_STRIPS,)):
        message = f"names {shown(said)}, which is no hem, no fold and no strip."
        remedy = did_you_mean(said, known)
        if not known:
            remedy = 'Say hem = true of that edge, or kind = "fold" of that line, in its piece.'
        leaves.faults.tell(path, "unknown-casing", message, remedy, found=said, allowed=", ".join(known) or "a hem")
    return Casing(line) if owner == _STRIPS and owner not in leaves.document.pieces else Casing(owner, line)


def _casings(leaves: Leaves) -> Iterator[str]:
    """All that something can be drawn into, as `casing` names it."""
    for name, piece in leaves.document.pieces.items():
        own = _drawn(leaves, piece)
        yield from (f"{name}.{edge}" for edge, told in own.edges.items() if told.hem or told.fold)
        yield from (f"{name}.{line}" for line, told in own.lines.items() if told.kind == "fold")
    yield from (f"{_STRIPS}.{name}" for name in leaves.document.strips)


def _drawn(leaves: Leaves, piece: PieceTable) -> PieceTable:
    return piece if piece.outline_of is UNSET else leaves.document.pieces.get(piece.outline_of, piece)


def _check_beside(leaves: Leaves, path: KeyPath, table: NotionTable) -> None:
    """Tell of keys that say nothing without another."""
    if not leaves.faults.whole(path):
        return

    def tell(key: str, code: str, message: str, remedy: str, allowed: str) -> None:
        leaves.faults.tell((*path, key), code, message, remedy, found=key, allowed=allowed)

    if table.casing and table.width is UNSET:
        remedy = 'Say how wide the elastic is: width = "2.5 cm".'
        tell("casing", "casing-without-width", "is held against a width that nothing says.", remedy, "with width")
    for key in ("goes_round", "stretched", "opens_to"):
        if getattr(table, key) is not UNSET and table.length is UNSET:
            message, remedy = "is said of what is counted, and has no length.", 'Say its length = "…", or take it out.'
            tell(key, "only-with-length", message, remedy, "with length")
            return
    if table.opens_to is not UNSET and table.goes_round is UNSET:
        message = "is held against what it goes round, and nothing says that."
        remedy = "Say with `goes_round` what it is drawn into or sewn to."
        tell("opens_to", "goes-round-nothing", message, remedy, "with goes_round")

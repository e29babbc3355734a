"""A lay without the engine, in a moment: proven, seldom the shortest."""

import random

from pipeline.lays.compact import compacted
from pipeline.lays.folded_lay import folded_members
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Shapes, folded_as
from pipeline.lays.open_lay import open_members
from pipeline.lays.proof import faults
from pipeline.lays.sharing import Share, shares
from pipeline.lays.shelves import shelved
from pipeline.lays.zones import Part, joined

_SHARES = 4


def plain_lay(request: LayRequest, seed: int = 1) -> Lay | None:
    """A proven lay of boxes in columns, drawn together; of two zones the shortest of a few; None where none holds."""
    if request.way in ("fold", "open"):
        rng = random.Random(seed)
        members = folded_members(request, rng) if request.way == "fold" else open_members(request)
        coarse = Shapes(request, coarse=True)
        length, placed = compacted(request, coarse, shelved(request, coarse, members))
        lay = Lay(folded=folded_as(request.way), length_mm=length, placed=placed, seed=seed, seconds=0)
        return None if faults(request, lay) else lay
    found = []
    for share in shares(request, seed, _SHARES):
        laid = [plain_lay(asked, seed) for _, asked in share.asked]
        whole = [lay for lay in laid if lay is not None]
        if len(whole) == len(laid):
            found.append(together(request, share, whole, seed, 0))
    proven = [lay for lay in found if not faults(request, lay)]
    return min(proven, key=lambda lay: lay.length_mm, default=None)


def together(request: LayRequest, share: Share, laid: list[Lay], seed: int, seconds: int) -> Lay:
    """The lays of the zones of a share as one lay."""
    parts = [Part(zone, asked, lay.placed) for (zone, asked), lay in zip(share.asked, laid, strict=True)]
    return joined(request, parts, max(lay.length_mm for lay in laid), seed, seconds)

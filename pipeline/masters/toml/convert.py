"""The document of `pattern.toml` as the model's `Pattern`; every rule of the file that needs no master."""

from typing import Literal

from msgspec import UNSET

from pipeline.masters.toml.convert_pieces import convert_pieces
from pipeline.masters.toml.convert_sewing import (
    convert_body,
    convert_finished,
    convert_notions,
    convert_seams,
    convert_strips,
    convert_waivers,
)
from pipeline.masters.toml.document import Document
from pipeline.masters.toml.document_materials import MaterialTable
from pipeline.masters.toml.faults import Faults, KeyPath, item, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.masters.toml.names import check_names
from pipeline.masters.toml.size_axes import ONE_LADDER
from pipeline.model.outputs import (
    LINE_WIDTHS_MM,
    TEXT_SHARES,
    BookletSpec,
    Channel,
    PrintSpec,
    ProjectorSpec,
    StyleSpec,
)
from pipeline.model.pattern import Material, Nap, Pattern, View, Way
from pipeline.model.piece_specs import Texts
from pipeline.model.public_keys import KEY_HINT, public_key

_NAPS: dict[bool | Literal["either"], Nap] = {False: "none", True: "one-way", "either": "either"}
_LARGEST_PAGE_EDGE_MM = 50.0
_LARGEST_SHRINKAGE = 0.5
_REPEATS_MM = 1.0, 2000.0
"""No cloth is matched by less, or repeats after more."""
_LARGEST_STRETCH = 3.0
_LARGEST_SPARE = 1.0
_LARGEST_LEAST_MM = 10_000.0


def convert(name: str, document: Document, faults: Faults) -> Pattern:
    """The pattern. Only to be used where nothing was told to `faults`."""
    leaves = Leaves(document, faults)
    head = document.pattern
    _check_sizes(leaves)
    pattern = Pattern(
        name=name,
        title=leaves.texts(("pattern", "title"), head.title),
        version=head.version,
        maker=leaves.texts(("pattern", "maker"), head.maker),
        contact=leaves.texts(("pattern", "contact"), head.contact, lines=True),
        sizes=leaves.sizes,
        base=head.base,
        bands=_bands(leaves),
        languages=leaves.each_once(("pattern", "languages"), head.languages, lambda below, language: None),
        units=head.units,
        wearer=head.wearer,
        sleepwear=head.sleepwear,
        licence=leaves.texts(("pattern", "licence"), head.licence, lines=True),
        clips=head.clips,
        size_sets=_size_sets(leaves),
        size_axes=leaves.axes,
        size_titles=_size_titles(leaves),
        views={
            view: View(view, leaves.texts(("views", view, "title"), told.title))
            for view, told in document.views.items()
        },
        materials={
            material: _material(leaves, ("materials", material), told) for material, told in document.materials.items()
        },
        pieces=convert_pieces(leaves),
        seams=convert_seams(leaves),
        strips=convert_strips(leaves),
        body=convert_body(leaves),
        finished=convert_finished(leaves),
        notions=convert_notions(leaves),
        print=_print(leaves),
        projector=ProjectorSpec(
            unfold=document.projector.unfold,
            width_mm=leaves.length(("projector", "width"), document.projector.width, 100.0),
        ),
        booklet=BookletSpec(accent=document.booklet.accent.lower(), paper=document.booklet.paper),
        style=_style(leaves),
        renew_layout=document.layout.renew,
        lay_seconds=document.lays.seconds,
        channels={
            channel: Channel(channel, told.archives, told.archive_mb) for channel, told in document.channels.items()
        },
        waivers=convert_waivers(leaves),
        pixels_per_inch=given(document.masters.pixels_per_inch),
        drawings=leaves.each_once(("masters", "drawings"), document.masters.drawings, lambda below, name: None),
        by_shape=document.masters.by_shape,
        sign=_keys(leaves),
    )
    check_names(leaves)
    return pattern


def _check_sizes(leaves: Leaves) -> None:
    def check(below: KeyPath, size: str) -> None:
        if size == "all":
            message, remedy = 'is "all": sizes/all/ holds masters for every size.', "Give the size another name."
            leaves.faults.tell(below, "bad-name", message, remedy, found=size)

    leaves.each_once(ONE_LADDER, given(leaves.document.pattern.sizes) or (), check)
    leaves.size(("pattern", "base"), leaves.document.pattern.base)


def _bands(leaves: Leaves) -> tuple[str, ...]:
    """The last sizes of bands; where there are axes, values of these."""
    ladders = list(leaves.axes.values()) or [leaves.sizes]
    among = [size for ladder in ladders for size in ladder]

    def check(below: KeyPath, size: str) -> None:
        last = [ladder[-1] for ladder in ladders if ladder]
        if leaves.known(below, size, among, leaves.sizes_at, "size") and size in last:
            message = f"is {shown(size)}, the last size: the last band ends there anyway."
            remedy = "Name the last size of each band but the last."
            leaves.faults.tell(below, "last-band", message, remedy, found=size, allowed="a size before the last")

    bands = leaves.each_once(("pattern", "bands"), leaves.document.pattern.bands, check)
    return tuple(size for size in among if size in bands)


def _size_titles(leaves: Leaves) -> dict[str, Texts]:
    """What buyers read for a size or for a value of an axis."""
    path = ("pattern", "size_titles")
    titles: dict[str, Texts] = {}
    for name, text in leaves.document.pattern.size_titles.items():
        leaves.size_or_value((*path, name), name)
        titles[name] = leaves.texts((*path, name), text)
    return titles


def _keys(leaves: Leaves) -> tuple[str, ...]:
    path, keys = ("pattern", "sign"), []
    for position, line in enumerate(leaves.document.pattern.sign):
        below = (*path, item(position))
        if leaves.faults.spoiled(below):
            continue
        if (key := public_key(line)) is None:
            message, remedy = "is not a whole public key.", f"Copy {KEY_HINT} from the file that ends in .pub."
            leaves.faults.tell(below, "bad-key", message, remedy, found=shown(line), allowed=KEY_HINT)
        else:
            keys.append(key)
    return leaves.each_once(path, tuple(keys), lambda below, key: None)


def _size_sets(leaves: Leaves) -> dict[str, tuple[str, ...]]:
    sets = {}
    for name, sizes in leaves.document.size_sets.items():
        path = ("size-sets", name)
        if name == "all" or name in leaves.sizes or name in leaves.by_value:
            what = "the set of every size" if name == "all" else "a size" if name in leaves.sizes else "a value of axes"
            message, remedy = f"is the name of {what}, which has a folder of that name.", "Give the set another name."
            leaves.faults.tell(path, "set-name", message, remedy, found=name)
        sets[name] = leaves.sizes_of(leaves.each_once(path, sizes, leaves.size_or_value))
    return sets | leaves.by_value


def _material(leaves: Leaves, path: KeyPath, table: MaterialTable) -> Material:
    selvedge_mm = leaves.length((*path, "selvedge"), table.selvedge)
    widths = []
    for position, text in enumerate(table.widths):
        below = (*path, "widths", item(position))
        width_mm = leaves.length(below, text, 10.0)
        if not leaves.faults.spoiled(below):
            if width_mm <= 2 * selvedge_mm:
                message, remedy = f"is {shown(text)}, all of it selvedge.", "Widen the cloth, or narrow the selvedge."
                leaves.faults.tell(
                    below, "no-usable-width", message, remedy, found=text, allowed="more than two selvedges"
                )
            if width_mm in widths:
                message, remedy = f"is {shown(text)}, which stands in the list already.", "Take one of the two out."
                leaves.faults.tell(below, "twice", message, remedy, found=text, allowed="each once")
        widths.append(width_mm)
    shrinkage = table.shrinkage
    along, across = (shrinkage, shrinkage) if isinstance(shrinkage, str) else (shrinkage.length, shrinkage.width)
    below = (*path, "shrinkage")
    below_along, below_across = (
        (below, below) if isinstance(shrinkage, str) else ((*below, "length"), (*below, "width"))
    )
    return Material(
        title=leaves.texts((*path, "title"), table.title),
        widths_mm=tuple(widths),
        selvedge_mm=selvedge_mm,
        ways=_ways(leaves, path, table),
        nap=_NAPS[table.one_way],
        turn=table.turn,
        gap_mm=leaves.length((*path, "gap"), table.gap, 0.0, 100.0),
        shrinkage_length=leaves.share(below_along, along, _LARGEST_SHRINKAGE),
        shrinkage_width=leaves.share(below_across, across, _LARGEST_SHRINKAGE),
        spare=leaves.share((*path, "spare"), table.spare, _LARGEST_SPARE),
        least_mm=leaves.length((*path, "least"), table.least, 0.0, _LARGEST_LEAST_MM),
        stretch_width=_stretch(leaves, path, table, "width"),
        stretch_length=_stretch(leaves, path, table, "length"),
        recovery=None if table.recovery is UNSET else leaves.share((*path, "recovery"), table.recovery, 1.0),
        repeat_length_mm=_repeat(leaves, path, table, "length"),
        repeat_width_mm=_repeat(leaves, path, table, "width"),
    )


def _repeat(leaves: Leaves, path: KeyPath, table: MaterialTable, way: Literal["length", "width"]) -> float | None:
    """After what length a cloth repeats along it or across; of a single length, along it."""
    said, below = table.repeat, (*path, "repeat")
    if said is UNSET or leaves.faults.spoiled(below) or (isinstance(said, str) and way == "width"):
        return None
    if isinstance(said, str):
        return leaves.length(below, said, *_REPEATS_MM)
    text = said.length if way == "length" else said.width
    return None if text is UNSET else leaves.length((*below, way), text, *_REPEATS_MM)


def _stretch(leaves: Leaves, path: KeyPath, table: MaterialTable, way: Literal["width", "length"]) -> float | None:
    """What a knit gives across or along; of a single share, across alone."""
    said = table.stretch
    if said is UNSET or (isinstance(said, str) and way == "length"):
        return None
    if isinstance(said, str):
        return leaves.share((*path, "stretch"), said, _LARGEST_STRETCH)
    return leaves.share((*path, "stretch", way), getattr(said, way), _LARGEST_STRETCH)


def _ways(leaves: Leaves, path: KeyPath, table: MaterialTable) -> tuple[Way, ...]:
    """The ways of laying; `fold` is the short word for the first two that there are."""
    if table.ways is UNSET:
        return ("fold",) if table.fold is True else ("open",)
    if table.fold is not UNSET:
        message, remedy = "is said beside `ways`, which says it too.", "Take it out: `ways` tells every way."
        leaves.faults.tell((*path, "fold"), "twice", message, remedy, found="fold and ways", allowed="one of them")
    return leaves.each_once((*path, "ways"), table.ways, lambda below, name: None)  # type: ignore[return-value]


def _style(leaves: Leaves) -> StyleSpec:
    table = leaves.document.style
    width, size = table.line_width, table.text_size
    return StyleSpec(
        contact_lines=table.contact_lines,
        line_width_mm=None if width is UNSET else leaves.length(("style", "line_width"), width, *LINE_WIDTHS_MM),
        text_size=None if size is UNSET else leaves.share(("style", "text_size"), size, *reversed(TEXT_SHARES)),
    )


def _print(leaves: Leaves) -> PrintSpec:
    table = leaves.document.print
    return PrintSpec(
        formats=leaves.each_once(("print", "formats"), table.formats, lambda below, name: None),  # type: ignore[arg-type]
        margin_mm=leaves.length(("print", "margin"), table.margin, 0.0, _LARGEST_PAGE_EDGE_MM),
        overlap_mm=leaves.length(("print", "overlap"), table.overlap, 0.0, _LARGEST_PAGE_EDGE_MM),
        by_size=table.by_size,
        black=table.black,
        languages_together=table.languages_together,
    )

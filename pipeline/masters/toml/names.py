"""Names that become files: on every computer they must stay apart, and be taken for nothing else.

File names are told apart by capitals on some systems only, some words are devices on others, and a word that begins
with - is taken for an option by most programs.
"""

from collections.abc import Iterable, Iterator
from itertools import product

from pipeline.masters.toml.document_materials import MaterialTable
from pipeline.masters.toml.faults import KeyPath, item, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.model.lengths import parse_length

_DEVICES = frozenset(("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))))
"""Not usable as file names on Windows, with any ending: Microsoft, "Naming Files, Paths, and Namespaces"."""
MOST_LAYS = 2_000
WORDS_FOLDER = "words"
"""Beside the patterns: a catalogue a language, for languages that the pipeline has no words in."""


def folder_fault(name: str) -> str | None:
    """Why no pattern's folder may have this name; None where it may. The rule for all names is another matter."""
    if not name.isprintable() or "\N{REPLACEMENT CHARACTER}" in name:
        return "is not written in letters that every computer reads"
    if name.lower() == WORDS_FOLDER:
        return "is where words for further languages stand"
    return file_fault(name)


def file_fault(name: str) -> str | None:
    """Why no file should be called so; None where it may."""
    if name.startswith("-"):
        return "begins with -, which programs take for an option"
    return "is the name of a device on Windows" if name.lower() in _DEVICES else None


def check_names(leaves: Leaves) -> None:
    """Tell of names of sizes, sets, pieces, strips, materials and views that are not apart everywhere."""
    document = leaves.document
    folders: dict[str, KeyPath] = {}
    for position, size in enumerate(given(document.pattern.sizes) or leaves.sizes):
        folders.setdefault(size, ("pattern", "sizes", item(position)) if not leaves.axes else leaves.sizes_at)
    for axis, values in leaves.axes.items():
        folders |= {value: (*leaves.sizes_at, axis, item(position)) for position, value in enumerate(values)}
    folders |= {name: ("size-sets", name) for name in document.size_sets if name not in folders}
    pieces: dict[str, KeyPath] = {name: ("pieces", name) for name in document.pieces}
    strips: dict[str, KeyPath] = {name: ("strips", name) for name in document.strips if name not in pieces}
    materials: dict[str, KeyPath] = {name: ("materials", name) for name in document.materials}
    views: dict[str, KeyPath] = {name: ("views", name) for name in document.views}
    for group in (folders, pieces | strips, materials, views):
        _check_group(leaves, group)
    _check_lays(leaves)


def _check_group(leaves: Leaves, group: dict[str, KeyPath]) -> None:
    first: dict[str, str] = {}
    for name, path in group.items():
        if leaves.faults.spoiled(path):
            continue
        if fault := file_fault(name):
            message = f"has the name {shown(name)}, which {fault}."
            leaves.faults.tell(path, "file-name", message, "Give it another name.", found=name, allowed="another name")
        elif name.lower() in first:
            message = f"has the name {shown(name)}, which is {shown(first[name.lower()])} but for capitals."
            remedy = "Give one of them another name: not every computer tells such files apart."
            leaves.faults.tell(path, "alike-but-capitals", message, remedy, found=name, allowed="names that differ")
        first.setdefault(name.lower(), name)


def _check_lays(leaves: Leaves) -> None:
    """Each lay is a file that is called by material, width in whole mm, size, nap and view, with hyphens between."""
    document, path = leaves.document, ("materials",)
    if not leaves.faults.whole(path) or not leaves.faults.whole(leaves.sizes_at) or leaves.faults.findings:
        return
    views: list[tuple[str, ...]] = [(view,) for view in document.views] or [()]
    count = sum(len(table.widths) * (1 + (table.one_way == "either")) for table in document.materials.values())
    count *= len(leaves.sizes) * len(views)
    if count > MOST_LAYS:
        found, allowed = f"{count:,} lays", f"at most {MOST_LAYS:,}"
        message, remedy = f"come to {found}, of each width, size and view.", "Name fewer widths."
        leaves.faults.tell(path, "too-many", message, remedy, found=found, allowed=allowed)
        return
    first: dict[str, str] = {}
    for name, table in document.materials.items():
        for label, file in _lays(name, table, leaves.sizes, views):
            if first.setdefault(file.lower(), label) != label:
                message = f"gives {label} the file name {file}, which {first[file.lower()]} has too."
                remedy = "Rename the material, the size or the view, or take one of the widths out."
                leaves.faults.tell((*path, name), "same-file", message, remedy, found=file, allowed="a name of its own")
                break


def _lays(
    name: str, table: MaterialTable, sizes: Iterable[str], views: Iterable[tuple[str, ...]]
) -> Iterator[tuple[str, str]]:
    """What each lay of a material is, and its file."""
    both: dict[object, list[tuple[str, ...]]] = {"either": [(), ("one-way",)], True: [("one-way",)], False: [()]}
    for width, size, nap, view in product(table.widths, sizes, both[table.one_way], views):
        yield (
            " ".join((width, name, size, *nap, *view)),
            "-".join((name, f"{parse_length(width):.0f}", size, *nap, *view)),
        )

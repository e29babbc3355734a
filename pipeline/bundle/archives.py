"""What is uploaded to a place of sale: buyers' files alone, under names that say what they are, in few archives.

Nothing is compressed: PDF is already, and so an archive's size is known before it is written and its bytes are the same
whatever wrote them (APPNOTE.TXT of the ZIP format, 4.4.5: method 0).
"""

import io
import zipfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import PurePosixPath
from typing import Literal, NamedTuple

from pipeline.bundle.promised import REPRINT
from pipeline.model.findings import Finding
from pipeline.model.outputs import Channel
from pipeline.model.pattern import Pattern
from pipeline.model.questions import ending_in
from pipeline.model.stages import Stage
from pipeline.model.texts import CHANGES, changes_file, counted
from pipeline.sheets.papers import PAPERS

STAGE = Stage(
    id="archives",
    title="What is sold at a place fits the archives that it takes",
    rationale="A shop takes so many files of such a size; what was left out is first missed by whoever bought it.",
    severity="warn",
)
FOLDER = "archives"
README = "read-me-first.txt"
MB = 1_000_000
"""Bytes. Where a shop counts in 1,048,576, it takes a little more."""
_EPOCH = (1980, 1, 1, 0, 0, 0)
_OWN, _END = 30 + 46, 22
"""Bytes of a file's two headers without its name, which stands in both, and of an archive's end."""

Use = Literal["first", "home", "shop", "projector", "view", "size"]
USES: tuple[Use, ...] = ("first", "home", "shop", "projector", "view", "size")
"""In the order in which buyers need them; what comes last is left out first."""


class SoldFile(NamedTuple):
    """A buyer's file: what it is for, its name without pattern and version, the size or view that it shows alone."""

    use: Use
    name: str
    alone: str = ""


class Archive(NamedTuple):
    """A file to upload, and the places in the bundle of what is in it."""

    name: str
    paths: tuple[str, ...]


def sold_file(pattern: Pattern, path: str) -> SoldFile | None:
    """What a file of the bundle is to a buyer; None for what is the designer's."""
    room, name = str(PurePosixPath(path).parent), PurePosixPath(path).name
    if path == README:
        return SoldFile("first", README)
    if path == CHANGES:
        return SoldFile("first", "changes.txt")
    if path in map(changes_file, pattern.languages):
        return SoldFile("first", f"changes-{path.split('.')[1]}.txt")
    if path == "lays/lays.pdf":
        return SoldFile("first", "cloth-and-lays.pdf")
    if room == "." and name.startswith("correction-"):
        return SoldFile("first", name)
    if room == "booklet":
        return SoldFile("first", f"instructions-{name}") if name.endswith(".pdf") else None
    if room == "print":
        format = path.removeprefix(REPRINT).removeprefix("print/").removesuffix(".pdf")
        return SoldFile(_paper_use(format.removesuffix(ending_in(pattern, path))), name)
    if room == "print/by-view":
        return SoldFile("view", f"view-{name}", _owner(name, pattern.views))
    if room == "print/by-size":
        return SoldFile("size", f"size-{name}", _owner(name, pattern.sizes))
    if room == "project/by-size":
        size = _owner(name, pattern.sizes)
        return SoldFile("size", f"size-{size}-projector{name.removeprefix(size)}", size)
    if room == "project":
        return SoldFile("projector", f"projector-{name}")
    return SoldFile("shop", "exchange.dxf") if room == "exchange" and name.endswith(".dxf") else None


def _paper_use(format: str) -> Use:
    paper = PAPERS.get(format)
    return "home" if paper is not None and paper.kind == "tiled" else "shop"


def _owner(name: str, owners: Iterable[str]) -> str:
    """The size or view that a file's name begins with."""
    return max((owner for owner in owners if name.startswith(f"{owner}-")), key=len, default="")


def prefix(pattern: Pattern) -> str:
    """What every file of a buyer begins with."""
    return f"{pattern.name}-{pattern.version}-"


def shared_out(
    pattern: Pattern, channel: Channel, bytes_of: Mapping[str, int]
) -> tuple[tuple[Archive, ...], tuple[Finding, ...]]:
    """The archives of a place of sale and what finds no room in them; `bytes_of` are the bundle's files.

    One archive where all goes into one. Else each use begins where the one before it ends, and goes on in the next
    archive only where none holds it whole; files of one size or view stay together as long as an archive holds them.
    """
    limit = round(channel.archive_mb * MB)
    groups: dict[tuple[int, str], list[str]] = {}
    for path in bytes_of:
        if (file := sold_file(pattern, path)) is not None:
            groups.setdefault((USES.index(file.use), file.alone), []).append(path)
    order = sorted(groups, key=lambda group: (group[0], rank(pattern, group[1])))

    def size_of(paths: Iterable[str]) -> int:
        return _END + sum(_inside(pattern, path, bytes_of[path]) for path in paths)

    filled: list[list[str]] = [[]]
    left_out: list[str] = []

    def lay_in(paths: list[str], smaller: list[list[str]]) -> None:
        """All into one archive; else the parts one by one, and each by its files."""
        if (target := _target(filled, paths, limit, channel.archives, size_of)) is not None:
            target += paths
        elif len(paths) == 1:
            left_out.extend(paths)
        else:
            for part in smaller if len(smaller) > 1 else [[path] for path in paths]:
                lay_in(part, [])

    for use in dict.fromkeys(group[0] for group in order):
        of_use = [groups[group] for group in order if group[0] == use]
        lay_in([path for paths in of_use for path in paths], of_use)
    archives = tuple(
        Archive(f"{channel.name}-{number}.zip", tuple(paths)) for number, paths in enumerate(filled, start=1) if paths
    )
    if not left_out:
        return archives, ()
    return archives, (_lacking(pattern, channel, left_out, sum(bytes_of[path] for path in left_out)),)


def _target(
    filled: list[list[str]], part: list[str], limit: int, most: int, size_of: Callable[[Iterable[str]], int]
) -> list[str] | None:
    """The archive that a part goes into: the one that was begun last, a new one, else any with room."""
    if size_of(part) > limit:
        return None
    if size_of([*filled[-1], *part]) <= limit:
        return filled[-1]
    if len(filled) < most:
        filled.append([])
        return filled[-1]
    return next((paths for paths in filled if size_of([*paths, *part]) <= limit), None)


def _inside(pattern: Pattern, path: str, length: int) -> int:
    return length + _OWN + 2 * len(inner_name(pattern, path))


def inner_name(pattern: Pattern, path: str) -> str:
    """What a buyer's file is called in an archive. Raises ValueError for a file of the designer."""
    file = sold_file(pattern, path)
    if file is None:
        raise ValueError(f"{path} is sold nowhere")
    return prefix(pattern) + file.name


def rank(pattern: Pattern, alone: str) -> int:
    """The place of a view, or of a size after all views, in the designer's order; what shows all comes before them."""
    order = (*pattern.views, *pattern.sizes)
    return order.index(alone) if alone in order else -1


def zipped(pattern: Pattern, files: Sequence[tuple[str, bytes]]) -> bytes:
    """An archive of these files, by their places in the bundle: the same bytes for the same files."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as archive:
        for path, data in files:
            entry = zipfile.ZipInfo(inner_name(pattern, path), _EPOCH)
            entry.create_system, entry.external_attr = 3, 0o100644 << 16
            archive.writestr(entry, data)
    return target.getvalue()


def _lacking(pattern: Pattern, channel: Channel, paths: list[str], length: int) -> Finding:
    uses = list(dict.fromkeys(file.use for path in paths if (file := sold_file(pattern, path)) is not None))
    shown = ", ".join(paths[:5]) + (f" and {len(paths) - 5} more" if len(paths) > 5 else "")
    ways = {
        "size": "[print] by_size = false leaves out files of single sizes",
        "projector": 'leave "projector" out of [print] formats',
    }
    way = next((ways[use] for use in uses if use in ways), "leave out formats of [print]")
    return Finding(
        check=STAGE.id,
        code="too-much",
        severity="warn",
        pattern=pattern.name,
        where="pattern",
        file="pattern.toml",
        object=f"channels.{channel.name}",
        found=f"{length / MB:.1f} MB too much: {shown}",
        allowed=f"{channel.archives} of {channel.archive_mb:g} MB",
        message=f"no room for {counted(len(paths), 'file')} in the archives for {channel.name}",
        remedy=f"{way}, or say that the place takes more or larger archives",
    )

"""Two versions held against each other: what changed, how far and where."""

from collections.abc import Iterable, Iterator, Mapping

import msgspec

from pipeline.ledger.before import number
from pipeline.ledger.book import Entry, Ledger
from pipeline.ledger.booklet import changed_parts
from pipeline.ledger.changes import Change, ChangesFile, Level, What, next_version
from pipeline.ledger.facts import Facts, Measured, PieceFacts
from pipeline.ledger.packed import unpacked
from pipeline.ledger.shapes import Moved, shape_change

_LEVELS: dict[What, Level] = {"size": "major", "piece": "major", "text": "patch", "shown": "patch", "page": "patch"}
"""Whoever holds the older file has another garment (major), may not mix the two (minor: all that is not named here),
or loses nothing (patch): common practice for numbers of three parts."""


def changes_since(pattern: str, version: str, since: Entry, ledger: Ledger, measured: Measured) -> ChangesFile:
    """What a build has changed since a sealed version; the next number is above every sealed one."""
    changes = compare(since.facts, measured.facts, {**ledger.shapes, **measured.shapes})
    newest = max((entry.version for entry in ledger.versions), key=number)
    following = next_version(newest, changes)
    return ChangesFile(pattern=pattern, since=since.version, version=version, next_version=following, changes=changes)


def compare(old: Facts, new: Facts, shapes: Mapping[str, str]) -> tuple[Change, ...]:
    """Every change, gravest kinds first; `shapes` holds the packed shapes of both. Raises ValueError for a bad one."""
    return (
        *_one_sided("size", old.sizes, new.sizes),
        *_one_sided("piece", old.pieces, new.pieces),
        *_pieces(old, new, shapes),
        *_rows(old, new),
        *_texts(old, new),
        *_booklet(old, new),
        *_shown(old, new),
        *_pages(old, new),
    )


def _change(what: What, name: str, **more: object) -> Change:
    return msgspec.convert({"what": what, "level": _LEVELS.get(what, "minor"), "name": name, **more}, Change)


def _one_sided(what: What, old: Iterable[str], new: Iterable[str]) -> Iterator[Change]:
    old, new = list(old), list(new)
    yield from (_change(what, name, before=name) for name in old if name not in new)
    yield from (_change(what, name, after=name) for name in new if name not in old)


def _pieces(old: Facts, new: Facts, shapes: Mapping[str, str]) -> Iterator[Change]:
    for piece in (name for name in new.pieces if name in old.pieces):
        before, after = old.pieces[piece], new.pieces[piece]
        for size in new.sizes:
            if size in old.sizes and (size in before) != (size in after):
                there = {"after" if size in after else "before": piece}
                yield _change("piece", piece, piece=piece, size=size, **there)
            elif size in before and size in after:
                yield from _piece(piece, size, before[size], after[size], shapes)


def _piece(piece: str, size: str, old: PieceFacts, new: PieceFacts, shapes: Mapping[str, str]) -> Iterator[Change]:
    of = {"piece": piece, "size": size}
    if old.shape != new.shape:
        found = shape_change(unpacked(shapes[old.shape]), unpacked(shapes[new.shape]))
        kinds: tuple[tuple[What, dict[str, Moved]], ...] = (
            ("edge", found.edges),
            ("notch", found.notches),
            ("mark", found.marks),
        )
        for what, moved in kinds:
            for name, how in moved.items():
                yield _change(what, name, **of, mm=how.mm, place=how.place, near=how.near)
        yield from (_change("detail", name, **of, before=name) for name in found.gone)
        yield from (_change("detail", name, **of, after=name) for name in found.new)
    for name, before, after in _differing(old.said, new.said):
        yield _change("said", name, **of, before=before, after=after)


def _rows(old: Facts, new: Facts) -> Iterator[Change]:
    for table, rows in new.rows.items():
        former = old.rows.get(table, {})
        for name in dict.fromkeys((*rows, *former)):
            for size, before, after in _differing(former.get(name, {}), rows.get(name, {})):
                if size in old.sizes and size in new.sizes:
                    yield _change(table, name, size=size, before=before, after=after)


def _texts(old: Facts, new: Facts) -> Iterator[Change]:
    """A piece that came or went is told with all its texts."""
    gone = {*old.pieces} ^ {*new.pieces}
    pieces = tuple(f"{group}.{name}." for name in gone for group in ("pieces", "strips"))
    for key in dict.fromkeys((*new.texts, *old.texts)):
        if key.startswith(pieces):
            continue
        for language, before, after in _differing(old.texts.get(key, {}), new.texts.get(key, {})):
            yield _change("text", f"{key}, {language}", before=before, after=after)


def _booklet(old: Facts, new: Facts) -> Iterator[Change]:
    if old.booklet is not None and new.booklet is not None:
        for name, before, after in changed_parts(old.booklet, new.booklet):
            yield _change("text", name, before=before, after=after)


def _shown(old: Facts, new: Facts) -> Iterator[Change]:
    if old.shown is not None and new.shown is not None:
        yield from (
            _change("shown", name, before=was, after=now) for name, was, now in _differing(old.shown, new.shown)
        )


def _pages(old: Facts, new: Facts) -> Iterator[Change]:
    """A page's digest is of its texts, not of its letters: where these are others, every page is another."""
    letters = ", other letters" if old.fonts and new.fonts and old.fonts != new.fonts else ""
    for file in dict.fromkeys((*new.pages, *old.pages)):
        former = dict(old.pages.get(file, ()))
        later = {label: f"{digest}{letters}" for label, digest in new.pages.get(file, ())}
        for label, before, after in _differing(former, later):
            yield _change("page", file, near=label, before=before, after=after)


def _differing(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[tuple[str, str | None, str | None]]:
    for key in dict.fromkeys((*new, *old)):
        if old.get(key) != new.get(key):
            yield key, old.get(key), new.get(key)

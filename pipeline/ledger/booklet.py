"""A booklet as the ledger keeps it, part by part: what a step says, and that a figure is another."""

import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import SequenceMatcher
from itertools import zip_longest
from pathlib import PurePosixPath

from pipeline.booklet.folder import Folder
from pipeline.booklet.text import Block, Booklet, Heading, Steps
from pipeline.ledger.facts import Parts

_DIGITS = 16
_NUMBER = re.compile(r"^ {0,3}\d{1,9}[.)](?=\s)")
"""How a step begins (CommonMark 5.2): which one it is, it is called by."""


def booklet_parts(folder: Folder, files: Mapping[str, bytes]) -> dict[str, Parts]:
    """The parts of every file, by its place in the pattern's folder; `files` as `folder` was read of."""
    texts = {text.file: text for text in folder.texts.values()}
    return {
        name: _parts(texts[name], data.decode("utf-8-sig")) if name in texts else (("", _digest(data)),)
        for name, data in sorted(files.items())
        if name in texts or name in folder.drawings
    }


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:_DIGITS]


def _parts(text: Booklet, written: str) -> Parts:
    """Steps by their numbers, which run on through the text; headings; what else there is by what it stands after."""
    lines = written.split("\n")
    named = list(_named(text.blocks))
    ends = [line for line, _ in named[1:]] + [len(lines) + 1]
    parts = (" ".join(lines[line - 1 : end - 1]) for (line, _), end in zip(named, ends, strict=True))
    return tuple((name, " ".join(_NUMBER.sub("", part).split())) for (_, name), part in zip(named, parts, strict=True))


def _named(blocks: Sequence[Block]) -> Iterator[tuple[int, str]]:
    """Where each part begins, and what it is called."""
    steps = 0
    for block in blocks:
        if isinstance(block, Steps):
            for item in block.items:
                steps += 1
                yield item.line, f"step {steps}"
        elif isinstance(block, Heading):
            yield block.line, "heading"
        else:
            yield block.line, f"text after step {steps}" if steps else "text before step 1"


def changed_parts(old: Mapping[str, Parts], new: Mapping[str, Parts]) -> Iterator[tuple[str, str | None, str | None]]:
    """What is another, by what it is called: with what stood there and what stands there, None where nothing does.

    A step that only has another number says what it said, and is not told.
    """
    for file in dict.fromkeys((*new, *old)):
        before, after = old.get(file, ()), new.get(file, ())
        same = SequenceMatcher(None, [text for _, text in before], [text for _, text in after], autojunk=False)
        for how, start, end, begin, stop in same.get_opcodes():
            if how == "equal":
                continue
            for was, now in zip_longest(before[start:end], after[begin:stop]):
                name, _ = now or was
                yield _called(file, name), was and was[1], now and now[1]


def _called(file: str, part: str) -> str:
    path = PurePosixPath(file)
    return f"booklet {part}, {path.stem}" if part else f"booklet drawing {path.name}"

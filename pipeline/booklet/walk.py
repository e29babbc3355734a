"""Going through a booklet's text: its blocks, its steps, its references, in the order in which they are read."""

from collections.abc import Callable, Iterator, Sequence

from pipeline.booklet.text import (
    Block,
    Box,
    Bullets,
    Heading,
    Inline,
    Inserted,
    Item,
    Link,
    Paragraph,
    Steps,
    Strong,
    Table,
    Value,
    Words,
)


def blocks_within(blocks: Sequence[Block]) -> Iterator[Block]:
    """Every block, each before those within it."""
    for block in blocks:
        yield block
        if isinstance(block, Steps | Bullets):
            for item in block.items:
                yield from blocks_within(item.blocks)
        elif isinstance(block, Box):
            yield from blocks_within(block.blocks)


def steps_of(blocks: Sequence[Block]) -> Iterator[Item]:
    """Every numbered step of the text; those within a step belong to it."""
    for block in blocks:
        if isinstance(block, Steps):
            yield from block.items
        elif isinstance(block, Box):
            yield from steps_of(block.blocks)
        elif isinstance(block, Bullets):
            for item in block.items:
                yield from steps_of(item.blocks)


def references_within(blocks: Sequence[Block]) -> Iterator[Value | Inserted]:
    """Every reference."""
    for block in blocks_within(blocks):
        if isinstance(block, Inserted):
            yield block
        else:
            yield from (value for run, _ in runs_of(block) for value in values_of(run))


def runs_of(block: Block) -> list[tuple[tuple[Inline, ...], int]]:
    """The texts of a block itself, each with its line."""
    if isinstance(block, Heading | Paragraph):
        return [(block.inside, block.line)]
    if isinstance(block, Table):
        return [(cell.inside, block.line) for row in (block.head, *block.rows) for cell in row]
    return []


GAP = "\N{REPLACEMENT CHARACTER}"


def plain_text(run: Sequence[Inline], gap: str = GAP) -> str:
    """What is written in a text by hand; a gap stands for a reference."""
    return text_of(run, lambda _: gap)


def text_of(run: Sequence[Inline], told: Callable[[Value], str]) -> str:
    """A text with its references told."""
    return "".join(
        inline.text if isinstance(inline, Words) else told(inline) if isinstance(inline, Value) else " "
        for inline in _inside(run)
    )


def values_of(run: Sequence[Inline]) -> tuple[Value, ...]:
    """The references of a text."""
    return tuple(inline for inline in _inside(run) if isinstance(inline, Value))


def _inside(run: Sequence[Inline]) -> Iterator[Inline]:
    for inline in run:
        if isinstance(inline, Strong | Link):
            yield from _inside(inline.inside)
        else:
            yield inline

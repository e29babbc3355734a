"""Faults that are seeded into pattern.toml. Each kind returns None where it does not apply to what was drawn by lot."""

import re
from random import Random

import msgspec

from pipeline.model.pieces import DrawnPiece
from tests.bench.masters import master_text, with_corner
from tests.bench.seeding import Demo, Fault, edited

PATTERN_FILE = "pattern.toml"


def table_text(demo: Demo, table: str) -> str:
    text = demo.texts[PATTERN_FILE]
    start = text.index(f"[{table}]\n")
    end = text.find("\n[", start)
    return text[start : end if end > 0 else len(text)]


def said(
    demo: Demo, kind: str, table: str, old: str, new: str, size: str | None = None, edges: tuple[str, ...] = ()
) -> Fault:
    """A fault in one table of pattern.toml."""
    group, _, name = table.partition(".")
    return Fault(
        kind=kind,
        demo=demo.name,
        changes={PATTERN_FILE: edited(demo.texts[PATTERN_FILE], table, old, new)},
        told=f"{demo.name} [{table}] {old!r} is {new!r}",
        size=size,
        piece=name if group == "pieces" else None,
        place=None if group == "pieces" else table,
        edges=edges,
    )


def cut_count(demo: Demo, lot: Random) -> Fault | None:
    """One piece too many or too few, half or twice as many; in every size or in one."""
    piece = lot.choice(list(demo.pattern.pieces))
    match = re.search(r'material = "[^"]*", count = (\d+)', table_text(demo, f"pieces.{piece}"))
    assert match is not None
    count = int(match[1])
    other = lot.choice([n for n in {count - 1, count + 1, count * 2} if n > 0])
    stem = match[0].removesuffix(match[1])
    old, new, size = match[0], f"{stem}{other}", None
    if "mirrored" not in table_text(demo, f"pieces.{piece}") and other % 2 and other > 1:
        new += ", mirrored = 1"
    elif lot.random() < 0.5:
        size = lot.choice(demo.pattern.pieces[piece].sizes)
        of = dict.fromkeys(demo.pattern.pieces[piece].sizes, count) | {size: other}
        new = stem + "{ " + ", ".join(f'"{s}" = {n}' for s, n in of.items()) + " }"
    edges = tuple(edge.name for edge in demo.cuts[demo.pattern.pieces[piece].sizes[0]][piece].edges)
    return said(demo, "count", f"pieces.{piece}", old, new, size, edges)


def allowance(demo: Demo, lot: Random) -> Fault | None:
    """The allowance of one edge twice what it was, or none."""
    piece = lot.choice([name for name, spec in demo.pattern.pieces.items() if spec.source is None])
    spec = demo.pattern.pieces[piece]
    cut = demo.cuts[spec.sizes[0]][piece]
    edge = lot.choice([edge for edge in cut.edges if not edge.fold])
    if edge.allowance_mm == 0:
        return None
    length = f'"{lot.choice((0.0, 2 * edge.allowance_mm)):.4f} mm"'
    table = table_text(demo, f"pieces.{piece}")
    line = re.search(rf"^edges\.{edge.name} = \{{.*$", table, re.MULTILINE)
    if line is None:
        old = re.search(r"^allowance = .*$", table, re.MULTILINE)
        assert old is not None
        return said(
            demo,
            "allowance",
            f"pieces.{piece}",
            old[0],
            f"{old[0]}\nedges.{edge.name} = {{ allowance = {length} }}",
            edges=(edge.name,),
        )
    if "allowance" in line[0]:
        new = re.sub(r'allowance = "[^"]*"', f"allowance = {length}", line[0])
    else:
        new = line[0].replace("= {", f"= {{ allowance = {length},", 1)
    return said(demo, "allowance", f"pieces.{piece}", line[0], new, edges=(edge.name,))


def hem_flat(demo: Demo, lot: Random) -> Fault | None:
    """A hem that is not turned, on a pocket whose sides were tapered for it: the demos' own sides stand square."""
    hems = [(p.name, e) for p in demo.pattern.pieces.values() for e, s in p.edges.items() if s.corner == "turned"]
    if not hems:
        return None
    piece, edge = lot.choice(hems)
    drawn = demo.drawn(piece, lot.choice(demo.pattern.pieces[piece].sizes))
    tapered = with_taper(demo, drawn, edge, lot.uniform(10, 20))
    if tapered is None:
        return None
    line = re.search(rf"^edges\.{edge} = .*$", table_text(demo, f"pieces.{piece}"), re.MULTILINE)
    assert line is not None
    new = line[0].replace('corner = "turned", ', "")
    fault = said(demo, "hem", f"pieces.{piece}", line[0], new, demo.only_size(drawn.file), (edge,))
    return msgspec.structs.replace(fault, changes={**fault.changes, drawn.file: master_text(tapered)})


def with_taper(demo: Demo, drawn: DrawnPiece, hem: str, by_mm: float) -> DrawnPiece | None:
    """The piece with the ends of its hem moved inward; None where a side beside the hem is sewn to another piece."""
    sewn = {(s.piece, s.edge) for seam in demo.pattern.seams.values() for s in (*seam.a, *seam.b)}
    names = [edge.name for edge in drawn.edges]
    index = names.index(hem)
    path = drawn.edges[index].path
    folds = {edge.name for edge in demo.cuts[drawn.size][drawn.piece].edges if edge.fold}
    now = drawn
    for corner, beside, inward in (
        (index, (index + 1) % len(names), path[-1].end.to(path[0].start)),
        (index - 1, index - 1, path[0].start.to(path[-1].end)),
    ):
        if (drawn.piece, names[beside]) in sewn:
            return None
        if names[beside] not in folds:
            now = with_corner(now, corner % len(names), inward.unit().scaled(by_mm))
    return now


def text_empty(demo: Demo, lot: Random) -> Fault | None:
    """A text that customers read, empty or left out in one language."""
    groups = ("pieces", "materials", "strips", "body", "finished", "notions", "views")
    tables = [f"{group}.{name}" for group in groups for name in getattr(demo.pattern, group)]
    table = lot.choice(tables)
    match = re.search(rf'{lot.choice(demo.pattern.languages)} = "[^"]*"', table_text(demo, table))
    if match is None:
        return None  # one text for all languages
    return said(demo, "text", table, match[0], re.sub(r'"[^"]*"', lot.choice(('""', '" "')), match[0]))


def notion_missing(demo: Demo, lot: Random) -> Fault | None:
    """A notion that one size has none of, or says nothing of."""
    counted = [notion for notion in demo.pattern.notions.values() if notion.count is not None]
    if not counted:
        return None
    notion, size = lot.choice(counted), lot.choice(demo.pattern.sizes)
    line = re.search(r"^count = .*$", table_text(demo, f"notions.{notion.name}"), re.MULTILINE)
    if line is None:
        return None
    assert notion.count is not None
    of = dict(notion.count)
    if lot.random() < 0.5:
        of[size] = 0
    else:
        del of[size]
    new = "count = { " + ", ".join(f'"{s}" = {n}' for s, n in of.items()) + " }"
    return said(demo, "notion", f"notions.{notion.name}", line[0], new, size)


def body_typo(demo: Demo, lot: Random) -> Fault | None:
    """A body measure with one wrong digit in one size."""
    if not demo.pattern.body:
        return None
    name, size = lot.choice(list(demo.pattern.body)), lot.choice(demo.pattern.sizes)
    match = re.search(rf'(?<=[{{,]) *"?{size}"? = "([\d.]+) (cm|in)"', table_text(demo, f"body.{name}"))
    if match is None:
        return None
    digits = list(match[1])
    at = lot.choice([i for i, letter in enumerate(digits) if letter.isdigit()])
    digits[at] = lot.choice([d for d in "0123456789" if d != digits[at] and not (at == 0 and d == "0")])
    return said(demo, "body", f"body.{name}", match[0], f' "{size}" = "{"".join(digits)} {match[2]}"', size)


def strip_short(demo: Demo, lot: Random) -> Fault | None:
    """A strip 5 cm shorter than it was, of those that say what they go round or let through."""
    held = [strip.name for strip in demo.pattern.strips.values() if strip.goes_round or strip.opening]
    if not held:
        return None
    strip = lot.choice(held)
    match = re.search(r'^length = "(.*)"$', table_text(demo, f"strips.{strip}"), re.MULTILINE)
    assert match is not None
    return said(demo, "strip", f"strips.{strip}", match[0], f'length = "{match[1]} - 5 cm"')

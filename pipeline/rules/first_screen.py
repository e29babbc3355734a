"""The first screen of a new pattern: a dozen lines. What was found, what stops it and why, and the one next thing."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from pipeline.checks.causes import Cluster, Places, places_of
from pipeline.checks.registry import NOT_DECLARED
from pipeline.checks.telling import clusters, place_text, short_line, tell
from pipeline.checks.texts import marked_lines
from pipeline.ledger.book import Ledger
from pipeline.masters.drawings.files import listed
from pipeline.masters.stages import MASTER_FILES
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Pattern, Strip
from pipeline.model.piece_specs import Cut, PieceSpec
from pipeline.model.pieces import SizeFile
from pipeline.model.sizes import ladders
from pipeline.model.texts import counted
from pipeline.rules.sources import Source, refused
from pipeline.work.files import read_json

MOST_LINES = 12
"""Of a pattern, its headline and the verdict of the run included."""
ALL_FINDINGS = "findings.txt"
"""Where every finding is told as lines, in the pattern's work folder, whatever the screen has room for."""
_MOST_NAMES = 16
_TABLES = ("seams", "finished", "body", "strips", "notions")
"""What a pattern may have none of, and checks then look at nothing."""
_AGAIN = "give the same command again"
_WORTH_A_LINE = ("block", "warn")


def is_new(source: Source) -> bool:
    """Whether no version of it was sold yet: then its designer may still be finding her way."""
    return not (isinstance(source.ledger, Ledger) and source.ledger.versions)


def order_of(pattern: Pattern | None) -> tuple[list[tuple[str, ...]], Places]:
    """What findings are told by: the ladders on which sizes stand, and the pieces of seams and the like."""
    if pattern is None:
        return [], {}
    rows = [ladder.sizes for ladder in ladders(pattern)]
    alone = [(size,) for size in pattern.sizes if not any(size in row for row in rows)]
    return rows + alone, places_of(pattern)


def first_screen(source: Source, findings: tuple[Finding, ...], folder: Path, checked: bool) -> list[str]:
    """What stands between the headline and the verdict. `folder` is the pattern's work folder; `checked` whether every
    check has run.
    """
    pattern = source.pattern
    rows, places = order_of(pattern)
    shown = understood(source, pattern, folder) if pattern else []
    waiting = _waiting(source) if refused(source) else []
    room = MOST_LINES - 3 - len(shown) - len(waiting)
    told = tell(findings, rows, places)
    causes = clusters(findings, rows, places)
    blocking = [cause for cause in causes if cause.blocks]
    in_full = len(told) <= room and len(blocking) <= 1
    if not in_full:
        told = _shortened(causes, _not_looked_at(pattern, findings), rows, room, folder / ALL_FINDINGS)
    if blocking:
        step = "mend that in the source" if in_full else _remedy(blocking[0], rows)  # in full, how is told beneath it
        last = f"{step}{' Then' if step.endswith('?') else ', then'} {_AGAIN}"
    else:
        last = f"`build --pattern {folder.name}`" if checked and not refused(source) else _AGAIN
    return [*shown, *told, *waiting, f"next: {last}"]


def understood(source: Source, pattern: Pattern, folder: Path) -> list[str]:
    """How the source was understood: pieces, sizes, edges, grain; then how often each is cut, and what on the fold."""
    cuts = (_cuts(pattern, material) for material in pattern.materials)
    return [*(source.told or _masters(pattern, folder)), f"cut of {' / of '.join(filter(None, cuts)) or 'nothing'}"]


def _masters(pattern: Pattern, folder: Path) -> tuple[str, ...]:
    """Pieces that are drawn in files of their own, as far as they were cut in the base size."""
    drawn = [name for name, piece in pattern.pieces.items() if piece.source is None]
    first = (
        f"{counted(len(drawn), 'drawn piece')} in {counted(len(pattern.sizes), 'size')}: {listed(pattern.sizes, 16)}"
    )
    file = folder / "pieces" / f"{pattern.base}.json"
    if not file.is_file():
        return (first,)
    cut = {piece.piece: piece for piece in read_json(file, SizeFile).pieces}
    edges = listed((f"{name} {len(cut[name].edges) if name in cut else 'not cut'}" for name in drawn), _MOST_NAMES)
    grains = [cut[name].drawn.grain.drawn for name in drawn if name in cut]
    return first, f"edges of each piece: {edges}; grain drawn in {sum(grains)} of {len(grains)}"


def _cuts(pattern: Pattern, material: str) -> str:
    """What is cut of a material: pieces of which as many are cut in a row, those on the fold with that edge."""
    alike: dict[str, list[str]] = {}
    owners: list[PieceSpec | Strip] = [*pattern.pieces.values(), *pattern.strips.values()]
    for owner in owners:
        folds = _folds(pattern, owner) if isinstance(owner, PieceSpec) else []
        named = f"{owner.name} ({', '.join(folds)})" if folds else owner.name
        for cut in owner.cut:
            if cut.material == material:
                alike.setdefault(f"{'on the fold ' if folds else ''}{_counted(cut)}", []).append(named)
    rows = (
        f"{how}{' each' if len(names) > 1 else ''} of {listed(names, _MOST_NAMES)}"
        for how, names in sorted(alike.items(), reverse=True)
    )
    return f"{material}: " + "; ".join(rows) if alike else ""


def _counted(cut: Cut) -> str:
    counts = sorted(set(cut.count.values())) or [0]
    return f"{counts[0]}" if len(counts) == 1 else f"{counts[0]} to {counts[-1]}"


def _folds(pattern: Pattern, piece: PieceSpec) -> list[str]:
    drawn = pattern.pieces[piece.source] if piece.source else piece
    return [name for name, edge in drawn.edges.items() if edge.fold]


def _waiting(source: Source) -> list[str]:
    """What the checks will stop at once they run: told beforehand, where reading came to no end."""
    file = source.folder / PATTERN_FILE
    marked = marked_lines(file.read_text(encoding="utf-8", errors="replace")) if file.is_file() else []
    if not marked:
        return []
    return [f'then: {counted(len(marked), "line")} of {PATTERN_FILE} still marked "proposed" or "to write"']


def _shortened(
    causes: list[Cluster], unheld: list[str], rungs: Sequence[Sequence[str]], room: int, all_told: Path
) -> list[str]:
    """A line a cause, the worst first, as many as there is room for, and where the rest is."""
    rows = _merged(causes)
    lines = [short_line(row, rungs) for row in rows if row[0].severity in _WORTH_A_LINE]
    shown = lines[: max(1, room - 1)]
    rest = [
        counted(len(lines) - len(shown), "line") + " more" if len(lines) > len(shown) else "",
        counted(len(rows) - len(lines), "note") if len(rows) > len(lines) else "",
        *unheld,
    ]
    told = ", ".join(filter(None, rest))
    return [*shown, f"{told + '; ' if told else ''}all in full: {all_told}"]


def _not_looked_at(pattern: Pattern | None, findings: Iterable[Finding]) -> list[str]:
    """How many checks looked at nothing: for want of which tables of `pattern.toml`, or of enough to look at."""
    skipped = [finding for finding in findings if finding.severity == "skip"]
    undeclared = {finding.check for finding in skipped if finding.code == NOT_DECLARED}
    others = {finding.check for finding in skipped} - undeclared
    lacking = [f"[{table}]" for table in _TABLES if pattern is not None and not getattr(pattern, table)]
    look = "looks" if len(undeclared) == 1 else "look"
    return [
        *(
            [f"{counted(len(undeclared), 'check')} {look} at what you have none of: {', '.join(lacking)}"]
            * bool(undeclared)
        ),
        *([f"{counted(len(others), 'check')} had too little to look at"] * bool(others)),
    ]


def _merged(causes: Iterable[Cluster]) -> list[list[Cluster]]:
    """What has one cause in a row: what is found, and what is expected, are the same at several places.

    Files of a folder that is no size are mended by one stroke, too: so their remedy says.
    """
    rows: dict[tuple[str, ...], list[Cluster]] = {}
    for number, told in enumerate(causes):
        first = told.cause.first
        cause = (first.remedy,) if first.check == MASTER_FILES.id else (first.found, first.allowed)
        same = (first.check, first.code, *cause) if cause[0] else (str(number),)
        rows.setdefault((told.severity, first.waived or "", *same), []).append(told)
    return list(rows.values())


def _remedy(worst: Cluster, rungs: Sequence[Sequence[str]]) -> str:
    """What is to be done about what blocks, without its stop; where its cause only warns, where that is, too."""
    first = worst.cause.first
    remedy = first.remedy.rstrip(".").replace(". ", "; ")
    return remedy if blocks(first) else f"mend {place_text(worst.cause, rungs)}{remedy}"

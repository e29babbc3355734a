"""Findings as lines for people: by severity, then piece, then size, with like findings of several sizes in one."""

from collections.abc import Iterable, Sequence
from types import MappingProxyType

from pipeline.checks.causes import Cluster, Group, Places, by_cause
from pipeline.checks.registry import NOT_DECLARED
from pipeline.checks.waivers import waivable
from pipeline.model.findings import Finding, Severity, blocks
from pipeline.model.sizes import neighbours

_HEADINGS: dict[Severity, str] = {"block": "BLOCKS", "warn": "look at", "info": "note", "skip": "not checked"}

_MOST_OTHERS = 8
_SHORT = 60
"""Letters of what was found and expected that a line of the first screen has room for."""

Ladders = Sequence[Sequence[str]]
"""The sizes of every ladder, smallest first: sizes that stand beside each other are told together."""
NO_PLACES: Places = MappingProxyType({})


def tell(findings: Iterable[Finding], ladders: Ladders = (), places: Places = NO_PLACES) -> list[str]:
    """Lines, most severe first; what was not checked comes last, with why and what may be done.

    What follows from another finding stands beneath it; `places` are the pieces of seams, strips and measures.
    """
    told = list(findings)
    lines = [line for cluster in clusters(told, ladders, places) for line in _lines(cluster, ladders)]
    return lines + _not_checked([finding for finding in told if finding.severity == "skip"])


def _not_checked(skipped: Sequence[Finding]) -> list[str]:
    """Checks for which the pattern declares nothing in one line; what else was not looked at in a line a reason."""
    undeclared = dict.fromkeys(finding.check for finding in skipped if finding.code == NOT_DECLARED)
    reasons: dict[tuple[str, str], list[Finding]] = {}
    for finding in skipped:
        if finding.code != NOT_DECLARED:
            reasons.setdefault((finding.check, finding.code), []).append(finding)
    lines = []
    for (check, code), findings in reasons.items():
        first = findings[0]
        where = (".".join(part for part in (each.piece, each.where) if part) for each in findings)
        places = ", ".join(dict.fromkeys(place for place in where if place))
        to_do = f"say {first.allowed} to have it checked, or leave it" if first.allowed else "there is nothing to do"
        place = f"{places}: " if places else ""
        lines.append(f"{_HEADINGS['skip']}: {place}{first.message}; {to_do} [{check}/{code}]")
    if undeclared:
        lines.append(f"{_HEADINGS['skip']}, since the pattern has none of what they look at: {', '.join(undeclared)}")
    return lines


def clusters(findings: Iterable[Finding], ladders: Ladders = (), places: Places = NO_PLACES) -> list[Cluster]:
    """What is to be told, like findings of several sizes together, each with what follows from it; the worst first.

    What was not checked is left out.
    """
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        key = (finding.severity, finding.check, finding.code, finding.piece or "", finding.where or "")
        if finding.severity != "skip":
            groups.setdefault((*key, finding.waived or ""), []).append(finding)
    told = [Group(tuple(group)) for group in groups.values()]
    opened = [group for group in told if group.first.severity in ("block", "warn") and not group.first.waived]
    found = by_cause(opened, places, ladders)
    found += [Cluster(group) for group in told if group.first.severity not in ("block", "warn") or group.first.waived]
    return sorted(found, key=_rank)


def short_line(like: Sequence[Cluster], ladders: Ladders) -> str:
    """One line for causes that are alike: the first told, the others by their place. Without remedy and waiver."""
    groups = [cluster.cause for cluster in like]
    first = groups[0].first
    line = f"{_heading(like[0])}: {place_text(groups[0], ladders)}{first.message}{_file_text(first)}"
    if first.found and first.found not in first.message and len(first.found) + len(first.allowed) <= _SHORT:
        line += f" — found {first.found}, expected {first.allowed or 'nothing'}"
    line += f" [{first.check}/{first.code}]"
    others = [*_others(groups[0]), *dict.fromkeys(place_text(other, ladders)[:-2] for other in groups[1:])]
    return line + (f"; so, too, {_some(others)}" if others else "")


def to_mend(findings: Iterable[Finding], ladders: Ladders = (), places: Places = NO_PLACES) -> int:
    """How many things block: those of several sizes count once, with what follows from them."""
    return sum(cluster.blocks for cluster in clusters(findings, ladders, places))


def _rank(cluster: Cluster) -> tuple[int, bool]:
    return list(_HEADINGS).index(cluster.severity), cluster.cause.first.waived is not None


def _heading(cluster: Cluster) -> str:
    return "accepted" if cluster.cause.first.waived else _HEADINGS[cluster.severity]


def _lines(cluster: Cluster, ladders: Ladders) -> list[str]:
    group, effects = cluster.cause, cluster.effects
    first = group.first
    line = f"{_heading(cluster)}: {place_text(group, ladders)}{first.message}{_file_text(first)}"
    if first.found or first.allowed:
        line += f" — found {first.found or 'nothing'}, expected {first.allowed or 'nothing'}"
    line += f" [{first.check}/{first.code}]"
    if others := _others(group):
        line += f"; so, too, {_some(others)}"
    if first.waived:
        return [line, f"    because: {first.waived}"]
    if first.severity not in ("block", "warn"):
        return [line]
    lines = [line, f"    {first.remedy}"]
    frees = blocks(first) or not cluster.blocks  # to accept a cause that only warns leaves what stops the release
    if frees and waivable(first) and (waiver := _waiver(group)) is not None:
        lines.append(f"    or accept it: {waiver}")
    if effects:
        lines.append("    probably the cause of:")
    for effect in effects:
        also = effect.first
        place = place_text(effect, ladders)
        lines.append(f"      {_HEADINGS[also.severity]}: {place}{also.message} [{also.check}/{also.code}]")
    return lines


def _others(group: Group) -> list[str]:
    """What else is so at the same place in the size that is told: sizes are merged, objects are not alike."""
    told = group.first
    objects = dict.fromkeys(each.object for each in group.findings if each.size == told.size and each.object)
    return [name for name in objects if name != told.object]


def _some(names: list[str]) -> str:
    """The first of the names, and how many more."""
    more = [f"{len(names) - _MOST_OTHERS} more"] if len(names) > _MOST_OTHERS else []
    return ", ".join([*names[:_MOST_OTHERS], *more])


def place_text(group: Group, ladders: Ladders) -> str:
    """Where it is, as a line begins: piece and place, sizes, a colon and a space; nothing where it is nowhere."""
    place = ".".join(part for part in (group.first.piece, group.first.where) if part)
    where = ", ".join(part for part in (place, _size_text(group.findings, ladders)) if part)
    return f"{where}: " if where else ""


def _file_text(finding: Finding) -> str:
    named = ", ".join(part for part in (finding.file, finding.object) if part)
    return f" ({named})" if named else ""


def _waiver(group: Group) -> str | None:
    """An entry for the list `waivers` of pattern.toml; None where nothing names the place."""
    first = group.first
    where = ".".join(part for part in (first.piece, first.where) if part)
    if not where:
        return None
    size = f', size = "{first.size}"' if len(group.findings) == 1 and first.size else ""
    return f'{{ check = "{first.check}", code = "{first.code}", where = "{where}"{size}, why = "…" }},'


def _size_text(group: Iterable[Finding], ladders: Ladders) -> str:
    told = {finding.size for finding in group}
    left = list(dict.fromkeys(size for sizes in ladders for size in sizes if size in told))
    if not left:
        return ""
    several, parts = len(left) > 1, []
    while left:
        sizes = max(ladders, key=lambda sizes: len(set(sizes) & set(left)))
        parts.append(size_ranges([size for size in sizes if size in left], sizes))
        left = [size for size in left if size not in sizes]
    return f"size{'s' if several else ''} {', '.join(parts)}"


def size_ranges(some: Sequence[str], sizes: Sequence[str]) -> str:
    """Sizes in words, runs merged: "34, 40 to 46"."""
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in neighbours(some, sizes))

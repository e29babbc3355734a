"""What drawings showed, what of them nothing claims, and what is missing: both sides of a mismatch at once."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from pipeline.masters.drawings.files import drawing_files, listed
from pipeline.masters.drawings.layers import AXIS_VALUES, ROLES, words
from pipeline.masters.drawings.origins import said_of_drawings
from pipeline.masters.drawings.result import CutOut, Unplaced
from pipeline.masters.drawings.write import origin_of
from pipeline.masters.lookup import check_files, file_finding
from pipeline.masters.toml.faults import nearest, shown
from pipeline.model.findings import Finding, Severity
from pipeline.model.pattern import Pattern
from pipeline.model.texts import counted

MOST_STRAYS = 6


def drawings_told(pattern: Pattern, folder: Path, cut: CutOut) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """The findings of files and drawings, and lines that say what drawings showed."""
    found, strays = drawing_files(pattern, folder)
    drawings = {name for names in found.values() for name in names}
    findings = list(cut.findings)
    for glob, names in found.items():
        if not names:
            remedy = f"Put the drawing there, or say where it lies: {_claim(strays) if strays else 'drawings = [...]'}."
            findings.append(
                file_finding(
                    pattern,
                    "no-drawing",
                    f"No file is called {glob}.",
                    remedy,
                    "pattern.toml",
                    found="no file",
                    allowed=glob,
                )
            )
    for name in cut.answered:
        if name not in drawings and (folder / name).is_file():
            message = f"{name} is a file, and a drawing shows that piece in that size too."
            remedy = "Take one of them out."
            findings.append(
                file_finding(pattern, "two-masters", message, remedy, file=name, found="two", allowed="one master")
            )
    told = check_files(pattern, folder, cut.answered)
    missing = [finding for finding in told if finding.code == "no-master"]
    nothing = bool(strays) and len(missing) == sum(len(pattern.pieces[piece].sizes) for piece in _pieces(pattern))
    findings += [each for each in told if not (each.code == "no-master" and (drawings or nothing))]
    if drawings:
        findings += _unmatched(pattern, cut, missing)
    if strays:
        findings.append(_strays(pattern, strays, bool(missing)))
    origins = {name: origin_of(data) for name, data in cut.masters.items()}
    return said_of_drawings(findings, origins), _lines(pattern, cut) if drawings else ()


def _unmatched(pattern: Pattern, cut: CutOut, missing: list[Finding]) -> list[Finding]:
    """What is missing, and what lies there that matches nothing."""
    unplaced: Counter[Unplaced] = Counter()
    for drawing in cut.seen:
        unplaced.update(dict(drawing.unplaced))
    files = ", ".join(dict.fromkeys(drawing.file for drawing in cut.seen)) or "pattern.toml"
    claimed = {layer: count for layer, count in unplaced.items() if layer.role}
    if not missing and not claimed:
        if not unplaced:
            return []
        objects = sum(unplaced.values())
        verb = "lies" if objects == 1 else "lie"
        message = f"{counted(objects, 'object')} {verb} in no group of a known name: {_layers(unplaced)}."
        remedy = "Nothing, unless they were meant to be part of a piece."
        severity: Severity = "info"
        if pattern.by_shape and any(layer.lacks == ("role",) for layer in unplaced):
            # Of an outline, its grain and its notches more is read than was said; so what is not read is said aloud.
            beside = "beside outlines, grain and notches"
            message = f"{counted(objects, 'object')} {beside} {verb} there unread: {_layers(unplaced)}."
            remedy = (
                'Put lines that sewers need, as those of darts, into a layer called "inside" within the piece\'s own,'
                ' points into one called "points"; delete the rest.'
            )
            severity = "warn"
        return [file_finding(pattern, "ignored-ungrouped", message, remedy, severity=severity, file=files)]
    hidden = list(dict.fromkeys(name for drawing in cut.seen for name in drawing.hidden))
    lacking = f"The drawings show nothing of {_missing(pattern, missing)}." if missing else ""
    lying = f"These layers match nothing: {_layers(claimed or unplaced)}." if unplaced else ""
    unseen = f"Hidden, and so not read: {listed(map(shown, hidden))}." if hidden and missing else ""
    message = " ".join(filter(None, (lacking, lying, unseen)))
    return [
        file_finding(
            pattern,
            "not-matched",
            message,
            _remedy(pattern, claimed or unplaced, hidden if missing else [], missing),
            file=files,
            found=_layers(claimed or unplaced) or "nothing else",
            allowed=f"sizes {listed(pattern.sizes, 12)}; pieces {listed(_pieces(pattern), 12)}",
        )
    ]


def _remedy(pattern: Pattern, unplaced: Mapping[Unplaced, int], hidden: list[str], missing: Sequence[Finding]) -> str:
    """The one thing to do first: rename what is nearly right, show what is hidden, put objects into groups."""
    known = {" ".join(words(text)): text for text in (_lacking(pattern, missing) if missing else _known(pattern))}
    everything = {" ".join(words(text)) for text in _known(pattern)}
    stray = next((layer for layer in unplaced if layer.role == "seam" and not missing), None)
    if stray is not None:
        return (
            f"Take {shown(stray.way)} out of the drawing, or hide it; if it is a piece, write it into pattern.toml:"
            " [pieces.NAME]."
        )
    for layer in unplaced:
        for part in layer.way.split(" / "):
            spelled = " ".join(words(part))
            close = nearest(spelled, known) if spelled and spelled not in everything else None
            if close is not None:
                return f"Rename the layer {shown(part)} to {shown(known[close])}, if that is meant."
    if hidden:
        return f"Show {listed(map(shown, hidden))} in your drawing program, and save."
    if unplaced and all(layer.lacks == ("text",) for layer in unplaced):
        return "Write names of edges as texts, not as outlines of letters."
    if unplaced and all(layer.lacks == ("role",) for layer in unplaced):
        groups = f"into groups called {', '.join(ROLES)}, inside the layer of the piece"
        if pattern.by_shape:
            return f"Close the seam line of each piece, so that its ends meet; or put what is drawn {groups}."
        return (
            f"Put the objects {groups}; or, where the seam line is the largest closed outline in each layer, say so in"
            " pattern.toml: [masters] by_shape = true."
        )
    if values := _second_ladder(pattern, unplaced):
        return (
            f"If {listed(map(shown, values))} are a second ladder of sizes, beside {listed(pattern.sizes, 3)}, say both"
            " in pattern.toml: [size-axes]."
        )
    if (left := _left_over(pattern, unplaced, missing)) is not None:
        way, piece = left
        return (
            f"If {shown(way)} is the piece {piece}, rename the layer to {shown(piece)}, or give the piece that title."
        )
    return (
        "Let the layers on the way to each object say its size, its piece and its role, in any order, as"
        f' "{pattern.sizes[0]}" / "{next(iter(_pieces(pattern)), "piece")}" / "seam".'
    )


def _second_ladder(pattern: Pattern, unplaced: Iterable[Unplaced]) -> list[str]:
    """Known words for heights or widths, two or more, that layers say beside sizes of the one ladder that there is."""
    if pattern.size_axes:
        return []
    known = {word for ranks in AXIS_VALUES.values() for of in ranks for word in of}
    said = {word: None for layer in unplaced for word in words(layer.way) if word in known}
    return list(said) if len(said) > 1 else []


def _left_over(
    pattern: Pattern, unplaced: Mapping[Unplaced, int], missing: Sequence[Finding]
) -> tuple[str, str] | None:
    """The layers that may be the one piece that is missing altogether: those with the most seam lines."""
    lacking = Counter(finding.piece for finding in missing)
    whole = [piece for piece in _pieces(pattern) if lacking[piece] == len(pattern.pieces[piece].sizes)]
    ways = Counter({layer.way: count for layer, count in unplaced.items() if layer.role == "seam" and layer.way})
    return (ways.most_common(1)[0][0], whole[0]) if len(whole) == 1 and ways else None


def _lacking(pattern: Pattern, missing: Sequence[Finding]) -> Iterable[str]:
    """What a layer may be meant to say where these masters are missing: their sizes and pieces, and every role."""
    pieces = dict.fromkeys(finding.piece for finding in missing if finding.piece)
    sizes = dict.fromkeys(finding.size for finding in missing if finding.size)
    sets = (name for name, of in pattern.size_sets.items() if set(of) & sizes.keys())
    titles = (title for piece in pieces for title in pattern.pieces[piece].title.values())
    return (*ROLES, *pieces, *titles, *sizes, *sets, *(f"Size {size}" for size in sizes))


def _known(pattern: Pattern) -> Iterable[str]:
    titles = (title for piece in pattern.pieces.values() if piece.source is None for title in piece.title.values())
    sized = (f"Size {size}" for size in pattern.sizes)
    return (*ROLES, *_pieces(pattern), *titles, *pattern.sizes, *pattern.size_sets, *sized)


def _pieces(pattern: Pattern) -> list[str]:
    return [piece.name for piece in pattern.pieces.values() if piece.source is None]


def _missing(pattern: Pattern, missing: list[Finding]) -> str:
    """The pieces and sizes that are missing, whole pieces and whole sizes as such."""
    sizes: dict[str, list[str]] = {}
    for finding in missing:
        sizes.setdefault(finding.piece or "", []).append(finding.size or "")
    alike: dict[str, list[str]] = {}
    for piece, lacking in sizes.items():
        whole = len(lacking) == len(pattern.pieces[piece].sizes)
        alike.setdefault("" if whole else f" in size {listed(lacking, 8)}", []).append(piece)
    return "; ".join(f"{listed(pieces)}{where}" for where, pieces in alike.items())


def _layers(unplaced: dict[Unplaced, int] | Counter[Unplaced]) -> str:
    ways: Counter[str] = Counter()
    for layer, count in unplaced.items():
        ways[layer.way or "no layer"] += count
    return listed((f"{shown(way)} ({count})" for way, count in ways.most_common()), 5)


def _strays(pattern: Pattern, strays: list[str], missing: bool) -> Finding:
    """SVGs in the folder that nothing claims: the masters perhaps, where masters are missing."""
    count = f"{len(strays)} SVG files are" if len(strays) > 1 else f"{strays[0]} is"
    return file_finding(
        pattern,
        "unclaimed-drawing",
        f"{count} read for nothing{': ' + listed(strays, MOST_STRAYS) if len(strays) > 1 else ''}.",
        f"If masters are drawn there, say so in pattern.toml: [masters] {_claim(strays)}.",
        severity="block" if missing else "info",
        file=strays[0],
        found=listed(strays, MOST_STRAYS),
        allowed="files that [masters] drawings names, or sizes/<size, set or all>/<piece>.svg",
    )


def _claim(strays: list[str]) -> str:
    """What to write, so that these files are drawings."""
    folders = {name.rpartition("/")[0] for name in strays}
    if len(strays) == 1 or len(folders) > 1:
        return "drawings = [" + ", ".join(f'"{name}"' for name in strays[:MOST_STRAYS]) + "]"
    folder = next(iter(folders))
    return f'drawings = ["{folder + "/" if folder else ""}*.svg"]'


def _lines(pattern: Pattern, cut: CutOut) -> tuple[str, ...]:
    """What was found, in a few lines."""
    files = [drawing.file for drawing in cut.seen]
    if not cut.found:
        return (f"read {listed(files, 3) or 'no drawing'}: no piece could be cut out",)
    keys = dict.fromkeys(found.size for found in cut.found)
    sizes = [key for key in (*pattern.sizes, *pattern.size_sets, "all") if key in keys]
    edges: dict[str, dict[str, None]] = {}
    for found in sorted(cut.found, key=lambda found: found.edges):
        unnamed = found.edges == 1 and found.corners > 1
        said = f"{found.corners} without names" if unnamed else str(found.edges)
        edges.setdefault(found.piece, {}).setdefault(said)
    parts = [f"{piece} {'/'.join(edges[piece])}" for piece in _pieces(pattern) if piece in edges]
    bare = dict.fromkeys(f"{found.piece} {found.size}" for found in cut.found if not found.grain)
    notches = sum(found.notches for found in cut.found)
    outlines, pieces = counted(len(cut.found), "outline"), counted(len(edges), "piece")
    return (
        f"read {listed(files, 3)}: {outlines} of {pieces}; size{'s' * (len(sizes) > 1)} {listed(sizes, 16)}",
        f"edges of each piece: {listed(parts, 20)}; {counted(notches, 'notch', 'notches')} in all",
        f"grain drawn in {len(cut.found) - len(bare)} of {len(cut.found)}"
        + (f", not in {listed(bare)}" if bare else ""),
    )

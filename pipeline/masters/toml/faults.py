"""Collecting what is wrong with `pattern.toml`: every fault with its key, none of them raised."""

import difflib
import re
from collections.abc import Iterable

from pipeline.masters.stages import OF_PATTERN_FILE
from pipeline.model.findings import Finding

KeyPath = tuple[str, ...]
"""Keys from the top of the file; an entry of a list is "[1]", counted from 1."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_LONGEST_SHOWN = 60
MOST_FINDINGS = 200
"""A file with more faults than this is told about the first ones, and how many more there are."""


class Faults:
    """The findings so far, and the keys whose values cannot be used, so that nothing is told twice of them."""

    def __init__(self, pattern: str) -> None:
        self._pattern = pattern
        self._findings: dict[Finding, None] = {}
        self._untold = 0
        self._spoiled: set[KeyPath] = set()
        self._above_spoiled: set[KeyPath] = set()

    def tell(
        self,
        path: KeyPath,
        code: str,
        message: str,
        remedy: str,
        *,
        found: str = "",
        allowed: str = "",
        size: str | None = None,
    ) -> None:
        """Keep a blocking finding about a key. `message` goes on after the key: "pieces.back.number" + " is …"."""
        if self.full:
            self._untold += 1
            return
        key = key_text(path)
        piece, where = _place(path)
        finding = Finding(
            check=OF_PATTERN_FILE.id,
            code=code,
            severity="block",
            pattern=self._pattern,
            size=size,
            piece=piece,
            where=where,
            file="pattern.toml",
            object=key,
            found=found,
            allowed=allowed,
            message=f"{key} {message}",
            remedy=remedy,
        )
        self._findings.setdefault(finding)

    @property
    def full(self) -> bool:
        """Whether nothing more is listed, so that a remedy need not be worked out."""
        return len(self._findings) >= MOST_FINDINGS

    def spoil(self, path: KeyPath) -> None:
        """Say that what stands at a key cannot be used: later rules leave it alone."""
        self._spoiled.add(path)
        self._above_spoiled.update(path[:length] for length in range(len(path)))

    def spoiled(self, path: KeyPath) -> bool:
        """Whether the value at the key, or a table that it stands in, cannot be used."""
        return any(path[:length] in self._spoiled for length in range(len(path) + 1))

    def whole(self, path: KeyPath) -> bool:
        """Whether all that stands at and below the key can be used."""
        return not self.spoiled(path) and path not in self._above_spoiled

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that was told, in the order of telling; then how much more there is."""
        return (*self._findings, *((self._rest(),) if self._untold else ()))

    def _rest(self) -> Finding:
        return Finding(
            check=OF_PATTERN_FILE.id,
            code="more-findings",
            severity="block",
            pattern=self._pattern,
            file="pattern.toml",
            object="more",
            found=str(self._untold),
            allowed=f"{MOST_FINDINGS} are listed",
            message=f"{self._untold:,} more faults of this file are not listed.",
            remedy="Mend the ones that are listed and check again.",
        )


def key_text(path: KeyPath) -> str:
    """A key path as TOML writes it: `pieces.back.cut[1].count`."""
    parts = [part if part.startswith("[") or _BARE.fullmatch(part) else shown(part) for part in path]
    return ".".join(parts).replace(".[", "[")


def item(position: int) -> str:
    """The key part of an entry of a list, from its position counted from 0."""
    return f"[{position + 1}]"


def shown(value: object) -> str:
    """A value of the file as a finding quotes it, cut short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in value)
        return f'"{text}"' if len(text) <= _LONGEST_SHOWN else f'"{text[:_LONGEST_SHOWN]}…"'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}" if value else "an empty list"
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a number of more than 15 digits"
    return str(value)


def nearest(name: str, names: Iterable[str]) -> str | None:
    """The known name that is most like a mistyped one, if any is like it; case does not matter."""
    known = {known.lower(): known for known in sorted(names, reverse=True)}
    close = difflib.get_close_matches(name.lower()[:100], known, n=1, cutoff=0.6)
    return known[close[0]] if close else None


def did_you_mean(name: str, names: Iterable[str]) -> str:
    """What to do about an unknown name: the nearest known one, or all that there are."""
    known = list(names)
    close = nearest(name, known)
    if close is not None:
        return f'Did you mean "{close}"?'
    if not known:
        return "None is declared: declare it, or take its name out."
    listed = ", ".join(f'"{name}"' for name in known[:12])
    return f"Known are {listed}{' and more' if len(known) > 12 else ''}."


def _place(path: KeyPath) -> tuple[str | None, str | None]:
    """(piece, place) that a key speaks of."""
    if len(path) > 1 and path[0] == "pieces":
        return path[1], path[3] if len(path) > 3 and path[2] in ("edges", "lines", "points", "notches") else None
    if len(path) > 1 and path[0] in ("seams", "strips", "notions"):
        return None, f"{path[0]}.{path[1]}"
    return None, None

"""What a reader of masters has to tell, collected: every fault of a file, not only the first."""

from collections.abc import Callable
from typing import Any

from pipeline.masters.stages import MASTERS
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.tree import Node
from pipeline.model.findings import Finding, Severity

MOST_FINDINGS = 200
"""A file with more faults than this is told about the first ones, and how many more there are."""


class FileUnusableError(Exception):
    """The file cannot be read any further; what is wrong has been told."""


class Reading:
    """Collects the findings of one file. A fault of one object is told once, however often `use` repeats the object."""

    def __init__(self, pattern: str, size: str | None, piece: str | None, file: str) -> None:
        self.pattern, self.size, self.piece, self.file = pattern, size, piece, file
        self._findings: dict[tuple[str, str | None, str], Finding] = {}
        self.incomplete = False
        """Whether geometry that counts could not be read, so that what is missing next is no fault of its own."""
        self._faulty: set[tuple[str, Node]] = set()
        self._untold = 0
        self.noticed = 0
        """How often an object had a fault, or was not read; those count too that are told already."""
        self._ignored: dict[str, tuple[Node, int]] = {}

    def tell(
        self,
        code: str,
        message: str,
        remedy: str,
        *,
        node: Node | None = None,
        severity: Severity = "block",
        found: str = "",
        allowed: str = "",
        **place: Any,
    ) -> None:
        """Adds a finding; `node` names the object, `place` may overrule file, object and where."""
        if len(self._findings) >= MOST_FINDINGS:
            self._untold += 1
            return
        told = {"file": self.file, "object": self.described(node) if node else None, **place}
        key = (code, told["object"], message)
        if key in self._findings:
            return
        self._findings[key] = Finding(
            check=MASTERS.id,
            code=code,
            severity=severity,
            pattern=self.pattern,
            size=self.size,
            piece=self.piece,
            found=excerpt(found),
            allowed=allowed,
            message=message,
            remedy=remedy,
            **told,
        )

    def described(self, node: Node) -> str:
        """An object of the file, for people."""
        return node.described

    def tell_fault(self, fault: SvgFault, node: Node | None = None) -> None:
        """Adds the finding of a fault at `node`, once however often the node is drawn."""
        if node is not None:
            if (fault.code, node) in self._faulty:
                return
            self._faulty.add((fault.code, node))
        self.tell(fault.code, fault.message, fault.remedy, node=node, found=fault.found, allowed=fault.allowed)

    def attempt(self, node: Node, read: Callable[[], Any], counts: bool = True) -> Any:
        """What `read` returns, or None where it meets a fault, which is told at `node`; does the node count?"""
        try:
            return read()
        except SvgFault as fault:
            self.noticed += 1
            self.tell_fault(fault, node)
            self.incomplete = self.incomplete or counts
            return None

    def ignored(self, kind: str, node: Node) -> None:
        """Counts an object that is not read; each kind is told once."""
        self.noticed += 1
        first, count = self._ignored.get(kind, (node, 0))
        self._ignored[kind] = (first, count + 1)

    @property
    def blocked(self) -> bool:
        """Whether anything told so far keeps the piece from being used."""
        return any(finding.severity == "block" for finding in self._findings.values())

    def findings(self) -> tuple[Finding, ...]:
        """All that was told, in the order it was met, then what was ignored."""
        for kind, (first, count) in self._ignored.items():
            objects = "1 object" if count == 1 else f"{count} objects"
            self.tell(
                f"ignored-{kind}",
                f"{objects} not read: {_IGNORED[kind]}; the first is {first.described}.",
                "Nothing, unless it was meant to be part of the piece.",
                severity="info",
                found=str(count),
                node=first,
            )
        if self._untold:
            self.tell_rest()
        return tuple(self._findings.values())

    def tell_rest(self) -> None:
        """Says how many findings were left out."""
        code = "more-findings"
        self._findings[(code, None, "")] = Finding(
            check=MASTERS.id,
            code=code,
            severity="block",
            pattern=self.pattern,
            size=self.size,
            piece=self.piece,
            file=self.file,
            found=str(self._untold),
            allowed=str(MOST_FINDINGS),
            message=f"{self._untold} more faults of this file are not listed.",
            remedy="Mend the ones that are listed and check again.",
        )


_IGNORED = {
    "hidden": "hidden in the drawing program",
    "text": "text",
    "image": "images",
    "clip": "clips and masks (what they hide counts all the same)",
    "animation": "animations and scripts",
    "ungrouped": "under no group with a known name",
    "alternative": "alternatives of a <switch> after the first",
}

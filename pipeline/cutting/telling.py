"""How the cutting room tells a finding about one piece."""

from pipeline.model.findings import Finding, Severity
from pipeline.model.pieces import DrawnPiece
from pipeline.model.stages import Stage

STAGE = Stage(
    id="cutting",
    title="A cut line can be made around every seam line, without a doubt",
    rationale="What overlaps, crosses a fold or steps would be cut as it is printed.",
    severity="block",
)
CHECK = STAGE.id


class Teller:
    """Collects the findings of one piece in one size, each with pattern, size, piece and file filled in."""

    def __init__(self, pattern: str, drawn: DrawnPiece) -> None:
        self._pattern = pattern
        self._drawn = drawn
        self.findings: list[Finding] = []

    def tell(
        self,
        code: str,
        severity: Severity,
        message: str,
        remedy: str,
        *,
        where: str | None = None,
        found: str = "",
        allowed: str = "",
    ) -> None:
        """Adds one finding; `where` is an edge or a notch, and also names the object in the file."""
        self.findings.append(
            Finding(
                check=CHECK,
                code=code,
                severity=severity,
                pattern=self._pattern,
                size=self._drawn.size,
                piece=self._drawn.piece,
                where=where,
                file=self._drawn.file,
                object=where,
                found=found,
                allowed=allowed,
                message=f"{self._drawn.piece}{'.' + where if where else ''}: {message}",
                remedy=remedy,
            )
        )


def mm(length_mm: float) -> str:
    """A length for a finding: "7.05 mm"."""
    return f"{length_mm:.2f}".rstrip("0").rstrip(".") + " mm"

"""A side of a box whose parts have allowances of their own, for tests."""

from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec


def part(start: str, end: str, width_mm: float, end_mm: float | None = None, taper_mm: float | None = None):
    last_mm = width_mm if end_mm is None else end_mm
    return AllowancePart(of=EdgePart(start, end), start_mm=width_mm, end_mm=last_mm, taper_mm=taper_mm)


def spec(*parts: AllowancePart, **rest) -> EdgeSpec:
    return EdgeSpec(along=parts, **rest)


def run_down(start_mm: float, end_mm: float, share):
    """The width so far between two stretches of even width: w0 + (w1 - w0) (3 t² - 2 t³)."""
    return start_mm + (end_mm - start_mm) * (3 * share**2 - 2 * share**3)

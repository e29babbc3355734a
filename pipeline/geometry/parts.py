"""Parts of curves: together they are the same curve."""

from pipeline.geometry.curves import Arc, Cubic, Line, Path, Segment, parameter_at, segment_length_mm

_LEAST_MM = 1e-6


def part_of(path: Path, start_mm: float, end_mm: float) -> Path:
    """What of a path lies between two places along it, the second after the first, both within it."""
    kept: list[Segment] = []
    at_mm = 0.0
    for segment in path:
        length_mm = segment_length_mm(segment)
        low, high = max(start_mm - at_mm, 0.0), min(end_mm - at_mm, length_mm)
        if high - low > _LEAST_MM:
            if high < length_mm - _LEAST_MM:
                segment, _ = split_segment(segment, high)
            if low > _LEAST_MM:
                _, segment = split_segment(segment, low)
            kept.append(segment)
        at_mm += length_mm
    return tuple(kept)


def split_segment(segment: Segment, at_mm: float) -> tuple[Segment, Segment]:
    """Both parts of a segment, parted so far along it; together they are the same curve."""
    t = parameter_at(segment, at_mm, segment_length_mm(segment))
    if isinstance(segment, Line):
        place = segment.at(t)
        return Line(segment.start, place), Line(place, segment.end)
    if isinstance(segment, Arc):
        first = segment.sweep_rad * t
        return (
            Arc(segment.centre, segment.u, segment.v, segment.start_rad, first),
            Arc(segment.centre, segment.u, segment.v, segment.start_rad + first, segment.sweep_rad - first),
        )
    a, b, c = (
        p.plus(p.to(q).scaled(t))
        for p, q in (
            (segment.start, segment.control1),
            (segment.control1, segment.control2),
            (segment.control2, segment.end),
        )
    )
    d, e = a.plus(a.to(b).scaled(t)), b.plus(b.to(c).scaled(t))
    middle = d.plus(d.to(e).scaled(t))
    return Cubic(segment.start, a, d, middle), Cubic(middle, e, c, segment.end)

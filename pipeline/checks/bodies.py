"""Body measures: their steps over the sizes, so that a wrong digit is told before everything is drafted to it."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.smooth import STEP_LIMIT_MM, STEP_SOURCE, breaks, triples

_HALF_CM = 5.0
"""A table that is rounded to half centimetres cannot be smoother than they are."""


@CHECKS.register(
    id="body-steps",
    title="Body measures grow in even steps within a band",
    rationale="A wrong digit in the size table sends a buyer to the wrong size, though every piece is right.",
    remedy="correct the measure; where the step is meant, name the last size of the band in bands",
    severity="warn",
    source=f"{STEP_SOURCE}; half a centimetre in a table that is rounded to half centimetres",
    needs=("body",),
)
def body_steps(garment: Garment) -> Iterator[Outcome]:
    """Second differences of every body measure."""
    sizes = garment.pattern.sizes
    if len(sizes) < 3:
        text = "steps between sizes are not compared: it takes 3 sizes, and there are fewer"
        yield Outcome(code="too-few-sizes", severity="skip", message=text)
        return
    middles = triples(sizes, garment.pattern.bands)
    for name, measure in garment.pattern.body.items():
        halves = all(measure.sizes_mm[size] % _HALF_CM == 0 for size in sizes)
        whole = all(measure.sizes_mm[size] % (2 * _HALF_CM) == 0 for size in sizes)
        limit = _HALF_CM if halves and not whole else STEP_LIMIT_MM
        for item in breaks([(measure.sizes_mm[size],) for size in sizes], middles, limit):
            size = sizes[item.index]
            yield Outcome(
                code="off" if item.alone else "step",
                size=size,
                where=f"body.{name}",
                file="pattern.toml",
                object=f"body.{name}.sizes",
                found=f"{measure.sizes_mm[size] / 10:g} cm, {item.found}",
                allowed=f"a second difference of up to {limit:.2f} mm",
                message=f"body.{name} of size {size} {'breaks' if item.alone else 'changes'} the steps of its row",
            )

"""Body measures: their steps over the sizes, so that a wrong digit is told before everything is drafted to it."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.smooth import STEP_ALLOWED, STEP_SOURCE, breaks, triples


@CHECKS.register(
    id="body-steps",
    title="Body measures grow in even steps within a band",
    rationale="A wrong digit in the size table sends a buyer to the wrong size, though every piece is right.",
    remedy="correct the measure; where the step is meant, name the last size of the band in bands",
    severity="warn",
    source=STEP_SOURCE,
    needs=("body",),
)
def body_steps(garment: Garment) -> Iterator[Outcome]:
    """Second differences of every body measure."""
    sizes = garment.pattern.sizes
    if len(sizes) < 3:
        text = f"steps between sizes are not compared: there are {len(sizes)} sizes, and it takes 3"
        yield Outcome(code="too-few-sizes", severity="skip", message=text)
        return
    middles = triples(sizes, garment.pattern.bands)
    for name, measure in garment.pattern.body.items():
        for item in breaks([(measure.sizes_mm[size],) for size in sizes], middles):
            size = sizes[item.index]
            yield Outcome(
                code="off" if item.alone else "step",
                size=size,
                where=f"body.{name}",
                file="pattern.toml",
                object=f"body.{name}.sizes",
                found=f"{measure.sizes_mm[size] / 10:g} cm, {item.found}",
                allowed=STEP_ALLOWED,
                message=f"body.{name} of size {size} {'breaks' if item.alone else 'changes'} the steps of its row",
            )

"""Body measures: their steps over the sizes, so that a wrong digit is told before everything is drafted to it."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import rungs_of, triples_of
from pipeline.checks.smooth import STEP_LIMIT_MM, STEP_SOURCE, uneven

_HALF_CM = 5.0
"""Measures are told as they were typed: values that are all typed in half centimetres cannot be smoother than they
are."""


@CHECKS.register(
    id="body-steps",
    title="Body measures grow in even steps within a band",
    rationale="A wrong digit in the size table sends a buyer to the wrong size, though every piece is right.",
    remedy="correct the measure; where the step is meant, name the last size of the band in bands",
    severity="warn",
    source=f"{STEP_SOURCE}; half a centimetre where all values are typed in such",
    needs=("body",),
)
def body_steps(garment: Garment) -> Iterator[Outcome]:
    """Second differences of every body measure."""
    sizes = garment.pattern.sizes
    if max((len(ladder.sizes) for ladder in garment.ladders), default=1) < 3:
        text = "steps between sizes are not compared: it takes 3 sizes, and there are fewer"
        yield Outcome(code="too-few-sizes", severity="skip", message=text)
        return
    every = rungs_of(garment, {size: place for place, size in enumerate(sizes)})
    for name, measure in garment.pattern.body.items():
        halves = all(measure.sizes_mm[size] % _HALF_CM == 0 for size in sizes)
        whole = all(measure.sizes_mm[size] % (2 * _HALF_CM) == 0 for size in sizes)
        limit = _HALF_CM if halves and not whole else STEP_LIMIT_MM
        values = [(measure.sizes_mm[size],) for size in sizes]
        rungs = {(each.along, tuple(values[i] for i in each.at)): each for each in reversed(every)}
        changing = {along for along, on_it in rungs if len(set(on_it)) > 1}
        # what one axis alone changes is told along it, and once: not of each size that has the value
        kept = [each for (along, _), each in reversed(rungs.items()) if along in changing]
        for item in uneven(values, triples_of(kept), limit):
            size = sizes[item.index]
            yield Outcome(
                code="off" if item.alone else "step",
                size=size,
                where=f"body.{name}",
                file="pattern.toml",
                object=f"body.{name}.sizes",
                found=f"{measure.sizes_mm[size] / 10:g} cm, {item.found}",
                allowed=f"a second difference of up to {limit:.2f} mm",
                message=f"body.{name} of size {size} {'breaks' if item.alone else 'changes'} the steps of its row"
                f"{item.along}",
            )

"""What the search of lays has to tell the designer."""

from collections.abc import Iterable

from pipeline.lays.fit import CHECK
from pipeline.lays.items import LayRequest
from pipeline.lays.saved import Chosen
from pipeline.lays.search import Found
from pipeline.model.findings import Finding
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern


def no_lay(pattern: Pattern, request: LayRequest, found: Found) -> Finding:
    """Nothing was found that could be proven: blocks."""
    return Finding(
        check=CHECK,
        code="no-lay",
        severity="block",
        pattern=pattern.name,
        size=request.size,
        object=f"materials.{request.material}",
        found="; ".join(found.troubles) or "nothing",
        allowed="a lay that is proven",
        message=f"No proven lay of {request.material} was found for size {request.size}"
        f" on {cloth_width(request.width_mm, pattern.units)}.",
        remedy='Search longer: "snakemake --cores all lays --config seconds=20".',
    )


def not_kept(pattern: Pattern, chosen: Iterable[Chosen]) -> tuple[Finding, ...]:
    """One finding for all lays that were searched, now or before: their bytes depend on the machine's speed."""
    searched = [each for each in chosen if not each.kept]
    if not searched:
        return ()
    names = ", ".join(dict.fromkeys(f"{each.request.material} {each.request.size}" for each in searched))
    return (
        Finding(
            check=CHECK,
            code="not-kept",
            severity="info",
            pattern=pattern.name,
            object="lays.json",
            found=names,
            allowed="every lay kept",
            message=f"{len(searched)} lays are not kept beside the source and were searched: another work folder"
            " may find other lengths, so equal bytes are not promised.",
            remedy='Run "snakemake --cores all lays" once and keep lays.json with the source.',
        ),
    )


def made_again(pattern: Pattern, requests: Iterable[LayRequest]) -> tuple[Finding, ...]:
    """One finding for all lays that are not kept but made of kept ones: they hold, and a search may find shorter."""
    names = ", ".join(dict.fromkeys(f"{request.material} {request.size}" for request in requests))
    if not names:
        return ()
    return (
        Finding(
            check=CHECK,
            code="made-again",
            severity="info",
            pattern=pattern.name,
            object="lays.json",
            found=names,
            allowed="every lay kept",
            message=f"The kept lays of {names} no longer fitted; their pieces were moved apart until they did. They are"
            " proven, and the same in every build; a search may find shorter ones.",
            remedy='Run "snakemake --cores all lays" and keep lays.json with the source.',
        ),
    )


def tried_open(pattern: Pattern, chosen: Iterable[Chosen]) -> tuple[Finding, ...]:
    """The cloth is meant to be laid folded and is not: told by material and width, with the sizes."""
    sizes: dict[tuple[str, float], list[str]] = {}
    for each in chosen:
        if each.request.tried_open:
            sizes.setdefault((each.request.material, each.request.width_mm), []).append(each.request.size)
    return tuple(
        Finding(
            check=CHECK,
            code="laid-open",
            severity="info",
            pattern=pattern.name,
            object=f"materials.{material}",
            found=", ".join(dict.fromkeys(of_sizes)),
            allowed="folded",
            message=f"{material} of {cloth_width(width, pattern.units)} is laid open in sizes"
            f" {', '.join(dict.fromkeys(of_sizes))}: something is too wide for half of it.",
            remedy="Nothing need be done: tables and pictures say so. A wider cloth could be laid folded.",
        )
        for (material, width), of_sizes in sizes.items()
    )

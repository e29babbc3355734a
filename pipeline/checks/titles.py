"""What pieces are called: two that have names of their own in one language have them in every other, and none is called
as another's key."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.questions import share_a_view


@CHECKS.register(
    id="piece-titles",
    title="Pieces with different titles in one language have different titles in every language, none another's key",
    rationale="A title that was copied and not translated names two pieces alike, and buyers of that language cut one.",
    remedy="write the title of one of them anew in that language",
    severity="warn",
    source="common practice",
)
def piece_titles(garment: Garment) -> Iterator[Outcome]:
    """Pieces of one view that one language calls alike and another does not, each pair and language once; and titles
    that are the key of another piece, told where the other check is silent."""
    pattern = garment.pattern
    for one, other in combinations(pattern.pieces.values(), 2):
        alike = [language for language in pattern.languages if _title(one, language) == _title(other, language) != ""]
        told_apart = [language for language in pattern.languages if _differ(one, other, language)]
        if not share_a_view(one.views, other.views):
            continue
        copied = alike if told_apart else []
        for titled, keyed in ((one, other), (other, one)):
            yield from _as_key(titled, keyed, [each for each in pattern.languages if each not in copied])
        for language in copied:
            yield Outcome(
                code="alike",
                piece=other.name,
                file="pattern.toml",
                object=f"pieces.{other.name}.title.{language}",
                found=f"{other.title[language]}, as pieces.{one.name}",
                allowed=f"titles that differ, as in {told_apart[0]}: {one.title[told_apart[0]]}, "
                f"{other.title[told_apart[0]]}",
                message=f"{one.name} and {other.name} have the same title in {language}",
            )


def _as_key(titled: PieceSpec, keyed: PieceSpec, languages: Sequence[str]) -> Iterator[Outcome]:
    """The first language in which a piece is called as another's key, by which drawings name both."""
    if titled.source is not None or keyed.source is not None:
        return
    for language in languages:
        if _title(titled, language).replace(" ", "-") == keyed.name:
            yield Outcome(
                code="as-key",
                piece=titled.name,
                file="pattern.toml",
                object=f"pieces.{titled.name}.title.{language}",
                found=f"{titled.title[language]}, as the key of pieces.{keyed.name}",
                allowed="a title of its own",
                message=f"{titled.name} has a title that is the key of {keyed.name}",
            )
            return


def _title(spec: PieceSpec, language: str) -> str:
    return " ".join(spec.title.get(language, "").split()).casefold()


def _differ(one: PieceSpec, other: PieceSpec, language: str) -> bool:
    titles = _title(one, language), _title(other, language)
    return all(titles) and titles[0] != titles[1]

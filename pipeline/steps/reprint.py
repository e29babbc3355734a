"""A print file, what changed, and what is told around the pattern in; its changed pages by themselves out."""

from pathlib import Path, PurePosixPath

import msgspec

from pipeline.bundle.promised import REPRINT
from pipeline.drawing.drawing import Frame
from pipeline.drawing.pages.overlays import Told
from pipeline.ledger.changes import ChangesFile
from pipeline.model.questions import ending_in, spoken
from pipeline.press.ready import make_ready
from pipeline.steps.around import around_pages, plan_of
from pipeline.steps.printed import printed_pattern
from pipeline.words import say
from pipeline.work.files import read_json, write


def main(
    folder: Path,
    work: Path,
    format: str,
    file: Path,
    changes: Path,
    index: Path,
    map: Path,
    pages: Path,
    reprint: Path,
) -> None:
    """Take the changed pages out of the file and say on them what they are; where there is none, a page says so."""
    make_ready(work / ".run")
    from pipeline.correction.nothing import nothing_to_print  # cairo reads where fonts are when it is loaded
    from pipeline.correction.reprint import reprinted
    from pipeline.press.imprint import imprint_of

    whole = printed_pattern(folder)
    ending = ending_in(whole, format)
    pattern, paper = spoken(whole)[ending], format.removesuffix(ending)
    found = read_json(changes, ChangesFile)
    of_file = [change for change in found.changes if (change.what, change.name) == ("page", f"print/{format}.pdf")]
    labels = {change.near for change in of_file if change.after is not None}
    if not labels:
        write(reprint, nothing_to_print(pattern, found, paper))
        return
    plan = plan_of(pages, paper)
    part = msgspec.structs.replace(plan, again=tuple(page.label for page in plan.pages if page.label in labels))
    name = PurePosixPath(f"{REPRINT}{file.name}").name
    around = around_pages(pattern, part, read_json(index, list[Frame]), read_json(map, Told), folder, name)
    title = say(pattern.languages[0], "correction.title", since=found.since, version=found.version)
    write(reprint, reprinted(file.read_bytes(), labels, imprint_of(pattern, paper, title).title, around))

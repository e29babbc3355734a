"""A print file and what changed in; its changed pages by themselves out."""

from pathlib import Path

from pipeline.correction.reprint import reprinted
from pipeline.ledger.changes import ChangesFile
from pipeline.model.questions import ending_in, spoken
from pipeline.press.ready import make_ready
from pipeline.steps.printed import printed_pattern
from pipeline.words import say
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, format: str, file: Path, changes: Path, reprint: Path) -> None:
    """Take the changed pages out of the file; where there is none, a page says so."""
    make_ready(work / ".run")
    from pipeline.correction.nothing import nothing_to_print  # cairo reads where fonts are when it is loaded
    from pipeline.press.imprint import imprint_of

    whole = printed_pattern(folder)
    ending = ending_in(whole, format)
    pattern, paper = spoken(whole)[ending], format.removesuffix(ending)
    found = read_json(changes, ChangesFile)
    of_file = [change for change in found.changes if (change.what, change.name) == ("page", f"print/{format}.pdf")]
    labels = [change.near for change in of_file if change.after is not None]
    words = say(pattern.languages[0], "correction.title", since=found.since, version=found.version)
    if labels:
        title = imprint_of(pattern, paper, words).title
        write(reprint, reprinted(file.read_bytes(), labels, title))
    else:
        write(reprint, nothing_to_print(pattern, found, paper))

"""What changed since the version that was sold before in; the correction sheet and the letter in one language out."""

from pathlib import Path

import msgspec

from pipeline.correction.differences import differences
from pipeline.correction.letter import letter
from pipeline.correction.sentences import Correction
from pipeline.correction.sheet import correction_pages, title_words
from pipeline.ledger.before import Former
from pipeline.ledger.changes import ChangesFile
from pipeline.press.ready import make_ready
from pipeline.sheets.papers import PAPERS
from pipeline.steps.inputs import changes_text, cuts_by_piece
from pipeline.steps.printed import printed_pattern
from pipeline.tables.write import TablesFile
from pipeline.work.files import read_json, write


def main(
    folder: Path,
    work: Path,
    language: str,
    pieces: list[Path],
    former: Path,
    changes: Path,
    tables: Path,
    sheets: list[Path],
    text: Path,
) -> None:
    """Tell what changed; `sheets` are the files of the sheet, whose names end in their paper."""
    make_ready(work / ".run")
    from pipeline.press.imprint import imprint_of  # cairo reads where fonts are when it is loaded
    from pipeline.press.plain import plain_pages

    pattern = printed_pattern(folder)
    told = read_json(changes, ChangesFile)
    found = differences(told.changes, read_json(former, Former), cuts_by_piece(pieces))
    pages = read_json(tables / "tables.json", TablesFile).pages
    correction = Correction(pattern, told, found, pages, changes_text(folder, language) or "")
    title = title_words(correction, language)
    imprint = msgspec.structs.replace(imprint_of(pattern, "correction"), title=title, language=language)
    for sheet in sheets:
        paper = PAPERS[sheet.stem.removeprefix(f"{language}-")]
        scenes = correction_pages(correction, language, paper.format)
        write(sheet, plain_pages(scenes, (paper.width_mm, paper.height_mm), imprint))
    write(text, letter(correction, language, f"correction-{language}-a4.pdf").encode())

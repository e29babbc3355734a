"""Cut pieces, tables, lays, signs and the designer's text in; booklets, one a language and edition, out."""

from functools import partial
from pathlib import Path

from pipeline.booklet.compose import Material, booklet_document
from pipeline.booklet.folder import read_folder
from pipeline.booklet.lays import shown_lays
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import EDITIONS
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import made_from, typeset
from pipeline.drawing.drawing import Frame, shown_signs
from pipeline.steps.inputs import booklet_files, changes_text, cuts_by_piece
from pipeline.steps.printed import printed_pattern
from pipeline.tables.write import TablesFile
from pipeline.work.cache import Cache
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, pieces: list[Path], tables: Path, lays: Path, index: Path, booklets: Path) -> None:
    """Set a file a language and edition; one of which nothing changed is taken as it was set."""
    pattern = printed_pattern(folder)
    cuts = cuts_by_piece(pieces)
    made_of = Material(
        rows=read_json(tables / "tables.json", TablesFile),
        folder=read_folder(pattern, booklet_files(folder)),
        signs=shown_signs(read_json(index, list[Frame])),
        changes={language: changes_text(folder, language) or "" for language in pattern.languages},
        drawn=PiecePictures(pattern, cuts),
        lays=shown_lays(pattern, lays.read_bytes()),
    )
    kept = Cache(work / pattern.name / "cache/booklets", typeset.__module__)
    first = Model(pattern, cuts, pattern.languages[0])
    for language in pattern.languages:
        model = first.told_in(language)
        for edition in EDITIONS:
            shown = booklet_document(model, made_of, edition)
            write(booklets / f"{language}-{edition}.pdf", kept.bytes_of(made_from(*shown), partial(typeset, *shown)))
    kept.forget_others()

"""Cut pieces, tables and the designer's cover in; the pictures of a listing, in every language, out."""

from functools import partial
from pathlib import Path

from pipeline.booklet.compose import Material, listing_documents
from pipeline.booklet.folder import COVER, LOGO, read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import made_from, picture
from pipeline.steps.inputs import booklet_files, cuts_by_piece
from pipeline.steps.printed import printed_pattern
from pipeline.tables.write import TablesFile
from pipeline.work.cache import Cache
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, pieces: list[Path], tables: Path, pictures: Path) -> None:
    """Draw a picture a language and subject; one of which nothing changed is taken as it was drawn."""
    pattern = printed_pattern(folder)
    cuts = cuts_by_piece(pieces)
    drawings = {name: data for name, data in booklet_files(folder).items() if name in (COVER, LOGO)}
    made_of = Material(
        rows=read_json(tables / "tables.json", TablesFile),
        folder=read_folder(pattern, drawings),
        signs=frozenset(),
        changes=None,
        drawn=PiecePictures(pattern, cuts),
    )
    kept = Cache(work / pattern.name / "cache/listing", picture.__module__)
    for language in pattern.languages:
        for name, shown in listing_documents(Model(pattern, cuts, language), made_of).items():
            drawn = kept.bytes_of(made_from(*shown), partial(picture, *shown))
            write(pictures / language / f"{name}.png", drawn)
    kept.forget_others()

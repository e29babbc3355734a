"""Cut pieces, tables and the designer's cover in; pictures and text of a listing, in every language, out."""

from functools import partial
from pathlib import Path

from pipeline.booklet.compose import Material, listing_documents
from pipeline.booklet.folder import COVER, read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import made_from, picture
from pipeline.bundle.listing_text import buyers_files, listing_nodes, markdown, plain_text
from pipeline.bundle.promised import LISTING_TEXTS
from pipeline.masters.copied import LOGO
from pipeline.steps.inputs import booklet_files, cuts_by_piece
from pipeline.steps.printed import printed_pattern
from pipeline.tables.write import TablesFile
from pipeline.work.cache import Cache
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, pieces: list[Path], tables: Path, pictures: Path) -> None:
    """Draw a picture a language and subject, unless nothing of it changed, and write what they show as text."""
    pattern = printed_pattern(folder)
    cuts = cuts_by_piece(pieces)
    drawings = {name: data for name, data in booklet_files(folder).items() if name in (COVER, LOGO)}
    made_of = Material(
        rows=read_json(tables / "tables.json", TablesFile),
        folder=read_folder(pattern, drawings),
        signs=frozenset(),
        changes={},
        drawn=PiecePictures(pattern, cuts),
    )
    kept = Cache(work / pattern.name / "cache/listing", picture.__module__)
    for language in pattern.languages:
        shown = listing_documents(Model(pattern, cuts, language), made_of)
        for name, document in shown.items():
            drawn = kept.bytes_of(made_from(*document), partial(picture, *document))
            write(pictures / language / f"{name}.png", drawn)
        told = [node for name in ("sizes", "cloth") if name in shown for node in shown[name][0].nodes]
        nodes = listing_nodes(pattern, language, told, buyers_files(pattern))
        for name, text in zip(LISTING_TEXTS, (markdown(nodes), plain_text(nodes, language)), strict=True):
            write(pictures / language / name, text.encode())
    kept.forget_others()

"""What a pattern's bundle holds: which print files there are, what stages build for it, and every file by name."""

from collections.abc import Sequence

from pipeline.booklet.nodes import EDITIONS
from pipeline.drawing.lay_names import lay_file_name
from pipeline.drawing.names import SHEET, picture_name
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Pattern, Strip
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.questions import copies_of, spoken
from pipeline.sheets.layout import Layout
from pipeline.sheets.papers import PAPERS
from pipeline.tables.spreadsheets import table_files

REPRINT = "print/reprint-"
"""How the files of changed pages begin; they hold nothing that is not in the others."""
SHEET_PAPERS = ("a4", "letter")
"""The papers of the correction sheet."""
LISTING_TEXTS = ("listing.md", "listing.txt")
GROUNDS = ("black-on-white", "white-on-black")


def print_files(pattern: Pattern) -> tuple[str, ...]:
    """The formats that become one file each under print/; a projector's files are several."""
    return tuple(name for name in pattern.print.formats if name != "projector")


def paper_files(pattern: Pattern) -> tuple[str, ...]:
    """The files of all sizes on paper, by name: one a format, or one a format and language."""
    return tuple(f"{name}{ending}" for name in print_files(pattern) for ending in spoken(pattern))


def tiled_formats(pattern: Pattern) -> tuple[str, ...]:
    """The formats that are printed at home, page by page."""
    return tuple(name for name in print_files(pattern) if PAPERS[name].kind == "tiled")


def sizes_alone(pattern: Pattern) -> tuple[str, ...]:
    """The sizes that have files of their own under print/by-size/ and project/by-size/."""
    return pattern.sizes if pattern.print.by_size else ()


def views_alone(pattern: Pattern) -> tuple[str, ...]:
    """The views that have files of their own under print/by-view/."""
    return tuple(pattern.views) if print_files(pattern) else ()


def projected(pattern: Pattern, size: str | None = None) -> tuple[str, ...]:
    """The materials that have projector files: those that something drawn is cut of, in any size or in one."""
    if "projector" not in pattern.print.formats:
        return ()
    strips = (strip for strip in pattern.strips.values() if strip.drawn)
    drawn: list[PieceSpec | Strip] = [*pattern.pieces.values(), *strips]
    cut = {entry.material for owner in drawn for entry in owner.cut if size is None or copies_of(entry, size).copies}
    return tuple(name for name in pattern.materials if name in cut)


def thrown_files(pattern: Pattern, material: str) -> tuple[str, ...]:
    """The projector files of a material, by name."""
    return tuple(f"{material}-{ground}{ending}" for ground in GROUNDS for ending in spoken(pattern))


def exchange_file(pattern: Pattern) -> str:
    """The file for who cuts by machine, by its place in the bundle."""
    return f"exchange/{pattern.name}.dxf"


def listed_pictures(pattern: Pattern) -> tuple[str, ...]:
    """The pictures for a listing that every language has of its own."""
    return ("cover", *(("sizes",) if pattern.body or pattern.finished else ()), "cloth", "pieces")


def built_outputs(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """What rules build for a bundle: files and folders under `<work>/<pattern>/`, each with its place in the bundle."""
    materials = projected(pattern)
    own = (
        *(f"print/{name}.pdf" for name in paper_files(pattern)),
        *(("project/calibration.pdf",) if materials else ()),
        *("preview", "lays", "tables", "booklet", "data/pieces.json", exchange_file(pattern)),
    )
    alone = sizes_alone(pattern)
    printed = ((f"by-size/{size}", "print/by-size") for size in alone if print_files(pattern))
    thrown = ((f"projected/{size}", "project/by-size") for size in alone if materials)
    thrown_together = ((f"out/project/{name}", "project") for name in materials)
    listed = (("out/listing", "preview"),)
    viewed = ((f"by-view/{view}", "print/by-view") for view in views_alone(pattern))
    return (*((f"out/{name}", name) for name in own), *printed, *thrown, *thrown_together, *viewed, *listed)


def planned_files(pattern: Pattern) -> tuple[str, ...]:
    """The pages of all print files, as they are planned under `<work>/<pattern>/`."""
    sizes = (f"by-size/{size}.json" for size in sizes_alone(pattern))
    return ("pages.json", *sizes, *(f"by-view/{view}.json" for view in views_alone(pattern)))


def placed_files(pattern: Pattern) -> tuple[str, ...]:
    """Where pieces lie on the sheets of all files, under `<work>/<pattern>/places/`: first those of all sizes."""
    sizes = (f"by-size/{size}.json" for size in sizes_alone(pattern))
    views = (f"by-view/{view}.json" for view in views_alone(pattern))
    return ("all.json", *sizes, *views, *(f"projector/{material}.json" for material in projected(pattern)))


def correction_outputs(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """What is built besides where a version was sold before, as `built_outputs`."""
    sheets = [f"{language}-{paper}.pdf" for language in pattern.languages for paper in SHEET_PAPERS]
    return (
        ("out/data/changes.json", "data/changes.json"),
        *((f"out/correction/{name}", f"correction-{name}") for name in sheets),
        *((f"out/correction/{language}.txt", f"letter-{language}.txt") for language in pattern.languages),
        *((f"out/reprint/{name}.pdf", f"{REPRINT}{name}.pdf") for name in paper_files(pattern)),
    )


def archive_outputs(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """The archives of all places of sale, as `built_outputs`: how many they are depends on what is in them."""
    return (("out/archives", "archives"),) if pattern.channels else ()


def promised_files(pattern: Pattern, layout: Layout, lays: Sequence[Chosen], corrects: bool = False) -> frozenset[str]:
    """Every file that stages build for the bundle, by its place there; `corrects` a version that was sold before."""
    folders = {"preview", "lays", "tables", "booklet", "print/by-size", "project", "project/by-size", "print/by-view"}
    papers = paper_files(pattern)
    alone = sizes_alone(pattern)
    return frozenset(
        (
            *(place for _, place in built_outputs(pattern) if place not in folders),
            *(f"print/by-size/{size}-{paper}.pdf" for size in alone for paper in papers),
            *(f"print/by-view/{view}-{paper}.pdf" for view in views_alone(pattern) for paper in papers),
            *(f"project/{file}.pdf" for name in projected(pattern) for file in thrown_files(pattern, name)),
            *(
                f"project/by-size/{size}-{file}.pdf"
                for size in alone
                for name in projected(pattern, size)
                for file in thrown_files(pattern, name)
            ),
            *(f"preview/{name}" for name in (SHEET, *(picture_name(place.piece) for place in layout.placements))),
            *(f"preview/{language}/{name}.png" for language in pattern.languages for name in listed_pictures(pattern)),
            *(f"preview/{language}/{name}" for language in pattern.languages for name in LISTING_TEXTS),
            *(f"lays/{lay_file_name(lay.request)}.svg" for lay in lays),
            "lays/lays.pdf",
            *(f"tables/{name}" for name in table_files(pattern)),
            *(f"booklet/{language}-{edition}.pdf" for language in pattern.languages for edition in EDITIONS),
            *(place for _, place in (correction_outputs(pattern) if corrects else ())),
        )
    )

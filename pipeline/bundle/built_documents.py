"""What files are as documents: whose they are, which version, with which fonts, and how large."""

from collections.abc import Iterator

from pipeline.bundle.built import Built, is_print, name_parts
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_pdf import BuiltPdf
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import in_language
from pipeline.press.imprint import imprint_of

OUR_FONTS = ("NotoSans-Regular", "NotoSans-Bold")
_MB = 1_000_000
_ARCHIVED = ("print/", "project/", "booklet/")


@BUILT.register(
    id="built-names",
    title="Every file names the pattern and its version, and asks to be printed as it is",
    rationale="A buyer who writes about a file that names an old version is helped with the wrong one.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="/PrintScaling /None: ISO 32000-1, table 150; one version in all files: common practice",
)
def built_names(built: Built) -> Iterator[Outcome]:
    """Titles and authors of the PDFs; pattern and version of the data files."""
    for pdf in built.pdfs:
        yield from built.told(pdf, _names)
    pattern = built.pattern
    for path, told in (("tables/tables.json", built.tables), ("data/pieces.json", built.pieces)):
        if (told.pattern, told.version) != (pattern.name, pattern.version):
            text = "it is of another pattern or version"
            found, allowed = f"{told.pattern} {told.version}", f"{pattern.name} {pattern.version}"
            yield at_file(path, "version", text, found, allowed)


def _names(built: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    pattern = built.speaking(pdf)
    title = pdf.said("/Title")
    expected = f"{in_language(pattern.title, pattern.languages[0])} {pattern.version}"
    if is_print(pdf.path):
        named = name_parts(built.pattern, pdf.path)
        view = in_language(pattern.views[named.view].title, pattern.languages[0]) if named.view else None
        expected = imprint_of(pattern, named.format, named.size or view).title
        fits = title == expected
    else:
        titles = [in_language(pattern.title, language) for language in pattern.languages]
        fits = pattern.version in title and any(name in title for name in titles)
    if not fits:
        yield at_file(pdf.path, "title", "its title is not the pattern's", title or "no title", expected)
    author = pdf.said("/Author")
    if author not in pattern.maker.values():
        allowed = in_language(pattern.maker, pattern.languages[0])
        yield at_file(pdf.path, "author", "its author is not the maker", author or "none", allowed)
    if pdf.path.startswith("print/") and not pdf.asks_for_full_size:
        yield at_file(pdf.path, "print-scaling", "it does not ask for actual size", "no /PrintScaling /None", "/None")


@BUILT.register(
    id="built-fonts",
    title="Only the pipeline's own fonts, and all of them in the file",
    rationale="A font that is not in the file is replaced by the reader's, which has letters of other widths.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="embedded font programs: ISO 32000-1, 9.9",
)
def built_fonts(built: Built) -> Iterator[Outcome]:
    """Every font of every form that a page shows."""
    for pdf in built.pdfs:
        yield from built.told(pdf, _fonts)


def _fonts(_: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    for name, embedded in sorted(pdf.fonts.items()):
        if name not in OUR_FONTS:
            yield at_file(pdf.path, "other-font", "it uses a font that is not ours", name, " or ".join(OUR_FONTS))
        elif not embedded:
            yield at_file(pdf.path, "not-embedded", "a font is not in the file", name, "embedded")


@BUILT.register(
    id="built-limits",
    title="The files fit the archives of every channel",
    rationale="A shop refuses an upload past its limits, on the evening of the release.",
    remedy="raise the limits where the channel allows it, print fewer formats, or say by_size = false",
    severity="block",
    source="what pattern.toml says of a channel, 1 MB taken as 1,000,000 bytes; 5 archives of 20 MB: from memory",
)
def built_limits(built: Built) -> Iterator[Outcome]:
    """Sum and largest of the files that are archived, and the archives where there are some."""
    files = {
        path.relative_to(built.folder).as_posix(): path.stat().st_size
        for path in sorted(built.folder.rglob("*"))
        if path.is_file()
    }
    archived = {name: count for name, count in files.items() if name.startswith(_ARCHIVED)}
    for name, channel in built.pattern.channels.items():
        limit = channel.archive_mb * _MB
        for path, count in archived.items():
            if count > limit:
                text = f"it fits no archive of {name}"
                yield at_file(path, "file-too-large", text, f"{count / _MB:.1f} MB", f"{channel.archive_mb:g} MB")
        if sum(archived.values()) > channel.archives * limit:
            text = f"the files do not fit the archives of {name}"
            found, allowed = f"{sum(archived.values()) / _MB:.1f} MB", f"{channel.archives} x {channel.archive_mb:g} MB"
            yield at_file("archives", "too-much", text, found, allowed)
        own = {path: count for path, count in files.items() if path.startswith(f"archives/{name}-")}
        if len(own) > channel.archives:
            text = f"{name} takes fewer archives"
            yield at_file("archives", "too-many", text, f"{len(own)}", f"{channel.archives}")
        for path, count in own.items():
            if count > limit:
                text = f"{name} takes smaller archives"
                yield at_file(path, "archive-too-large", text, f"{count / _MB:.1f} MB", f"{channel.archive_mb:g} MB")
    for path in files:
        if not path.isascii():
            yield at_file(path, "not-ascii", "its name has letters that shops change", path, "ASCII letters")

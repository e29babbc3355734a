"""The parts of a booklet that need no writing: sizes, what is bought, printing, cutting, signs, about the pattern."""

from collections.abc import Iterable, Mapping, Sequence
from functools import partial

import msgspec

from pipeline.booklet.drawn import drawn_figure, figure_fault
from pipeline.booklet.file_names import lays_file, shop_files
from pipeline.booklet.lays import Lays
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Boxed, Cell, Figure, Grid, Head, Node, Pictures, Run, Text, cell, plain, run
from pipeline.booklet.page_tables import page_counts, pages_needed
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.read import read_booklet
from pipeline.booklet.sewing import Sewing
from pipeline.booklet.signs import Sign, shown_signs_of
from pipeline.booklet.tables import Tables
from pipeline.booklet.text import Block, Booklet, Heading
from pipeline.checks.cautions import cautions
from pipeline.drawing.piece.words import allowance_sentences, cut_sentences
from pipeline.drawing.scene import Scene
from pipeline.drawing.wording import length_words, size_range, told_of
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import side_of
from pipeline.model.texts import VERSION
from pipeline.words import say

_TOP = 1
_ALLOWANCES = ("allowances",)
Row = tuple[Cell, ...]


class Parts:
    """The parts of one booklet in one language."""

    def __init__(self, model: Model, tables: Tables, pictures: Pictures, drawn: PiecePictures) -> None:
        self.model, self.tables, self.pictures, self.drawn = model, tables, pictures, drawn
        self.pattern: Pattern = model.pattern
        self.language = model.language
        self.mine = msgspec.structs.replace(model.pattern, languages=(model.language,))

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def head(self, key: str, level: int = _TOP, part: bool = False) -> Head:
        return Head(level, plain(self.say(key)), part)

    def text(self, key: str, **values: object) -> Text:
        return Text(plain(self.say(key, **values)))

    def sizes(self) -> list[Node]:
        """How a size is chosen."""
        body = self.tables.measures("body")
        finished = self.tables.measures("finished")
        if not (body or finished):
            return []
        less = "-less" if self.tables.less_than_body else ""
        nodes: list[Node] = [self.head("booklet.choose-head", part=True), self.text(f"booklet.choose{less}")]
        ease = self.tables.ease_columns()
        for key, made in (
            ("body-head", body),
            ("finished-head", finished),
            (f"ease-head{less}", self.tables.by_axes(ease, alike=True) if ease else []),
        ):
            if made:
                nodes += [self.head(f"booklet.{key}", 2), *made]
        return nodes

    def needed(self) -> list[Node]:
        """What is bought, a line a size."""
        told = [self.text(key) for key in ("booklet.need", "cloth.round", "cloth.selvedge")]
        told += [self.text("cloth.repeat-mark")] if self.tables.matched else []
        # before the table: behind it they may stand on a page alone
        return [self.head("booklet.need-head", part=True), *told, *self.tables.shopping(2)]

    def printing(self) -> list[Node]:
        """How pages are printed, which, and how they are joined."""
        pages = pages_needed(self.tables, 3)
        if not pages:
            return []
        overlap = self.pattern.print.overlap_mm
        told = length_words(self.language, overlap, self.pattern.units)
        nodes: list[Node] = [
            self.head("booklet.print-head", part=True),
            self.text("booklet.print"),
            self.text("booklet.keep"),
        ]
        if len(self.pattern.sizes) > 1 and not self.pattern.print.black:
            nodes.append(self.text("booklet.grey"))
        if files := shop_files(self.pattern):
            nodes.append(self.text("booklet.shop", files=files))
        nodes += [self.text("start.layers"), self.text("start.solid")]
        nodes += [self.text("start.own-files")] if self.pattern.print.by_size else []
        nodes += [self.text("start.view-files")] if self.pattern.views else []
        nodes += [self.head("booklet.pages-head", 2), *pages, *page_counts(self.tables)]
        nodes.append(self.head("start.join-head", 2))
        nodes.append(self.text("start.join-overlap", overlap=told) if overlap else self.text("start.join"))
        return nodes

    def cutting(self, signs: frozenset[str], lays: Lays) -> list[Node]:
        """Where lays are, cautions, pieces with their counts and allowances, strips, signs."""
        nodes: list[Node] = [self.head("booklet.cut-head", part=True), self.text("booklet.wash")]
        where = lays.sentence()
        nodes.append(Text(plain(f"{where} {self.say('booklet.lays', file=lays_file(self.pattern))}".strip())))
        nodes += [self.text("booklet.match")] if self.tables.matched else []
        nodes.append(self.care())
        nodes += [self.head("booklet.pieces-head", 2), self._pieces(), *self._seam_allowances()]
        nodes += [self.head("booklet.list-head", 2), *self.tables.cut_list()]
        if strips := self.tables.strips(3, self._folded):
            nodes += [self.head("strips.head", 2), *strips]
        of_pieces = partial(shown_signs_of, self.pattern, self.model.cuts, signs)
        if shown := self.model.garment.once(("signs", signs), of_pieces):
            nodes += [self.head("start.marks-head", 2), self.signs(shown)]
        return nodes

    def care(self) -> Boxed:
        """What to beware of, in sewing and in what a child wears."""
        told = (self.say("start.care"), *cautions(self.pattern, self.language))
        return Boxed("caution", self.say("booklet.caution"), tuple(Text(plain(text)) for text in told))

    def _pieces(self) -> Grid:
        """A row a piece: its picture, what is cut of it, and what its cut line includes."""
        rows = []
        for name, spec in self.pattern.pieces.items():
            cuts = self.model.cuts.get(name, {})
            if not cuts:
                continue
            title = in_language(spec.title, self.language)
            alt = self.say("booklet.piece-alt", number=spec.number, title=title)
            picture = self.pictures.draw(self.drawn.piece(name, self.pictures.large), alt)
            told = self.model.garment.once(("told", name, self.language), partial(self._told, spec, cuts))
            runs = (
                run(f"{spec.number} {title}", bold=True, ends=True),
                *(run(text, ends=at + 1 < len(told)) for at, text in enumerate(told)),
            )
            rows.append((Cell(figure=picture), Cell(runs)))
        head = (cell(self.say("table.number")), cell(self.say("table.piece")))
        return self._in_pairs(head, rows, (1.0, 2.2))

    def _told(self, spec: PieceSpec, cuts: Mapping[str, CutPiece]) -> tuple[str, ...]:
        """What is said of a piece, in every edition."""
        return (*self._cut(spec, cuts), *self._allowances(cuts))

    def _seam_allowances(self) -> list[Node]:
        """What stands between seam line and cut line, drawn, where a piece has any."""
        if figure_fault(_ALLOWANCES, self.model) is not None:
            return []
        figure = drawn_figure(_ALLOWANCES, self.model, self.pictures.large)
        return [self.head("booklet.allowance-head", 2), self.pictures.draw(figure.scene, figure.alt)]

    def _cut(self, spec: PieceSpec, cuts: Mapping[str, CutPiece]) -> list[str]:
        """How many are cut, by sizes that agree: whether a piece is its own mirror image, one of them tells for all."""
        groups: dict[tuple[object, ...], list[str]] = {}
        for size in cuts:
            counts = tuple((cut.material, cut.count.get(size), cut.mirrored.get(size)) for cut in spec.cut)
            groups.setdefault(counts, []).append(size)
        told = self._by_sizes((sizes, cut_sentences(self.mine, cuts[sizes[0]])) for sizes in groups.values())
        side = side_of(spec.cut)
        return [*told, self.say(f"mark-side.{side}")] if side else told

    def _allowances(self, cuts: Mapping[str, CutPiece]) -> list[str]:
        groups: dict[tuple[str, ...], list[str]] = {}
        for size, cut in cuts.items():
            groups.setdefault(allowance_sentences(self.mine, cut), []).append(size)
        return self._by_sizes((sizes, lines) for lines, sizes in groups.items())

    def _by_sizes(self, told: Iterable[tuple[list[str], tuple[str, ...]]]) -> list[str]:
        """Sentences once where all sizes have them, else with their sizes before them."""
        groups = list(told)
        return [
            line if len(groups) == 1 else told_of(self.language, size_range(sizes, self.pattern, self.language), line)
            for sizes, lines in groups
            for line in lines
        ]

    def _folded(self, strip: str) -> list[Node]:
        """How a strip is folded."""
        figure = drawn_figure(("strip", strip), self.model, self.pictures.large)
        return [self.pictures.draw(figure.scene, figure.alt)]

    def signs(self, signs: Sequence[Sign]) -> Grid:
        """A row a sign; where a file of one size shows some otherwise, in both forms."""
        both = any(sign.one for sign in signs)
        rows = []
        for sign in signs:
            meaning = self.say(f"start.sign-{sign.meaning}")
            shown = (sign.several, sign.one) if both else (sign.several,)
            rows.append((*(self._sign(picture, meaning) for picture in shown), cell(meaning)))
        heads = ("sign-several", "sign-one", "meaning") if both else ("sign", "meaning")
        shares = (1.0, 1.0, 1.7) if both else (1.0, 2.2)
        return self._in_pairs(tuple(cell(self.say(f"booklet.{key}")) for key in heads), rows, shares)

    def _sign(self, picture: Scene | None, meaning: str) -> Cell:
        if picture is None:
            return cell("–")
        return Cell(figure=self.pictures.draw(picture, self.say("booklet.sign-alt", sign=meaning)))

    def _in_pairs(self, head: Row, rows: Sequence[Row], shares: tuple[float, ...]) -> Grid:
        """Rows of little text, two in a line where a page is wide; they are read line by line."""
        if not self.tables.wide or len(rows) < 2:
            return Grid(head, tuple(rows), (*shares[:-1], 2 * shares[-1]))
        blank = tuple(cell("") for _ in head)
        filled = [*rows, blank] if len(rows) % 2 else rows
        lines = tuple((*one, *other) for one, other in zip(filled[::2], filled[1::2], strict=True))
        return Grid((*head, *head), lines, (*shares, *shares))

    def about(self, changes: str | None) -> list[Node]:
        """Licence, contact, version and what changed."""
        pattern = self.pattern
        nodes: list[Node] = [self.head("booklet.about-head")]
        for key, text in (("licence", pattern.licence), ("contact", pattern.contact)):
            if told := in_language(text, self.language):
                nodes += [self.head(f"booklet.{key}", 2), Text(_lines(told))]
        if pattern.style.contact_lines:
            nodes.append(Text(_lines("\n".join(pattern.style.contact_lines))))
        newest = _newest(changes, pattern.version) if changes else ()
        if newest:
            nodes.append(self.head("booklet.changes", 2))
            nodes.append(Head(3, plain(self.say("piece.version", version=pattern.version))))
            written = Booklet(self.language, "CHANGES.md", newest)
            nodes += Sewing(self.model, self.tables, self.pictures, {}, written, 4).nodes()
        return nodes

    def all_pieces(self) -> Figure:
        """The picture of all pieces."""
        title = in_language(self.pattern.title, self.language)
        return self.pictures.draw(self.drawn.cover(self.pictures.large), self.say("booklet.pieces-alt", title=title))


def _lines(text: str) -> tuple[Run, ...]:
    lines = text.strip().split("\n")
    return tuple(run(line, ends=at + 1 < len(lines)) for at, line in enumerate(lines))


def _newest(changes: str, version: str) -> tuple[Block, ...]:
    """What CHANGES.md tells of a version: what stands between its heading and the next one of a version."""
    # only a booklet has references, figures and boxes: here they are text
    told = changes.replace("{{", "{ {").replace("![", "[").replace(":::", "")
    booklet, _ = read_booklet("", "CHANGES.md", told.encode())
    found: list[Block] = []
    inside = False
    for block in booklet.blocks:
        if isinstance(block, Heading):
            named = VERSION.findall("".join(getattr(inline, "text", "") for inline in block.inside))
            if named:
                inside = named[0] == version
                continue
        if inside:
            found.append(block)
    return tuple(found)

"""A PDF of a bundle as its checks look at it: pages, layers, forms and fonts, each read once."""

import re
from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import NamedTuple, TypeVar

import numpy as np
import pikepdf
from numpy.typing import NDArray

from pipeline.bundle.pdf_content import Run, Widths, polylines, text_runs
from pipeline.bundle.pdf_objects import font_of, listed, names_of, under, widths_of
from pipeline.bundle.pdf_tags import Tag, tags_of
from pipeline.work.files import hash_file

_SHOWN = re.compile(
    rb"/OC\s+/(?P<layer>\S+)\s+BDC|(?P<end>\bEMC\b)"
    rb"|(?:\b1 0 0 1 (?P<left>[-.\d]+) (?P<bottom>[-.\d]+) cm\s+)?/(?P<form>\S+)\s+Do\b"
)
_ACCESSIBLE = "{http://www.aiim.org/pdfua/ns/id/}part"
_CLIP = re.compile(rb"((?:[-+]?\d*\.?\d+\s+){4})re\s+W\*?\s+n\b")


class BuiltForm:
    """A form that pages show: operators, extents, fonts."""

    def __init__(self, stream: pikepdf.Object) -> None:
        self._stream = stream

    @cached_property
    def content(self) -> bytes:
        """Its operators."""
        return self._stream.read_bytes()

    @cached_property
    def lines(self) -> list[NDArray[np.float64]]:
        """Its lines, as `polylines` finds them."""
        return polylines(self.content)

    @cached_property
    def area(self) -> float:
        """Of its box, in square points."""
        left, _, right, _ = (float(number) for number in self._stream.BBox)
        return (right - left) * self.height_pt

    @cached_property
    def height_pt(self) -> float:
        """Of its box."""
        _, bottom, _, top = (float(number) for number in self._stream.BBox)
        return top - bottom

    @cached_property
    def matrix(self) -> str | None:
        """What it is scaled, turned or moved by; None where it has no matrix of its own, as ours have none."""
        return " ".join(f"{float(part):g}" for part in self._stream.Matrix) if "/Matrix" in self._stream else None

    @property
    def fonts(self) -> dict[str, pikepdf.Object]:
        """The fonts that it names, by resource name."""
        return dict(under(self._stream, "/Resources", "/Font").items())


class Shown(NamedTuple):
    """A form on a page: its name, the layers that show it, none where it always shows, the form itself, and where its
    lower left corner lies."""

    name: str
    layers: tuple[str, ...]
    form: BuiltForm
    left_pt: float = 0.0
    bottom_pt: float = 0.0


class BuiltPage:
    """One page. `number` counts from 1."""

    def __init__(self, number: int, page: pikepdf.Page, shared: "_Shared") -> None:
        self.number = number
        self._page = page.obj
        self._shared = shared
        left, bottom, right, top = (float(value) for value in page.mediabox)
        self.label = page.label
        self.width_pt, self.height_pt = right - left, top - bottom
        self.turned_deg = int(self._page.get("/Rotate", 0)) % 360
        self.user_unit = float(self._page.get("/UserUnit", 1.0))

    @cached_property
    def content(self) -> bytes:
        """The page's operators."""
        contents = self._page.get("/Contents")
        if contents is None:
            return b""
        parts = contents if isinstance(contents, pikepdf.Array) else [contents]
        return b"\n".join(part.read_bytes() for part in parts)

    @property
    def annotations(self) -> list[pikepdf.Object]:
        """What is laid over it, as links are."""
        return listed(self._page, "/Annots")

    @property
    def keeps_order(self) -> bool:
        """Whether keys go through what is laid over it in the order of the tags."""
        return str(self._page.get("/Tabs", "")) == "/S"

    @property
    def fonts(self) -> dict[str, pikepdf.Object]:
        """The fonts that it names itself, by resource name."""
        return dict(under(self._page, "/Resources", "/Font").items())

    @cached_property
    def clip(self) -> tuple[float, float, float, float] | None:
        """The first clip: left, bottom, width, height in points."""
        match = _CLIP.search(self.content)
        if match is None:
            return None
        left, bottom, width, height = map(float, match[1].split())
        return left, bottom, width, height

    @cached_property
    def shown(self) -> tuple[Shown, ...]:
        """All forms in the order in which they are drawn, layers by their names."""
        forms, properties = under(self._page, "/Resources", "/XObject"), under(self._page, "/Resources", "/Properties")
        found: list[Shown] = []
        layers: tuple[str, ...] = ()
        for match in _SHOWN.finditer(self.content):
            if match["layer"]:
                key = "/" + match["layer"].decode("latin-1")
                layers = self._shared.layer_names(properties[key]) if key in properties else (key,)
            elif match["end"]:
                layers = ()
            else:
                name = "/" + match["form"].decode("latin-1")
                if name in forms:
                    place = float(match["left"] or 0), float(match["bottom"] or 0)
                    found.append(Shown(name, layers, self._shared.form(forms[name]), *place))
        return tuple(found)

    @cached_property
    def around(self) -> BuiltForm | None:
        """What stands around the pattern: the first form outside every layer."""
        return next((shown.form for shown in self.shown if not shown.layers), None)

    @cached_property
    def around_content(self) -> bytes:
        """The operators of what stands around the pattern; none where there is nothing."""
        return b"" if self.around is None else self.around.content

    @cached_property
    def around_texts(self) -> tuple[Run, ...]:
        """The texts around the pattern, and where they stand."""
        return () if self.around is None else tuple(text_runs(self.around_content, self._shared.widths(self.around)))


class BuiltPdf:
    """One file; `path` is relative to the bundle. All but the digest of a damaged one raises pikepdf.PdfError."""

    def __init__(self, folder: Path, path: str) -> None:
        self.path = path
        self._file = folder / path

    @cached_property
    def digest(self) -> str:
        """SHA-256 of its bytes."""
        return hash_file(self._file)

    @cached_property
    def _document(self) -> pikepdf.Pdf:
        return pikepdf.open(self._file, attempt_recovery=False)

    @cached_property
    def pages(self) -> tuple[BuiltPage, ...]:
        """All pages."""
        shared = _Shared()
        return tuple(BuiltPage(number, page, shared) for number, page in enumerate(self._document.pages, 1))

    def said(self, key: str) -> str:
        """What the document says of itself under "/Title", "/Author" and so on; empty where it says nothing."""
        return str(self._document.docinfo.get(key, ""))

    @property
    def asks_for_full_size(self) -> bool:
        """Whether it asks viewers not to scale it in print."""
        return str(under(self._document.Root, "/ViewerPreferences").get("/PrintScaling", "")) == "/None"

    @property
    def is_tagged(self) -> bool:
        """Whether it says that it is tagged, and has a tree of tags."""
        root = self._document.Root
        return bool(under(root, "/MarkInfo").get("/Marked", False)) and "/StructTreeRoot" in root

    @property
    def is_suspect(self) -> bool:
        """Whether it says that its tags may be wrong."""
        return bool(under(self._document.Root, "/MarkInfo").get("/Suspects", False))

    @property
    def accessible_part(self) -> str:
        """The part of PDF/UA (ISO 14289) that its metadata say it keeps; empty where they say none."""
        if "/Metadata" not in self._document.Root:
            return ""
        with self._document.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
            return str(metadata.get(_ACCESSIBLE, ""))

    @property
    def language(self) -> str:
        """The language that it says it is in; empty where it says none."""
        return str(self._document.Root.get("/Lang", ""))

    @property
    def shows_title(self) -> bool:
        """Whether readers show its title instead of its file's name."""
        return bool(under(self._document.Root, "/ViewerPreferences").get("/DisplayDocTitle", False))

    @cached_property
    def tags(self) -> tuple[Tag, ...]:
        """Its tags in reading order."""
        return tuple(tags_of(self._document.Root))

    @cached_property
    def layers(self) -> tuple[str, ...]:
        """Names of the layers, in the order of the file."""
        return names_of(listed(under(self._document.Root, "/OCProperties"), "/OCGs"))

    @cached_property
    def hidden_layers(self) -> tuple[str, ...]:
        """What a reader hides, or may hide, when the file is opened or printed."""
        state = under(self._document.Root, "/OCProperties", "/D")
        if str(state.get("/BaseState", "/ON")) != "/ON":
            return self.layers
        by_event = ["all, when an event says so (/AS)"] if listed(state, "/AS") else []
        return (*names_of(listed(state, "/OFF")), *by_event)

    @cached_property
    def fonts(self) -> dict[str, bool]:
        """Names of all fonts without their subset's tag, and whether each is embedded."""
        known: dict[_Key, tuple[str, bool]] = {}
        fonts: dict[str, bool] = {}
        forms = dict.fromkeys(shown.form for page in self.pages for shown in page.shown)
        for held in (*(form.fonts for form in forms), *(page.fonts for page in self.pages)):
            for font in held.values():
                name, embedded = _once(known, font, font_of)
                fonts[name] = fonts.get(name, True) and embedded
        return fonts


class _Shared:
    """What pages of one file share, each read once: forms, names of layers, letter widths of fonts."""

    def __init__(self) -> None:
        self._forms: dict[_Key, BuiltForm] = {}
        self._layers: dict[_Key, tuple[str, ...]] = {}
        self._widths: dict[_Key, Widths] = {}

    def form(self, stream: pikepdf.Object) -> BuiltForm:
        return _once(self._forms, stream, BuiltForm)

    def layer_names(self, properties: pikepdf.Object) -> tuple[str, ...]:
        """The names of a layer, or of all layers of a membership (ISO 32000-1, 8.11.2)."""
        return _once(self._layers, properties, lambda it: names_of(listed(it, "/OCGs") or [it]))

    def widths(self, form: BuiltForm) -> dict[str, Widths]:
        """Those of the fonts that a form uses, by resource name."""
        return {name: _once(self._widths, font, widths_of) for name, font in form.fonts.items()}


_Key = tuple[int, int]
_T = TypeVar("_T")


def _once(known: dict[_Key, _T], thing: pikepdf.Object, read: Callable[[pikepdf.Object], _T]) -> _T:
    """What is read of an object, which is the same object where its number is; one without a number is read again."""
    if not thing.is_indirect:
        return read(thing)
    if thing.objgen not in known:
        known[thing.objgen] = read(thing)
    return known[thing.objgen]

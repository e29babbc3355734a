"""A PDF of a bundle as its checks look at it: pages, layers, forms and fonts, each read once."""

import re
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from pypdf import PdfReader

from pipeline.bundle.pdf_content import Run, Widths, text_runs

_SHOWN = re.compile(rb"/OC\s+/(?P<layer>\S+)\s+BDC|(?P<end>\bEMC\b)|/(?P<form>\S+)\s+Do\b")
_CLIP = re.compile(rb"((?:[-+]?\d*\.?\d+\s+){4})re\s+W\*?\s+n\b")


class Shown(NamedTuple):
    """A form on a page: its name, the layers that show it, none where it always shows, and the form itself."""

    name: str
    layers: tuple[str, ...]
    form: Any


class BuiltPage:
    """One page. `number` counts from 1."""

    def __init__(self, number: int, page: Any, fonts: "Fonts") -> None:
        self.number = number
        self._page = page
        self._fonts = fonts
        left, bottom, right, top = (float(value) for value in page["/MediaBox"])
        self.width_pt, self.height_pt = right - left, top - bottom
        self.turned_deg = int(page.get("/Rotate", 0)) % 360
        self.user_unit = float(page.get("/UserUnit", 1.0))

    @cached_property
    def content(self) -> bytes:
        """The page's operators."""
        contents = self._page["/Contents"].get_object() if "/Contents" in self._page else None
        if contents is None:
            return b""
        parts = contents if isinstance(contents, list) else [contents]
        return b"\n".join(part.get_object().get_data() for part in parts)

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
        resources = self._page["/Resources"]
        forms, properties = resources.get("/XObject", {}), resources.get("/Properties", {})
        found: list[Shown] = []
        layers: tuple[str, ...] = ()
        for match in _SHOWN.finditer(self.content):
            if match["layer"]:
                key = "/" + match["layer"].decode("latin-1")
                layers = _layer_names(properties[key]) if key in properties else (key,)
            elif match["end"]:
                layers = ()
            else:
                name = "/" + match["form"].decode("latin-1")
                if name in forms:
                    found.append(Shown(name, layers, forms[name].get_object()))
        return tuple(found)

    @cached_property
    def around(self) -> Any | None:
        """What stands around the pattern: the first form outside every layer."""
        return next((shown.form for shown in self.shown if not shown.layers), None)

    @cached_property
    def around_content(self) -> bytes:
        """The operators of what stands around the pattern; none where there is nothing."""
        return b"" if self.around is None else bytes(self.around.get_data())

    @cached_property
    def around_texts(self) -> tuple[Run, ...]:
        """The texts around the pattern, and where they stand."""
        return () if self.around is None else tuple(text_runs(self.around_content, self._fonts.widths(self.around)))


def _layer_names(properties: Any) -> tuple[str, ...]:
    """The names of a layer, or of all layers of a membership (ISO 32000-1, 8.11.2)."""
    return tuple(str(layer.get_object()["/Name"]) for layer in properties.get("/OCGs", [properties]))


class BuiltPdf:
    """One file. `path` is relative to the bundle."""

    def __init__(self, folder: Path, path: str) -> None:
        self.path = path
        self.reader = PdfReader(folder / path)

    @cached_property
    def pages(self) -> tuple[BuiltPage, ...]:
        """All pages."""
        fonts = Fonts()
        return tuple(BuiltPage(number, page, fonts) for number, page in enumerate(self.reader.pages, 1))

    @cached_property
    def layers(self) -> tuple[str, ...]:
        """Names of the layers, in the order of the file."""
        groups = self.reader.root_object.get("/OCProperties", {}).get("/OCGs", [])
        return tuple(str(group.get_object()["/Name"]) for group in groups)

    @cached_property
    def hidden_layers(self) -> tuple[str, ...]:
        """What a reader hides, or may hide, when the file is opened or printed."""
        state = self.reader.root_object.get("/OCProperties", {}).get("/D", {})
        if state.get("/BaseState", "/ON") != "/ON":
            return self.layers
        named = [str(group.get_object()["/Name"]) for group in state.get("/OFF", [])]
        return (*named, *(["all, when an event says so (/AS)"] if state.get("/AS") else []))

    @cached_property
    def fonts(self) -> dict[str, bool]:
        """Names of all fonts without their subset's tag, and whether each is embedded."""
        fonts: dict[str, bool] = {}
        seen: set[int] = set()
        for form in {id(shown.form): shown.form for page in self.pages for shown in page.shown}.values():
            for reference in _font_references(form).values():
                key = getattr(reference, "idnum", id(reference))
                if key not in seen:
                    seen.add(key)
                    name, embedded = _font(reference.get_object())
                    fonts[name] = fonts.get(name, True) and embedded
        return fonts


class Fonts:
    """Letter widths of the fonts of one file, each read once."""

    def __init__(self) -> None:
        self._widths: dict[int, Widths] = {}

    def widths(self, form: Any) -> dict[str, Widths]:
        """Those of the fonts that a form uses, by resource name."""
        return {name: self._of(reference) for name, reference in _font_references(form).items()}

    def _of(self, reference: Any) -> Widths:
        key = getattr(reference, "idnum", id(reference))
        if key not in self._widths:
            font = reference.get_object()
            first = int(font.get("/FirstChar", 0))
            self._widths[key] = {first + i: float(width) for i, width in enumerate(font.get("/Widths", []))}
        return self._widths[key]


def _font_references(form: Any) -> dict[str, Any]:
    fonts = form.get("/Resources", {}).get("/Font", {})
    return {str(name): dict.__getitem__(fonts, name) for name in fonts}


def _font(font: Any) -> tuple[str, bool]:
    name = str(font["/BaseFont"]).lstrip("/")
    described = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
    descriptor = described.get("/FontDescriptor", {})
    embedded = any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))
    return re.sub(r"^[A-Z]{6}\+", "", name), embedded

"""Booklets of the small pattern, built by the steps, in two languages, for tests of what they look like."""

from pathlib import Path

import msgspec
import pypdfium2
import pytest

from pipeline.booklet import parts
from pipeline.bundle.built_pdf import BuiltPdf
from pipeline.steps import booklet, lays, tables
from pipeline.tables.write import TablesFile
from tests.booklet.conftest import Stroke
from tests.booklet.sample import one_line
from tests.by_steps import apron_with, cut_sizes, print_all_sizes

MORE = """
[print]
formats = ["a4"]
by_size = false

[lays]
seconds = 1

[strips.tie]
title = { en = "Tie", de = "Bindeband" }
cut = [{ material = "shell", count = 2 }]
width = "25 mm"
make = "doubled"
length = "83 cm"
allowance = "1 cm"

[body.waist]
title = { en = "Waist", de = "Taillenumfang" }
sizes = { S = "104 cm", M = "108.5 cm" }

[finished.waist]
title = { en = "Finished waist", de = "Fertige Taille" }
sum = "2 x skirt.waist + 40 cm"

[notions.tape]
title = { en = "Tape", de = "Nahtband" }
length = "2 x skirt.hem"

[notions.button]
title = { en = "Button", de = "Knopf" }
count = { S = 3, M = 4 }
"""
ODD = '#import "x.typ" $a^2$ = b_c `d` <e@f.example> \\ ] [ } { " // # #text(red)[no] ~ -- ...'
EN = f"""# Sew the apron

Odd signs: {ODD.replace("<", "&lt;").replace("`", "&#96;").replace("_", "&#95;").replace("$", "$")}

1. Press up the hem of {{{{ piece skirt }}}} by {{{{ allowance skirt.hem }}}}. It is {{{{ skirt.hem }}}} long.

   ![A needle and a thread](figures/needle.svg)

   ::: caution
   The iron is hot.
   :::

## Ties

2. Fold {{{{ strip tie }}}}, then join {{{{ seam waist }}}}.
3. Sew on {{{{ notion tape }}}} and {{{{ notion button }}}}: the body measures {{{{ body.waist }}}}.

{{{{ table notions }}}}
"""
DE = """Eine Schürze ohne Überschrift.

1. Den Saum von {{ piece skirt }} um {{ allowance skirt.hem }} umbügeln.
"""


class Built:
    """What was built, and from what."""

    def __init__(self, root: Path, written: dict[str, bytes]) -> None:
        self.source = apron_with(root / "tea-apron", MORE)
        for name, data in written.items():
            (self.source / name).parent.mkdir(parents=True, exist_ok=True)
            (self.source / name).write_bytes(data)
        self.work, self.place = root / "work", root / "booklet"
        files = cut_sizes(self.source, self.work, ("S", "M"))
        print_all_sizes(self.source, self.work, files, ("a4",), root / "print")
        lays.main(self.source, self.work, files, [], self.work / "lays.json", self.work / "told.json")
        pages = [self.work / "pages.json"]
        tables.main(self.source, files, self.work / "lays.json", pages, root / "tables", self.work / "tables-told.json")
        self.arguments = (
            self.source,
            self.work,
            files,
            root / "tables",
            self.work / "lays.json",
            self.work / "drawings.json",
        )
        self.set_in(self.place)
        self.rows = msgspec.json.decode((root / "tables/tables.json").read_bytes(), type=TablesFile)

    def set_in(self, place: Path) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(parts, "drawn_figure", lambda words, model, large: Stroke(words))
            booklet.main(*self.arguments, place)

    def pdf(self, name: str) -> BuiltPdf:
        return BuiltPdf(self.place, f"{name}.pdf")

    def text(self, name: str) -> str:
        """As pdfium reads it, in one line, with blanks of one kind."""
        document = pypdfium2.PdfDocument(self.place / f"{name}.pdf")
        return one_line("\n".join(page.get_textpage().get_text_range() for page in document))

"""A correction of the apron made of few values: a side that moved in one of its sizes."""

from pipeline.correction.differences import Difference, EdgeMove
from pipeline.correction.sentences import Correction
from pipeline.ledger.changes import Change, ChangesFile
from pipeline.ledger.packed import Shape
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.tables.pages import PageRow
from tests.by_steps import APRON

TEXT = "# 1.1.0\n\nThe **side** was `wrong`.\n\n- one\n- two ☃\n\n## 1.0.0\n\nFirst.\n"


def apron() -> Pattern:
    pattern, findings = load_pattern(APRON)
    assert pattern is not None, findings
    return pattern


def panel(side: float = 0.0, left: float = 0.0) -> Shape:
    """A rectangle of 300 by 500 mm whose right side lies farther out by `side`."""
    right = left + 300.0 + side
    corners = ((left, 0.0), (right, 0.0), (right, 500.0), (left, 500.0))
    names = ("waist", "side", "hem", "middle")
    ends = zip(names, corners, (*corners[1:], corners[0]), strict=True)
    return Shape(edges={name: ((start, end),) for name, start, end in ends})


def page(format: str, label: str, sizes: str) -> PageRow:
    return PageRow(format=format, page=1, label=label, row=1, column=1, sizes=tuple(sizes), views=())


def change(what: str, name: str, **more: object) -> Change:
    return Change(what=what, level="minor", name=name, **more)


def printed(name: str, *labels: str) -> list[Change]:
    return [change("page", name, near=label, before="a", after="b") for label in labels]


def correction(*changes: Change, differences: tuple[Difference, ...] = ()) -> Correction:
    file = ChangesFile(pattern="tea-apron", since="1.0.0", version="1.1.0", next_version="1.1.0", changes=changes)
    pages = (
        *(page("a4", label, sizes) for label, sizes in (("1", "SM"), ("2A", "M"), ("3A", "S"), ("4A", "SM"))),
        page("by-size/M-a4", "2A", "M"),
        page("by-size/S-a4", "2A", "S"),
    )
    return Correction(apron(), file, differences, pages, TEXT)


def side_moved(out: float, into: float = 0.0) -> Difference:
    edges = {"side": EdgeMove(out, (300.0 + out, 200.0), into, (300.0, 200.0))}
    return Difference("skirt", "M", panel(), panel(out - into), edges)

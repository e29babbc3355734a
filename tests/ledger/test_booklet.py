"""A booklet part by part: what a step says is held against what it said, whatever its number is by now."""

import msgspec
import pytest

from pipeline.booklet.folder import Folder
from pipeline.booklet.read import read_booklet
from pipeline.ledger.booklet import booklet_parts, changed_parts
from pipeline.ledger.compare import compare
from pipeline.ledger.facts import Parts
from tests.ledger.versions import SHAPES, changes, facts

TEXT = "# Sew\n\nPress.\n\n1. Sew the {{ seam side }}.\n\n   Trim it.\n\n2) Turn.\n\nRest.\n\n3. Hem.\n"
FILE, FIGURE = "booklet/en.md", "booklet/figures/hem.svg"


def parts(text: str = TEXT, drawing: bytes = b"<svg/>") -> dict[str, Parts]:
    files = {FILE: text.encode(), FIGURE: drawing, "booklet/notes.txt": b"mine"}
    booklet, faults = read_booklet("en", FILE, files[FILE])
    assert faults == ()
    return booklet_parts(Folder({"en": booklet}, {}, {FIGURE: drawing}, ("booklet/notes.txt",)), files)


def changed(old: str, new: str) -> list[tuple[str, str | None, str | None]]:
    assert old in TEXT
    return [*changed_parts(parts(), parts(TEXT.replace(old, new)))]


def test_steps_are_numbered_through_and_keep_what_belongs_to_them():
    assert parts()[FILE] == (
        ("heading", "# Sew"),
        ("text before step 1", "Press."),
        ("step 1", "Sew the {{ seam side }}. Trim it."),
        ("step 2", "Turn."),
        ("text after step 2", "Rest."),
        ("step 3", "Hem."),
    )


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("Trim it.", "Trim it well.", [("step 1", "Sew the {{ seam side }}. Trim it.", "…")]),
        ("2) Turn.\n", "2) Press.\n\n3) Turn.\n", [("step 2", None, "Press.")]),
        ("\n2) Turn.\n", "", [("step 2", "Turn.", None)]),
        ("# Sew\n", "# Sew  \n", []),
    ],
    ids=["another text", "one more", "one less", "another space"],
)
def test_what_is_told_is_the_step_that_was_changed(old, new, told):
    found = changed(old, new)
    assert [(name, before) for name, before, _ in found] == [(f"booklet {name}, en", was) for name, was, _ in told]
    assert [after is None for _, _, after in found] == [now is None for _, _, now in told]


def test_another_figure_is_told_by_its_name():
    ((name, before, after),) = changed_parts(parts(), parts(drawing=b"<svg></svg>"))
    assert name == "booklet drawing hem.svg"
    assert before != after


def test_a_changed_step_asks_for_the_last_part_of_the_number():
    old, new = (msgspec.structs.replace(facts(), booklet=parts(text)) for text in (TEXT, TEXT.replace("Hem.", "End.")))
    found = changes(new, old)
    assert [(change.what, change.name) for change in found.changes] == [("text", "booklet step 3, en")]
    assert found.next_version == "1.2.4"


def test_a_version_of_before_booklets_and_letters_were_kept_says_nothing_of_them():
    now = msgspec.structs.replace(facts(), booklet=parts(), fonts={"a.ttf": "1"})
    assert compare(facts(), now, SHAPES) == ()
    assert b"booklet" not in msgspec.json.encode(facts())


def test_other_letters_change_every_page_and_nothing_else():
    old, new = (msgspec.structs.replace(facts(), fonts={"a.ttf": name}) for name in "12")
    assert [(change.what, change.near) for change in compare(old, new, SHAPES)] == [("page", "1"), ("page", "2A")]


def test_a_piece_that_is_gone_takes_its_texts_with_it():
    titles = {"pieces.front.title": {"en": "Front"}, "pieces.bag.title": {"en": "Bag"}}
    old = facts(texts=titles, pieces={"bag": {}})
    found = compare(old, facts(texts={"pieces.front.title": {"en": "Front"}}), SHAPES)
    assert [(change.what, change.name) for change in found] == [("piece", "bag")]

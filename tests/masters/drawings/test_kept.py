"""What was found of a size is asked for and not found again, until anything that it was found of has changed."""

from pathlib import Path

import pytest

from pipeline.masters.drawings import kept, texts
from pipeline.masters.drawings.cut import cut_drawings
from pipeline.masters.drawings.result import CutOut
from pipeline.masters.toml.load import load_pattern
from pipeline.work.cache import Answers
from tests.masters.drawings.small import AROUND, HEAD, drawing, flap, front

CODE = "pipeline.masters.drawings.cut"


class Desk:
    """Cuts a drawing, again and again, and notes which pieces and sizes were solved and not known."""

    def __init__(self, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.place, self.solved = place, []
        show, carried, named_base = kept.show, kept.carried, kept.named_base
        monkeypatch.setattr(kept, "show", lambda p, s, drawn: self.note("outline", drawn) or show(p, s, drawn))
        monkeypatch.setattr(kept, "named_base", lambda s, of, t: self.note("base", of.drawn) or named_base(s, of, t))
        monkeypatch.setattr(kept, "carried", lambda n, mm, of: self.note("carried", of.drawn) or carried(n, mm, of))

    def note(self, what, drawn) -> None:
        self.solved.append((what, drawn.piece, drawn.size))

    def cut(self, text: str, said: str = AROUND, known: bool = True, more: str = "") -> CutOut:
        folder = self.place / "bag"
        folder.mkdir(exist_ok=True)
        (folder / "pattern.toml").write_text(HEAD + more + said, encoding="utf-8")
        (folder / "nest.svg").write_text(text, encoding="utf-8")
        pattern, _ = load_pattern(folder)
        assert pattern is not None
        answers = Answers(self.place / "known", CODE) if known else None
        self.solved = []
        found = cut_drawings(pattern, folder, answers)
        if answers is not None:
            answers.save()
        return found


@pytest.fixture
def desk(tmp_path, monkeypatch):
    return Desk(tmp_path, monkeypatch)


WIDER = front("l").replace("208", "209")


def test_of_one_changed_size_only_that_size_is_solved_again(desk):
    first = desk.cut(drawing())
    assert {what for what, _, _ in desk.solved} == {"outline", "base", "carried"}
    again = desk.cut(drawing(front_l=WIDER))
    assert desk.solved == [("outline", "front", "l"), ("carried", "front", "l")]
    changed = {file for file, text in again.masters.items() if first.masters[file] != text}
    assert changed == {"sizes/l/front.svg"}
    assert again == desk.cut(drawing(front_l=WIDER), known=False)


def test_lines_that_are_added_before_it_change_nothing_of_a_size(desk):
    first = desk.cut(drawing())
    assert desk.cut(drawing().replace("><", ">\n<")) == first
    assert desk.solved == []


def test_a_changed_base_size_is_solved_with_the_sizes_that_take_its_names(desk):
    desk.cut(drawing())
    moved = drawing(front_m=front("m").replace("204", "205"))
    again = desk.cut(moved)
    assert {(piece, size) for _, piece, size in desk.solved} == {("front", size) for size in "sml"}
    assert ("outline", "front", "s") not in desk.solved
    assert again == desk.cut(moved, known=False)


def test_other_names_name_every_size_anew(desk):
    desk.cut(drawing())
    other = AROUND.replace('"cf"', '"fold"')
    again = desk.cut(drawing(), other)
    assert {what for what, _, _ in desk.solved} == {"base", "carried"}
    assert again == desk.cut(drawing(), other, known=False)
    assert b'data-name="fold"' in again.masters["sizes/s/front.svg"]


@pytest.mark.parametrize(
    "changed",
    [
        {"front_s": front("s").replace("L20,230", "L20,225 L25,230")},
        {"front_m": front("m").replace('d="M124.0', 'd="M123 M124.0')},
        {"flap_l": flap("l").replace("400,30", "400,90")},
        {"front_l": front("l").replace('cx="20" cy="100"', 'cx="120" cy="100"')},
    ],
)
def test_what_is_told_is_told_again_with_the_lines_of_the_drawing_as_it_is(desk, changed):
    first = desk.cut(drawing(**changed))
    assert first.findings
    assert desk.cut(drawing(**changed)) == first
    lower = drawing(**changed).replace('<g data-name="Size S">', '\n\n<g data-name="Size S">')
    assert desk.cut(lower) == desk.cut(lower, known=False)


def test_texts_that_name_edges_are_part_of_what_names_were_found_of(desk):
    def named(hem: str) -> str:
        said = {"top": (70, 18), "side": (164, 120), hem: (110, 231), "cf": (18, 120)}
        texts = "".join(f'<text x="{x}" y="{y}">{name}</text>' for name, (x, y) in said.items())
        return drawing(more=f'<g data-name="Front panel"><g data-name="names">{texts}</g></g>')

    words = AROUND.replace('around = ["top", "side", "hem", "cf"]\n', "")
    desk.cut(named("hem"), words)
    again = desk.cut(named("hip"), words)
    assert ("base", "front", "m") in desk.solved
    assert b'data-name="hip"' in again.masters["sizes/l/front.svg"]
    assert again == desk.cut(named("hip"), words, known=False)


def test_the_piece_that_a_text_stands_beside_is_asked_for_and_not_found_again(desk, monkeypatch):
    asked = []
    beside = texts._beside
    monkeypatch.setattr(texts, "_beside", lambda text, *rest: asked.append(text.said) or beside(text, *rest))
    said = {"top": (70, 18), "side": (164, 120), "hem": (110, 231), "cf": (18, 120)}
    names = "".join(f'<text x="{x}" y="{y}">{name}</text>' for name, (x, y) in said.items())
    text = drawing(more=f'<g data-name="names">{names}</g>')
    words = AROUND.replace('around = ["top", "side", "hem", "cf"]\n', "")
    desk.cut(text, words)
    assert asked == [*said]
    changed = text.replace(front("l"), WIDER)
    assert desk.cut(changed, words) == desk.cut(changed, words, known=False)
    assert asked == [*said, *said]  # the second time by what knows nothing


STYLED = drawing(front_s=front("s").replace("<circle", '<circle class="shy"', 1), more="<style>.shy {}</style>")
IN_PIXELS = drawing().replace('700mm" height="400mm"', '700px" height="400px"').replace(' viewBox="0 0 700 400"', "")


@pytest.mark.parametrize(
    ("text", "changed"),
    [
        (STYLED, STYLED.replace(".shy {}", ".shy { display: none }")),
        (drawing(), drawing().replace('viewBox="0 0 700 400"', 'viewBox="0 0 1400 800"')),
        (drawing(), drawing().replace('"Size S"', '"Size S" transform="scale(1 1.1)"')),
        (drawing(), drawing().replace('"Size S"', '"Size S" transform="translate(1e15) translate(-1e15)"')),
        (drawing(), drawing().replace('"Size S"', '"Size S" style="display:none"')),
        (drawing(), drawing().replace('"Size S"', '"Size S" visibility="hidden"')),
        (drawing(), drawing().replace('id="path-s-1"', 'id="path-s-1" style="visibility:hidden"')),
        (drawing(), drawing().replace('id="path-s-1"', 'id="path-s-1" transform="skewX(2)"')),
    ],
)
def test_all_that_an_object_lies_in_is_part_of_what_it_is_known_by(desk, text, changed):
    first = desk.cut(text)
    again = desk.cut(changed)
    assert again == desk.cut(changed, known=False)
    assert again != first


def test_the_resolution_of_a_drawing_in_pixels_is_part_of_what_its_objects_are_known_by(desk):
    first = desk.cut(IN_PIXELS, AROUND, more="pixels_per_inch = 96\n")
    again = desk.cut(IN_PIXELS, AROUND, more="pixels_per_inch = 72\n")
    assert again == desk.cut(IN_PIXELS, AROUND, more="pixels_per_inch = 72\n", known=False)
    assert again != first


def test_a_master_that_was_kept_is_not_written_once_something_keeps_its_size_from_being_named(desk):
    crossed = flap("m").replace("520", "420").replace("430,", "380,20 500,")
    desk.cut(drawing(flap_m=crossed))
    gone = desk.cut(drawing(flap_m=""))
    assert "sizes/l/flap.svg" not in gone.masters
    assert gone == desk.cut(drawing(flap_m=""), known=False)

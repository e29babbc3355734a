"""The trousers again, of a check that is matched at the knee."""

import shutil
from pathlib import Path

import pytest

from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.styles import INSIDE_DASH_MM
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from tests.drawing.seen import lines, texts
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

KNEE = 'lines.knee = { kind = "level" }'
SHELL = "[materials.shell]\n"


def of_a_check(folder: Path, repeat: str = 'repeat = "6 cm"', kind: str = "match") -> Path:
    shutil.copytree(GARMENTS / "suit-trousers", folder / "suit-trousers")
    file = folder / "suit-trousers/pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert (text.count(KNEE), text.count(SHELL)) == (3, 1)
    text = text.replace(KNEE, KNEE.replace("level", kind)).replace(SHELL, f"{SHELL}{repeat}\n")
    file.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("repeat", "kind", "more"),
    [
        ('repeat = "6 cm"', "match", set()),
        ("", "match", {("repeats", "no-repeat", piece, "warn") for piece in ("front-right", "front-left", "back")}),
        ('repeat = "6 cm"', "level", {("repeats", "nothing-to-match", "pattern", "warn")}),
    ],
)
def test_only_one_without_the_other_is_found(repeat, kind, more, tmp_path):
    found = findings_of_pattern(of_a_check(tmp_path, repeat, kind), "suit-trousers", tmp_path / "work")
    told = {(f["check"], f["code"], f["piece"] or "pattern", f["severity"]) for f in found if f["severity"] != "skip"}
    known = {(check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]}
    assert told == known | more


def test_the_line_has_a_sign_and_a_name_of_its_own(tmp_path):
    folder = of_a_check(tmp_path) / "suit-trousers"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, "52")
    (back,), _ = cut_pieces(pattern, "52", tuple(piece for piece in drawn if piece.piece == "back"))
    made = draw_nest(pattern, {"52": back}, 0)
    assert any(line.dash_mm == INSIDE_DASH_MM["match"] for line in lines(made))
    assert any("matching line" in text.content for text in texts(made))

"""The worked example of the master format reads, as it is printed."""

import re
from pathlib import Path

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern

README = Path(__file__).resolve().parents[2] / "source" / "README.md"
POCKET = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" viewBox="0 0 200 200">'
    '<g id="seam"><path d="M20,20 L170,20 L170,180 L20,180 Z"/></g><g id="grain"><path d="M90,150 L90,50"/></g></svg>'
)


def test_worked_example_reads_without_findings(tmp_path: Path) -> None:
    text = README.read_text(encoding="utf-8")
    toml, svg = (re.search(rf"```{kind}\n(.*?)```", text, re.DOTALL) for kind in ("toml", "xml"))
    assert toml is not None
    assert svg is not None
    folder = tmp_path / "apron"
    for place in ("sizes/s/panel.svg", "sizes/m/panel.svg", "sizes/all/pocket.svg", "pattern.toml"):
        (folder / place).parent.mkdir(parents=True, exist_ok=True)
        content = toml[1] if place == "pattern.toml" else POCKET if "pocket" in place else svg[1]
        (folder / place).write_text(content, encoding="utf-8")
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    for size in pattern.sizes:
        drawn, told = read_size(pattern, folder, size)
        cut, told_of_cutting = cut_pieces(pattern, size, drawn)
        assert (*told, *told_of_cutting) == ()
        assert [piece.piece for piece in cut] == ["panel", "pocket"]

"""Cairo's declarations are parsed once a work folder, and are the ones that cairocffi would parse."""

import subprocess
import sys
from pathlib import Path

PAINT = """
import sys
from pathlib import Path
if sys.argv[1:]:
    from pipeline.press.ready import make_ready
    make_ready(Path(sys.argv[1]))
import cairocffi
surface = cairocffi.ImageSurface(cairocffi.FORMAT_RGB24, 20, 20)
context = cairocffi.Context(surface)
context.set_line_join(cairocffi.LINE_JOIN_ROUND)
context.transform(cairocffi.Matrix(1, 0, 0, 1, 2, 3))
context.move_to(1, 1)
context.curve_to(3, 9, 8, 2, 12, 12)
context.stroke()
print(bytes(surface.get_data()).hex())
print("pycparser" in sys.modules, file=sys.stderr)
"""


def painted(*folder: Path) -> tuple[str, bool]:
    """What a new process paints, and whether it had to parse declarations."""
    done = subprocess.run([sys.executable, "-c", PAINT, *map(str, folder)], capture_output=True, text=True, check=True)
    return done.stdout, done.stderr.split()[-1] == "True"


def test_declarations_are_parsed_by_the_first_process_alone_and_paint_the_same(tmp_path: Path) -> None:
    without, parsed = painted()
    assert parsed
    assert painted(tmp_path) == (without, True)
    assert painted(tmp_path) == (without, False)


def test_declarations_of_other_code_are_parsed_anew(tmp_path: Path) -> None:
    painted(tmp_path)
    (file,) = (tmp_path / "compiled").glob("cairo-*.py")
    file.rename(file.with_name("cairo-0000000000000000.py"))
    assert painted(tmp_path)[1]

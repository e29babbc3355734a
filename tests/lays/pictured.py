"""A small lay on a fold, to be drawn and told."""

from pipeline.lays.lay import Lay, Placed
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Material
from tests.lays.samples import cut, pattern, piece_spec, rectangle, request, strip, triangle

SHELL = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1020.0,), selvedge_mm=10.0, ways=("fold",))
PATTERN = pattern(
    [piece_spec("back", cut(1)), piece_spec("front", cut(2, 1)), piece_spec("tab", cut(1))],
    strips=[strip("loop", 135, cut=(cut(1),))],
    shell=SHELL,
    languages=("en", "de"),
)
ASKED = request(
    [
        rectangle("back", 600, 400, 1, on_fold=True),
        triangle("front", 600, 280, 2, 1),
        triangle("tab", 80, 60, 1, 0),
        rectangle("strips.loop", 135, 20, 1),
    ],
    1000,
    way="fold",
    width_mm=1020.0,
)
LAY = Lay(
    folded=True,
    length_mm=900.0,
    placed=(
        Placed(item="back", x_mm=0, y_mm=0, angle_deg=0, layers="fold"),
        Placed(item="front", x_mm=0, y_mm=205, angle_deg=0, layers="pair"),
        Placed(item="tab", x_mm=700, y_mm=100, angle_deg=0, mirrored=True, layers="upper"),
        Placed(item="strips.loop", x_mm=700, y_mm=200, angle_deg=0, layers="lower"),
    ),
    seed=1,
    seconds=1,
)
CHOSEN = Chosen(request=ASKED, lay=LAY, kept=True)

"""What is found in garments from outside: nothing that their drafters judged right, but what is listed with why."""

from pathlib import Path

import pytest

from tests.release.test_bad_input import findings_of_pattern

GARMENTS = Path(__file__).parent
_OF_BANDS = ("grain-level", "symmetrical")
KNOWN = {
    "child-hoodie": {
        ("texts", "alike", "pattern", "info"),  # Hoodie is the same word in both languages
        # its booklet is written without a reference, so nobody can tell what it leaves out
        *((f"booklet-{told}", "no-references", "pattern", "info") for told in ("notions", "pieces", "seams", "strips")),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "suit-trousers": {
        ("seams-named", "in-no-seam", "pattern", "info"),
        ("masters", "grain-level", "back-belt", "info"),
        ("masters", "grain-level", "waistband-left", "info"),
        ("masters", "grain-level", "waistband-right", "info"),
    },
    "prep-blazer": {
        *(("safety", "small-part", f"notions.button{part}", "block") for part in ("", "-inside", "-tab", "-waist")),
        ("grain-nap", "no-top", "band-left.grain", "info"),
        ("grain-nap", "no-top", "band-right.grain", "info"),
        ("masters", "grain-level", "band-left", "info"),
        ("masters", "grain-level", "band-right", "info"),
        ("seams-named", "in-no-seam", "pattern", "info"),
        ("texts", "alike", "pattern", "info"),  # Blazer is the same word in both languages
    },
    "slack-tide": {
        *(  # an armhole that deepens faster than the body grows longer
            ("grading-lengths", "shrinks", f"{sleeve}.under-{side}", "info")
            for sleeve in ("sleeve-a", "sleeve-b")
            for side in ("front", "back")
        ),
        ("grading-lengths", "shrinks", "front-lower.side", "info"),
        ("grading-lengths", "shrinks", "back-lower.side", "info"),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "winter-coat": {
        ("safety", "small-part", "notions.button", "block"),
        ("texts", "parked", "pattern", "info"),  # French, which is begun
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "breezy-hour": {("seams-named", "in-no-seam", "pattern", "info")},
    "pleated-trousers": {
        # signed off: the hem of a tapered leg is cut straight across
        *(("seam-angles", "bend", f"seams.{seam}", "warn") for seam in ("side", "inseam")),
        *(("masters", code, f"{band}-waistband", "info") for band in ("left", "right") for code in _OF_BANDS),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "harbour-tee": {
        # two languages are told of more strips and cloths than the heading of a large sheet has room for
        ("texts-drawable", "left-out", "pattern", "warn"),
        *(
            ("masters", "symmetrical", piece, "info")
            for piece in ("long-sleeve", "pocket", "pocket-facing", "short-sleeve")
        ),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "lido-set": {
        *(("masters", "symmetrical", piece, "info") for piece in ("sleeve", "back-pocket")),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "little-gale": {
        # signed off, in an invented scenario
        *(("safety", "small-part", f"notions.{buttons}", "block") for buttons in ("buttons", "small-buttons")),
        *(("masters", "symmetrical", piece, "info") for piece in ("pocket", "flap")),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "shirt-dress": {
        # signed off: the raw edge lies within the folded placket
        *(("allowance-bare", "bare", f"{piece}.placket-edge", "warn") for piece in ("front", "skirt-front-a")),
        ("allowance-bare", "bare", "hem-band-front.placket-edge", "warn"),
        ("cut-sides", "half-unsaid", "collar-stand.points.buttonhole-1", "warn"),  # its half of the fold is not said
        ("masters", "grain-level", "cuff", "info"),
        *(
            ("masters", "symmetrical", piece, "info")
            for piece in ("hem-band-back", "hem-band-front", "pocket-bag", "short-sleeve")
        ),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
}
"""By check, code, place and severity; what is signed off with a waiver is told all the same."""


@pytest.mark.parametrize("name", KNOWN)
def test_nothing_else_is_found(name, tmp_path):
    findings = [finding for finding in findings_of_pattern(GARMENTS, name, tmp_path) if finding["severity"] != "skip"]
    found = set()
    for finding in findings:
        place = ".".join(part for part in (finding["piece"], finding["where"]) if part)
        found.add((finding["check"], finding["code"], place or "pattern", finding["severity"]))
    assert found == KNOWN[name]

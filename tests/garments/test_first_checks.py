"""What is found in garments from outside: nothing that their drafters judged right, but what is listed with why."""

from pathlib import Path

import pytest

from tests.release.test_bad_input import findings_of_pattern

GARMENTS = Path(__file__).parent
KNOWN = {
    "child-hoodie": {
        ("texts", "alike", "pattern", "info"),  # Hoodie is the same word in both languages
        ("booklet", "not-read", "pattern", "info"),
        ("seams-named", "in-no-seam", "pattern", "info"),
    },
    "suit-trousers": {
        ("cutting", "width-step", "back.seat", "warn"),  # a seat inlay tapers, which cannot be said yet
        ("seams-named", "in-no-seam", "pattern", "info"),
        ("masters", "grain-level", "back-belt", "info"),
        ("masters", "grain-level", "waistband-left", "info"),
        ("masters", "grain-level", "waistband-right", "info"),
    },
}


@pytest.mark.parametrize("name", KNOWN)
def test_nothing_else_is_found(name, tmp_path):
    findings = [finding for finding in findings_of_pattern(GARMENTS, name, tmp_path) if finding["severity"] != "skip"]
    found = set()
    for finding in findings:
        place = ".".join(part for part in (finding["piece"], finding["where"]) if part)
        found.add((finding["check"], finding["code"], place or "pattern", finding["severity"]))
    assert found == KNOWN[name]

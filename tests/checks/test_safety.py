"""What is dangerous to children blocks until a human signs it off, and is printed all the same."""

import pytest

from pipeline.checks.cautions import cautions, cords
from pipeline.checks.waivers import waive
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import blocks
from pipeline.model.pattern import Waiver
from pipeline.words import say
from tests.checks.apron import FOLDER, found, garment, notion, pattern, piece, replace, strip


def _told(**said) -> list[tuple[str, str | None, str | None]]:
    return [(f.code, f.piece, f.where) for f in found("safety", garment(**said))]


def test_an_adult_may_wear_cords():
    assert _told(strips=strip("30 cm", cord=True), sleepwear=True) == []


@pytest.mark.parametrize("wearer", ["child", "baby"])
def test_cords_small_parts_and_sleepwear_block(wearer):
    assert _told(wearer=wearer, strips=strip("30 cm", cord=True)) == [("cord", None, "strips.loop")]
    assert _told(wearer=wearer, pieces=piece("band", cord=True)) == [("cord", "band", None)]
    button = notion(count={"S": 1, "M": 1}, small_part=True, cord=False)
    assert _told(wearer=wearer, notions=button) == [("small-part", None, "notions.tape")]
    assert _told(wearer=wearer, sleepwear=True) == [("sleepwear", None, "pattern")]


def test_the_caution_names_its_source():
    (cord,) = found("safety", garment(wearer="child", strips=strip("30 cm", cord=True)))
    assert cord.severity == "block"
    assert all(source in cord.allowed for source in ("16 CFR 1120", "ASTM F1816", "EN 14682"))


def test_strips_and_notions_of_a_child_must_say_what_they_are():
    assert _told(wearer="child", strips=strip("30 cm")) == [("not-said", None, "strips.loop")]
    assert _told(wearer="child", notions=notion(count={"S": 1, "M": 1}, cord=False)) == [
        ("not-said", None, "notions.tape")
    ]
    assert _told(wearer="child", strips=strip("30 cm", cord=False)) == []
    assert _told(wearer="child", notions=notion(count={"S": 1, "M": 1}, cord=False, small_part=False)) == []


def test_a_waiver_signs_off_and_leaves_the_caution():
    said = {"wearer": "child", "strips": strip("30 cm", cord=True), "sleepwear": True}
    waivers = tuple(Waiver(check="safety", where=place, why="read") for place in ("strips.loop", "pattern"))
    signed = replace(pattern(), waivers=waivers, **said)
    findings = waive(signed, tuple(found("safety", garment(**said))))
    assert len(findings) == 2
    assert not any(map(blocks, findings))
    texts = cautions(signed, "en")
    assert len(texts) == 2
    assert "Loop" in texts[0]
    assert "16 CFR 1615" in texts[1]


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "nl", "sv"])
def test_what_is_drawn_on_no_page_is_not_said_to_be_no_longer_than_drawn(language):
    """A tie that is a strip is told by its measures, a cord that is bought by its length; a piece is drawn."""
    drawn = replace(pattern(), wearer="child", pieces=piece("band", cord=True))
    both = replace(drawn, strips=strip("30 cm", cord=True))
    told = replace(pattern(), wearer="child", strips=strip("30 cm", cord=True))
    names = {name: titles.get(language, titles["en"]) for name, titles in cords(both).items()}
    by_sketch = [say(language, "safety.cord", names=names["band"])]
    by_list = [say(language, "safety.cord-cut", names=names["strips.loop"])]
    assert list(cautions(drawn, language)) == by_sketch
    assert list(cautions(told, language)) == by_list
    assert list(cautions(both, language)) == by_sketch + by_list


def test_cautions_are_told_in_each_language_and_never_to_adults():
    child = replace(pattern(), wearer="baby", strips=strip("30 cm", cord=True))
    assert "Schlaufe" in cautions(child, "de")[0]
    assert "EN 14682" in cautions(child, "de")[0]
    assert cautions(replace(child, wearer="adult"), "en") == ()


def test_a_waiver_can_name_the_pattern_as_a_whole(tmp_path):
    folder = tmp_path / "tea-apron"
    folder.mkdir()
    text = (FOLDER / "pattern.toml").read_text(encoding="utf-8")
    waiver = '\n[[waivers]]\ncheck = "safety"\nwhere = "pattern"\nwhy = "cotton flannel, tested"\n'
    (folder / "pattern.toml").write_text(text + waiver, encoding="utf-8")
    read, findings = load_pattern(folder)
    assert findings == ()
    assert read is not None
    assert read.waivers[0].where == "pattern"

"""A release as a whole: the exact set of files, the same bytes everywhere, and what is left when something fails."""

import json
import os
import shutil
import subprocess
from pathlib import Path

import pytest
from svgpathtools import parse_path

FILES = {
    "CHANGES.md",
    "SHA256SUMS",
    *(f"booklet/{language}-{edition}.pdf" for language in ("en", "de") for edition in ("a4", "letter", "large-print")),
    "data/findings.json",
    "data/pieces.json",
    "exchange/tea-apron.dxf",
    "lays/lays.pdf",
    *(f"lays/shell-{width}-{size}.svg" for width in (1100, 1400) for size in "SM"),
    "manifest.json",
    *(f"preview/{picture}.png" for picture in ("band", "sheet", "skirt")),
    *(f"preview/{language}/{shown}.png" for language in ("en", "de") for shown in ("cover", "cloth", "pieces")),
    *(f"preview/{language}/listing.{kind}" for language in ("en", "de") for kind in ("md", "txt")),
    *(f"print/{paper}.pdf" for paper in ("a0", "a4", "letter", "roll-36in")),
    *(f"print/by-size/{size}-{paper}.pdf" for size in "SM" for paper in ("a0", "a4", "letter", "roll-36in")),
    *(
        f"tables/{language}{name}.csv"
        for language in ("", "de/")
        for name in ("cloth", "cut-list", "notions", "pages", "sizes", "strips")
    ),
    "tables/tables.json",
}


def test_a_bundle_has_these_files_and_no_other(built):
    assert set(built.files()) == FILES
    assert [path.name for path in built.bundle.parent.iterdir()] == ["1.0.0"]


def test_checksums_hold_by_coreutils(built):
    subprocess.run(["sha256sum", "--strict", "--quiet", "-c", "SHA256SUMS"], cwd=built.bundle, check=True)
    listed = {line.split("  ")[1] for line in (built.bundle / "SHA256SUMS").read_text().splitlines()}
    assert listed == FILES - {"SHA256SUMS", "manifest.json"}


def test_pieces_json_has_the_measures_of_the_masters(built):
    data = json.loads((built.bundle / "data/pieces.json").read_text())
    skirt = data["sizes"]["M"]["pieces"]["skirt"]
    assert (data["format"], data["pattern"], data["version"]) == (1, "tea-apron", "1.0.0")
    assert skirt["edges"]["waist"]["length_mm"] == pytest.approx(320, abs=0.001)
    assert skirt["edges"]["side"]["length_mm"] == pytest.approx(
        parse_path("M340 20 C340 170 360 320 370 470").length(), abs=0.001
    )
    assert skirt["edges"]["middle"] | {"length_mm": 0, "gross_length_mm": 0} == {
        "length_mm": 0,
        "gross_length_mm": 0,
        "allowance_mm": 0.0,
        "cut_length_mm": 0.0,
        "fold": True,
    }
    assert skirt["notches"] == [{"name": "mid-waist", "edge": "waist", "at_mm": 160.0}]
    assert (skirt["on_fold"], skirt["cut"]) == (True, [{"material": "shell", "count": 1, "mirrored": 0}])


def test_the_same_source_gives_the_same_bytes_in_another_folder_hash_seed_and_time_zone(built, tmp_path: Path):
    other = type(built)(tmp_path / "elsewhere")
    done = other.run(hash_seed="4242", zone="Pacific/Auckland")
    assert done.returncode == 0, done.text
    assert other.files() == built.files()


def test_a_second_run_does_nothing_and_a_touched_file_neither(workroom):
    assert workroom.run().returncode == 0
    assert "Nothing to be done" in workroom.run().text
    os.utime(workroom.pattern / "sizes/M/band.svg")
    assert "Nothing to be done" in workroom.run().text


def test_a_changed_master_rebuilds_its_size_and_what_is_made_of_it(workroom):
    assert workroom.run().returncode == 0
    workroom.edit("sizes/M/skirt.svg", 'cx="140"', 'cx="150"')
    told = workroom.run("--dry-run", "--quiet", "progress").text
    assert "pieces/M.json" in told
    assert "pieces/S.json" not in told.replace("input: ", "input:").split("output:", 1)[1].split("log:", 1)[0]
    assert workroom.run().returncode == 0


def test_a_text_of_the_booklet_rebuilds_booklets_and_bundle_and_nothing_else(workroom):
    text = workroom.pattern / "booklet/en.md"
    text.parent.mkdir()
    text.write_text("# Sew\n\n1. Join {{ seam waist }}.\n", encoding="utf-8")
    assert workroom.run().returncode == 0
    before, printed = _receipts(workroom), workroom.files()
    workroom.edit("booklet/en.md", "Join", "Sew")
    assert workroom.run().returncode == 0
    assert {name for name, at in _receipts(workroom).items() if before[name] != at} == {"findings", "booklet", "bundle"}
    changed = {name for name, data in workroom.files().items() if printed[name] != data}
    of_english = {f"booklet/en-{edition}.pdf" for edition in ("a4", "letter", "large-print")}
    assert changed == {*of_english, "manifest.json", "SHA256SUMS"}


def test_a_logo_rebuilds_what_shows_it_and_cuts_and_draws_nothing(workroom):
    logo = workroom.pattern / "booklet/logo.svg"
    logo.parent.mkdir()
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm">'
    logo.write_text(f'{head}<circle cx="10" cy="10" r="9" fill="#1f5a57"/></svg>', encoding="utf-8")
    assert workroom.run().returncode == 0
    before, printed = _receipts(workroom), workroom.files()
    workroom.edit("booklet/logo.svg", "#1f5a57", "#7a0019")
    assert workroom.run().returncode == 0
    again = {name for name, at in _receipts(workroom).items() if before[name] != at}
    pages = {f"print-{paper}" for paper in ("a4", "letter", "a0", "roll-36in")}
    after_pages = {"tables", "archives"}
    showing = {*pages, "by-size-S", "by-size-M", "booklet", "listing", "findings", "bundle"}
    assert again - after_pages == showing, "no size is cut and nothing drawn, laid or arranged"
    changed = {name for name, data in workroom.files().items() if printed[name] != data}
    covers = {f"preview/{language}/cover.png" for language in ("en", "de")}
    others = {name for name in changed if not name.startswith(("print/", "booklet/"))}
    assert others == {*covers, "manifest.json", "SHA256SUMS"}
    assert changed >= {"print/a4.pdf", "print/by-size/S-a4.pdf", "booklet/en-a4.pdf"}
    workroom.edit("booklet/logo.svg", 'r="9"', 'r="19"')
    refused = workroom.run()
    assert refused.returncode == 1
    assert "beyond the drawing's page" in refused.text


def _receipts(workroom) -> dict[str, int]:
    """When each job of the pattern wrote its receipt."""
    return {path.stem: path.stat().st_mtime_ns for path in (workroom.work / "tea-apron/receipts").glob("*.json")}


def test_a_bundle_that_was_harmed_is_told_and_put_back_to_the_same_bytes(workroom):
    assert workroom.run().returncode == 0
    good = workroom.files()
    file = workroom.bundle / "print/a4.pdf"
    harms = {
        "deleted": lambda: shutil.rmtree(workroom.bundle),
        "truncated": lambda: file.write_bytes(file.read_bytes()[:1000]),
        "edited": lambda: file.write_bytes(file.read_bytes().replace(b"4", b"5", 1)),
        "stray": lambda: (workroom.bundle / "note.txt").write_text("stray"),
    }
    for name, harm in harms.items():
        harm()
        assert workroom.run("verify").returncode == 1, name
        assert workroom.run().returncode == 0
        assert workroom.files() == good, name
    assert workroom.run("verify").returncode == 0


def test_a_build_that_fails_leaves_the_last_good_bundle_whole(workroom):
    assert workroom.run().returncode == 0
    good = workroom.files()
    workroom.edit("sizes/M/band.svg", "M340 20 V60", "M340 20 V90")
    done = workroom.run()
    assert done.returncode == 1
    assert "sizes/M/band.svg" in done.text
    assert "Traceback" not in done.text
    assert workroom.files() == good
    findings = json.loads((workroom.work / "tea-apron/findings.json").read_text())["findings"]
    assert any(f["severity"] == "block" and f["size"] == "M" and f["piece"] == "band" for f in findings)


def test_one_bad_pattern_does_not_stop_the_others(workroom):
    shutil.copytree(workroom.pattern, workroom.source / "apron-two")
    shutil.copytree(workroom.pattern, workroom.source / "apron-three")
    workroom.edit("../apron-two/sizes/S/skirt.svg", 'id="hem" d="', 'id="hem" d="M')
    workroom.edit("../apron-three/pattern.toml", "format = 1", "format = one")
    done = workroom.run()
    assert done.returncode == 1
    assert "Traceback" not in done.text
    assert (workroom.bundle / "print/a4.pdf").is_file()
    assert not (workroom.release / "apron-two").exists()
    for name in ("apron-two", "apron-three"):
        findings = json.loads((workroom.work / name / "findings.json").read_text())["findings"]
        assert any(f["severity"] == "block" for f in findings), name


def test_check_prints_nothing_on_paper(workroom):
    assert workroom.run("check").returncode == 0
    assert not workroom.release.exists()
    workroom.edit("sizes/M/band.svg", "H340", "H345")
    workroom.edit("sizes/M/band.svg", "M340", "M345")
    done = workroom.run("check")
    assert done.returncode == 1
    assert "seams.waist" in done.text


@pytest.mark.parametrize(
    ("config", "said"),
    [
        (("pattern=coat",), "No pattern is called coat"),
        (("colour=red",), "colour= means nothing here"),
    ],
)
def test_a_run_that_cannot_start_says_why(workroom, config, said: str):
    done = workroom.run(config=config)
    assert done.returncode == 1
    assert said in done.text
    assert "Traceback" not in done.text

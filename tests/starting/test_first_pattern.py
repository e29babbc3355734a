"""From an empty folder and a drawing to a checked bundle, by the words of `source/README.md` and by nothing else."""

import json
import os
import re
import stat
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FENCED = re.compile(r"^```(\w+)(?: (\S+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PROGRAM = f"""#!{sys.executable}
import sys
sys.path.insert(0, {str(ROOT)!r})
from pipeline.console import main
here = [] if sys.argv[1] == "start" else ["--source", "source", "--release", "release", "--work", ".work"]
main([*sys.argv[1:], *here])
"""
"""The program as an installation in this folder has it: with the folder's own source and release."""


def section(title: str) -> str:
    """What stands under a heading."""
    _, _, rest = (ROOT / "source/README.md").read_text(encoding="utf-8").partition(f"\n## {title}\n")
    return rest.partition("\n## ")[0]


def installed(folder: Path) -> None:
    program = folder / ".venv/bin/pattern-release"
    program.parent.mkdir(parents=True)
    program.write_text(PROGRAM, encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)


def run(command: str, folder: Path) -> str:
    ended = subprocess.run(command, shell=True, cwd=folder, capture_output=True, text=True, env=dict(os.environ))
    assert ended.returncode == 0, f"{command}\n{ended.stdout}{ended.stderr}"
    return ended.stdout


def test_who_does_what_the_page_says_has_a_bundle_that_is_checked(tmp_path):
    installed(tmp_path)
    said = []
    for kind, file, text in FENCED.findall(section("Your first pattern")):
        if kind == "sh":
            said += [run(command, tmp_path) for command in text.splitlines()]
            continue
        assert file, f"a block of {kind} says to which file it belongs"
        assert (tmp_path / file).exists() == (file != "tote.svg"), "what is filled in was written by start"
        (tmp_path / file).write_text(text, encoding="utf-8")
    started, checked, _, verified = said
    assert "next: .venv/bin/pattern-release check" in started
    assert (tmp_path / "source/tote/edges/panel.png").is_file()
    assert "\n  look at: " not in checked
    assert "tote 1.0.0: every file is as its manifest says" in verified
    manifest = json.loads((tmp_path / "release/tote/1.0.0/manifest.json").read_bytes())
    assert {"print/a4.pdf", "booklet/en-a4.pdf"} <= {each["path"] for each in manifest["files"]}

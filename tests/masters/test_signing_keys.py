"""What a pattern is signed with is read alone where nothing else of it is asked, as the whole pattern has it."""

from pathlib import Path

from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.signing import signing_keys

GOOD = Path(__file__).parent / "toml_cases/good.toml"


def folder_with(path: Path, text: str) -> Path:
    folder = path / "skirt"
    folder.mkdir()
    (folder / "pattern.toml").write_text(text, encoding="utf-8")
    return folder


def test_keys_are_those_of_the_whole_pattern(tmp_path):
    folder = folder_with(tmp_path, GOOD.read_text(encoding="utf-8"))
    pattern, told = load_pattern(folder)
    assert pattern is not None, told
    assert signing_keys(folder) == pattern.sign
    assert len(pattern.sign) >= 1


def test_a_pattern_that_is_not_signed_has_none(tmp_path):
    assert signing_keys(folder_with(tmp_path, 'format = 1\n[pattern]\ntitle = "Skirt"\n')) == ()

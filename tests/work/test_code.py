"""A digest of code holds what a module imports, in whatever package it lies, and nothing else."""

import pytest

from pipeline.work import code

FILES = {
    "pipeline/__init__.py": "",
    "pipeline/step.py": "from pipeline.room.inner.deep import draw\n",
    "pipeline/room/__init__.py": '"""A room."""\n',
    "pipeline/room/shared.py": "WIDTH_MM = 1\n",
    "pipeline/room/inner/__init__.py": '"""A package of the room."""\n',
    "pipeline/room/inner/deep.py": "from pipeline.room import shared\nfrom pipeline.room.other import (\n    far,\n)\n",
    "pipeline/room/other/__init__.py": "",
    "pipeline/room/other/far.py": "FAR = 1\n",
    "pipeline/room/other/data.toml": "a = 1\n",
    "pipeline/room/third/__init__.py": "",
    "pipeline/room/third/unused.py": "UNUSED = 1\n",
}


@pytest.fixture
def step_digest(tmp_path, monkeypatch):
    """The digest of a step in a tree of its own, in which a file is other than it was."""
    monkeypatch.setattr(code, "ROOT", tmp_path)

    def digest(changed: str = "") -> str:
        for name, text in FILES.items():
            file = tmp_path / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(text + "# changed\n" * (name == changed), encoding="utf-8")
        for function in (code.code_digest, code._file, code._content, code._imports):
            function.cache_clear()
        return code.code_digest("pipeline.step")

    yield digest
    for function in (code.code_digest, code._file, code._content, code._imports):
        function.cache_clear()


@pytest.mark.parametrize("changed", [name for name in FILES if "third" not in name])
def test_what_is_imported_through_packages_counts(step_digest, changed):
    assert step_digest(changed) != step_digest()


@pytest.mark.parametrize("changed", [name for name in FILES if "third" in name])
def test_a_package_that_is_not_imported_does_not_count(step_digest, changed):
    assert step_digest(changed) == step_digest()


@pytest.mark.parametrize("changed", list(FILES))
def test_any_file_counts_for_the_whole_program(step_digest, changed):
    def whole(name: str = "") -> str:
        step_digest(name)
        return code.program_digest()

    assert whole(changed) != whole()
    assert whole() == whole()

"""Draws the masters of the demo patterns anew: `python source/redraw.py` writes what every draft.py draws."""

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from typing import cast

SOURCE = Path(__file__).resolve().parent


def drawn_texts(pattern: str) -> dict[str, str]:
    """The masters that `source/<pattern>/draft.py` draws, by their path within the pattern's folder."""
    for folder in (SOURCE, SOURCE / pattern):
        if str(folder) not in sys.path:
            sys.path.insert(0, str(folder))
    spec = importlib.util.spec_from_file_location(f"draft_{pattern.replace('-', '_')}", SOURCE / pattern / "draft.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return cast(Callable[[], dict[str, str]], module.masters)()


def main() -> None:
    for script in sorted(SOURCE.glob("*/draft.py")):
        folder = script.parent
        texts = drawn_texts(folder.name)
        for stale in sorted(folder.glob("sizes/*/*.svg")):
            if stale.relative_to(folder).as_posix() not in texts:
                stale.unlink()
        for name, text in texts.items():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
        print(f"{folder.name}: {len(texts)} masters")


if __name__ == "__main__":
    main()

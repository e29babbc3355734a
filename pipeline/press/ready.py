"""What a process does before it loads cairo: the shipped fonts alone are seen, and cairo's declarations are at hand.

cairocffi parses the C declarations of cairo whenever it is imported, which takes longer than composing a page does.
They are parsed once a work folder, and written as cffi writes what it parsed ("out-of-line ABI mode" of its manual).
"""

import hashlib
import io
import sys
from contextlib import redirect_stdout
from importlib.util import find_spec, module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import _cffi_backend

from pipeline.drawing.fonts import use_own_fonts
from pipeline.work.files import write

_DECLARATIONS = "cairocffi.ffi"


def make_ready(run_folder: Path) -> None:
    """To be called before a process imports what draws with cairo. `run_folder` is where a run has what is its own."""
    use_own_fonts(run_folder)
    if _DECLARATIONS not in sys.modules and (cairo := find_spec("cairocffi")) is not None and cairo.origin is not None:
        sys.modules[_DECLARATIONS] = declarations(Path(cairo.origin).with_name("ffi.py"), run_folder / "compiled")


def declarations(source: Path, folder: Path) -> ModuleType:
    """The module that `source` would be, parsed before or, where what is in the folder is of other code, now."""
    depends_on = (source.read_bytes(), _cffi_backend.__version__.encode(), sys.version.encode())
    file = folder / f"cairo-{hashlib.sha256(b'-'.join(depends_on)).hexdigest()[:16]}.py"
    if not file.is_file():
        write(file, _parsed(source))
    return _module(file)


def _parsed(source: Path) -> bytes:
    ffi, text = _module(source).ffi, io.StringIO()
    ffi.set_source(_DECLARATIONS, None)
    with redirect_stdout(io.StringIO()):
        ffi.emit_python_code(text)
    return text.getvalue().encode()


def _module(file: Path) -> ModuleType:
    spec = spec_from_file_location(_DECLARATIONS, file)
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module

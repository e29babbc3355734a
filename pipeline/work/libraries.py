"""Versions of what can change the bytes of a bundle, asked of the libraries without loading their wrappers."""

import ctypes
import sys
import zlib
from functools import cache
from importlib.metadata import version

_PACKAGES = ("cairocffi", "numpy", "pikepdf", "shapely", "typst")
_OTHERS = ("defusedxml", "ezdxf", "markdown-it-py", "mdit-py-plugins", "msgspec", "spyrrow", "tinycss2")
"""Those that are not told with a bundle: its bytes come from them too."""
_CAIRO = ("libcairo.so.2", "libcairo.2.dylib")
_FREETYPE = ("libfreetype.so.6", "libfreetype.6.dylib")
UNKNOWN = "unknown"


def made_with() -> dict[str, str]:
    """Versions by name: Python packages, then cairo, FreeType and zlib, which draw and compress."""
    packages = {name: version(name) for name in _PACKAGES}
    return {**packages, "cairo": cairo_version() or UNKNOWN, "freetype": _freetype(), "zlib": zlib.ZLIB_RUNTIME_VERSION}


@cache
def all_versions() -> tuple[str, ...]:
    """Python's and every library's: with another version all is made anew, and nothing that was saved counts."""
    return sys.version, *made_with().values(), *map(version, _OTHERS)


def cairo_version() -> str | None:
    """Cairo's own version; None where it is not installed."""
    library = _library(_CAIRO)
    if library is None:
        return None
    library.cairo_version_string.restype = ctypes.c_char_p
    return library.cairo_version_string().decode()


def _freetype() -> str:
    library, handle = _library(_FREETYPE), ctypes.c_void_p()
    if library is None or library.FT_Init_FreeType(ctypes.byref(handle)) != 0:
        return UNKNOWN
    parts = [ctypes.c_int() for _ in range(3)]
    library.FT_Library_Version(handle, *map(ctypes.byref, parts))
    library.FT_Done_FreeType(handle)
    return ".".join(str(part.value) for part in parts)


def _library(names: tuple[str, ...]) -> ctypes.CDLL | None:
    for name in names:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    return None

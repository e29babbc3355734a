"""Hostile files, and demo files changed by lot."""

import random
import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.masters.svg_samples import CASES as SVG_CASES
from tests.masters.test_pattern_bounds import BOMBS as TEXT_BOMBS
from tests.masters.test_source_file import NO_FILES
from tests.release.test_bad_input import BOMBS, CASES, DATA

Mutation = Callable[[bytes, random.Random], bytes]
MASTER = "sizes/M/band.svg"
_TOKENS = (
    *(b"0", b"-", b".", b"e9", b"1e308", b"nan", b"inf", b"%", b"mm", b"<", b">", b'"', b"/", b"&", b"&#65;", b"\x00"),
    *(b"M", b"A", b"Z", b"m", b"c", b"#", b"]]>", b"<!--", b"<g>", b"</g>", b' id="a"', b' transform="scale(-1)"'),
    *(b"\xff", b"\xc3\xa9", b' display="none"', b'<use href="#seam"/>', b" ", b"\n", b"=", b"[", b"]", b"{", b"true"),
)
_NUMBER = re.compile(rb"-?[0-9]+(?:\.[0-9]+)?")
_ODD_NUMBERS = (
    b"0",
    b"-1",
    b"1e9",
    b"1e-9",
    b"1e400",
    b"99999999999999999999",
    b"0.0001",
    b"7",
    b"-0.0",
    b"45",
    b"360",
)


def hostile_files() -> Iterator[tuple[str, str, Callable[[Path], object]]]:
    """(name, file of the small pattern, what makes it): more than 150."""
    for path in sorted(SVG_CASES.glob("*.svg")):
        yield path.stem, MASTER, lambda target, path=path: target.write_bytes(path.read_bytes())
    for name, case in CASES.items():
        if "new" in case and "old" not in case:
            yield name, case["file"], lambda target, case=case: target.write_text(case["new"], encoding="utf-8")
        if "whole" in case:
            yield name, case["file"], lambda target, case=case: target.write_bytes((DATA / case["whole"]).read_bytes())
    for name, (file, text) in BOMBS.items():
        yield name, file, lambda target, text=text: target.write_text(text(), encoding="utf-8")
    for name, bomb in TEXT_BOMBS.items():
        yield name, "pattern.toml", lambda target, bomb=bomb: target.write_text(bomb()[1], encoding="utf-8")
    for case in NO_FILES:
        for file in (MASTER, "pattern.toml", "CHANGES.md", "lays.json", "layout.json"):
            yield f"{case.id} as {file}", file, case.values[0]
    faults = tomllib.loads((Path(__file__).parents[1] / "masters/toml_cases/faults.toml").read_text(encoding="utf-8"))
    good = (Path(__file__).parents[1] / "masters/toml_cases/good.toml").read_text(encoding="utf-8")
    for name, fault in faults.items():
        if "old" in fault and fault["old"] in good:
            text = good.replace(fault["old"], fault["new"])
            yield name, "pattern.toml", lambda target, text=text: target.write_text(text, encoding="utf-8")


def mutated_master(data: bytes, chance: random.Random) -> bytes:
    """One to four changes: of numbers and lines alone, which leaves more files that can be read, or of bytes too."""
    changed = bytearray(data)
    ways = chance.choice(((_number, _number, _number, _line), (_number,), (_bytes, _bytes, _number, _line)))
    for _ in range(chance.randint(1, 4)):
        chance.choice(ways)(changed, chance)
    return bytes(changed)


def mutated_text(data: bytes, chance: random.Random) -> bytes:
    """One to four changes of bytes, numbers or whole lines of a pattern.toml."""
    return mutated_master(data, chance)


def _bytes(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(len(data))
    kind = chance.randrange(4)
    if kind == 0:
        del data[at : at + chance.randint(1, 30)]
    elif kind == 1:
        data[at:at] = chance.choice(_TOKENS)
    elif kind == 2:
        data[at : at + 1] = chance.choice(_TOKENS)
    else:
        data[at:at] = data[at : at + chance.randint(1, 60)]
    if not data:
        data.extend(b" ")


def _number(data: bytearray, chance: random.Random) -> None:
    found = list(_NUMBER.finditer(bytes(data)))
    if found:
        match = chance.choice(found)
        odd = chance.random() < 0.5
        new = chance.choice(_ODD_NUMBERS) if odd else f"{float(match[0]) + chance.uniform(-5, 5):.3f}".encode()
        data[match.start() : match.end()] = new


def _line(data: bytearray, chance: random.Random) -> None:
    lines = bytes(data).split(b"\n")
    at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    kind = chance.randrange(3)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(at, lines[other])
    else:
        lines[at], lines[other] = lines[other], lines[at]
    data[:] = b"\n".join(lines) or b" "


def told_otherwise(data: bytes, chance: random.Random) -> bytes:
    """The same drawing in other words: one to three of the ways below."""
    text = data.decode()
    for way in chance.sample(_WAYS, chance.randint(1, 3)):
        text = way(text, chance)
    encoding = chance.choice(("utf-8", "utf-8", "utf-16", "iso-8859-1", "us-ascii"))
    text = f'<?xml version="1.0" encoding="{encoding}"?>\n' + re.sub(r"^<\?xml[^>]*\?>\s*", "", text)
    return text.encode(encoding, "xmlcharrefreplace")


def _there_and_back(text: str, chance: random.Random) -> str:
    angle, x, y = chance.uniform(-180, 180), chance.uniform(-1e4, 1e4), chance.choice((1e3, 1e6, 1e9, 1e13, 1e15))
    there = f"rotate({angle:.3f}) translate({x:.3f} {y:.3f}) scale(2 4)"
    back = f"scale(.5 .25) translate({-x:.3f},{-y:.3f}) rotate({-angle:.3f})"
    return _around(text, f'<g transform="{there}"><g transform="{back}">', "</g></g>")


def _hidden_besides(text: str, chance: random.Random) -> str:
    edge = '<g id="seam"><path id="ghost" d="M0 0H9"/></g>'
    hidden = (
        f'<g display="none">{edge}</g>',
        f'<g style="display: none !important; display: inline">{edge}</g>',
        f'<style>.no{{visibility:hidden!important}}</style><g class="no" style="visibility:visible">{edge}</g>',
        f"<defs>{edge.replace('id=', 'data-name=')}</defs>",
        f"<style>g{{fill:none; .no{{display:none}}}}</style><g class='no'>{edge}</g>",
    )
    return _around(text, "", chance.choice(hidden).replace('id="seam"', 'data-name="seam"'))


def _around(text: str, before: str, after: str) -> str:
    start = text.index(">", text.index("<svg")) + 1
    end = text.rindex("</svg>")
    return text[:start] + before + text[start:end] + after + text[end:]


def _other_numbers(text: str, chance: random.Random) -> str:
    """Coordinates of path data with exponents, signs and commas."""

    def data(match: re.Match[str]) -> str:
        return ' d="' + re.sub(r"(?<![\w.])[0-9]+\.[0-9]+", lambda n: f"{float(n[0]) / 100:.10f}e+2", match[1]) + '"'

    return re.sub(r' d="([^"]*)"', data, text)


def _doubled_page(text: str, chance: random.Random) -> str:
    """The drawing at half its size on a page that shows it at twice."""
    return _around(text, '<g transform="matrix(2 0 0 2 0 0)"><g transform="scale(0.5)">', "</g></g>")


def _by_use(text: str, chance: random.Random) -> str:
    x = chance.choice((0.0, 12.5, 1e4, 1e14))
    before, after = (
        f'<defs><g id="all-of-it" transform="translate({-x})">',
        f'</g></defs><use href="#all-of-it" x="{x}"/>',
    )
    return _around(text, before, after)


def _entities(text: str, chance: random.Random) -> str:
    """Names in numeric characters."""
    return re.sub(
        r' (id|data-name)="([A-Za-z]+)"',
        lambda match: f' {match[1]}="' + "".join(f"&#{ord(letter)};" for letter in match[2]) + '"',
        text,
    )


_WAYS = (_there_and_back, _hidden_besides, _other_numbers, _doubled_page, _by_use, _entities)

"""What facts say of cloth, strips and allowances, in the reader's words: facts are kept in ids and mm, first metric.

They are read by the forms in which `ledger/measure.py` writes them; what has another form, as an older ledger may, is
told as it stands.
"""

import re

from pipeline.drawing.wording import in_decimals, length_words, told_of
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern, in_language
from pipeline.words import say

_CLOTH = re.compile(r"(?:(?P<view>[^:]+): )?(?P<material>\S+) (?P<mm>[\d.]+) mm wide(?P<one_way>, one way)?")
_LENGTH = re.compile(r"(?P<metric>[^()]+) \((?P<imperial>[^()]+)\)(?:, (?P<way>fold|two-folds|partial-fold))?")
_STRIP = re.compile(r"(?:(?P<view>[^:]+): )?(?P<strip>\S+) of (?P<material>\S+)")
_STRIPS = re.compile(r"(?P<count>\d+) of (?P<wide>[\d.]+) mm x (?P<long>[\d.]+) mm, (?P<grain>along|across|bias|any)")
_MM = re.compile(r"(?P<first>[\d.]+) mm(?: \.\. (?P<last>[\d.]+) mm)?")
_SUM = re.compile(r"(?P<first>[\d.]+) mm \+ (?P<last>[\d.]+) mm")
_WAYS = {"fold": "folded", "two-folds": "two-folds", "partial-fold": "partial-fold"}
_MARK = re.compile(r"^\W+")
"""Notes of the cloth table begin with the mark that stands at a length there."""


def row_name(pattern: Pattern, name: str, language: str) -> str:
    """A row of cloth or of strips: "main cloth, 45 in (114 cm) wide, one way", "Hanging loop (main cloth)"."""
    if cloth := _CLOTH.fullmatch(name):
        width = in_decimals(language, cloth_width(float(cloth["mm"]), pattern.units))
        parts = [_material(pattern, cloth["material"], language), say(language, "cloth.width", width=width)]
        parts += [say(language, "cloth.one-way")] if cloth["one_way"] else []
        return ", ".join(parts + _view(pattern, cloth["view"], language))
    if strip := _STRIP.fullmatch(name):
        spec = pattern.strips.get(strip["strip"])
        title = in_language(spec.title, language) if spec else strip["strip"]
        told = [_material(pattern, strip["material"], language), *_view(pattern, strip["view"], language)]
        return f"{title} ({', '.join(told)})"
    return name


def row_values(pattern: Pattern, before: str, after: str, language: str) -> tuple[str, str]:
    """What was and what is, the pattern's own units first; how cloth lies is told where that changed."""
    one, other = _LENGTH.fullmatch(before), _LENGTH.fullmatch(after)
    ways = one is None or other is None or one["way"] != other["way"]
    return _value(pattern, before, ways, language), _value(pattern, after, ways, language)


def _value(pattern: Pattern, text: str, with_way: bool, language: str) -> str:
    if length := _LENGTH.fullmatch(text):
        metric, imperial = length["metric"], length["imperial"]
        told = f"{metric} ({imperial})" if pattern.units == "metric" else f"{imperial} ({metric})"
        way = _MARK.sub("", say(language, f"cloth.{_WAYS.get(length['way'], 'one-layer')}-mark")).rstrip(".")
        return told_of(language, in_decimals(language, told), way) if with_way else in_decimals(language, told)
    if strips := _STRIPS.fullmatch(text):
        sides = " × ".join(length_words(language, float(strips[side]), pattern.units) for side in ("wide", "long"))
        return f"{strips['count']} × {sides}, {say(language, 'strips.' + strips['grain'])}"
    if added := _SUM.fullmatch(text):
        return " + ".join(length_words(language, float(part), pattern.units) for part in added.groups())
    if measured := _MM.fullmatch(text):
        ends = [length_words(language, float(end), pattern.units) for end in measured.groups() if end]
        return " – ".join(ends)
    return in_decimals(language, text)


def _material(pattern: Pattern, name: str, language: str) -> str:
    material = pattern.materials.get(name)
    return in_language(material.title, language) if material else name


def _view(pattern: Pattern, name: str | None, language: str) -> list[str]:
    view = pattern.views.get(name) if name else None
    return [in_language(view.title, language) if view else name] if name else []

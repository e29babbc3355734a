"""Reading plain TOML values as the typed tables of `document`, leaf by leaf, so that every fault is found.

A value that cannot be used is told, marked as spoiled and replaced by its default or by a blank of its type: the
result is always whole, and is only trusted where nothing was told.
"""

import math
import re
from collections.abc import Sized
from functools import cache
from typing import Any, NamedTuple

from msgspec import inspect as kinds

from pipeline.masters.toml.document import Document
from pipeline.masters.toml.faults import Faults, KeyPath, item, nearest, shown

MOST_ENTRIES = 500
"""Entries of a list or table that says nothing else: a coat with its lining has 60 pieces and 150 seams."""


class _Expected(NamedTuple):
    """What a type's annotation says for people: what is expected, the code of a fault, the unit that is missing."""

    title: str = ""
    code: str = "bad-value"
    unit: str | None = None


def read_document(values: dict[str, Any], faults: Faults) -> Document:
    """All of the file, typed; faults are told to `faults`."""
    return _read(_document_kind(), values, (), faults, _Expected())


@cache
def _document_kind() -> kinds.Type:
    return kinds.type_info(Document)


def _read(kind: kinds.Type, value: Any, path: KeyPath, faults: Faults, expected: _Expected) -> Any:
    while isinstance(kind, kinds.Metadata):
        expected = _expected(kind, expected)
        kind = kind.type
    if isinstance(kind, kinds.UnionType):
        return _read_union(kind, value, path, faults, expected)
    if isinstance(kind, kinds.StructType) and isinstance(value, dict):
        return _read_table(kind, value, path, faults)
    if isinstance(kind, kinds.DictType) and isinstance(value, dict):
        return _read_entries(kind, value, path, faults)
    if isinstance(kind, kinds.VarTupleType) and isinstance(value, list):
        return _read_list(kind, value, path, faults, expected)
    if _fits(kind, value):
        return float(value) if isinstance(kind, kinds.FloatType) else value
    _tell_misfit((kind,), value, path, faults, expected)
    return _blank(kind)


def _expected(kind: kinds.Metadata, inner: _Expected) -> _Expected:
    title = (kind.extra_json_schema or {}).get("title", inner.title)
    extra = kind.extra or {}
    return _Expected(title, extra.get("code", inner.code), extra.get("unit", inner.unit))


def _read_union(kind: kinds.UnionType, value: Any, path: KeyPath, faults: Faults, expected: _Expected) -> Any:
    bare = [_unwrapped(option) for option in kind.types]
    for option, inside in zip(kind.types, bare, strict=True):
        if isinstance(inside, kinds.StructType | kinds.DictType) and isinstance(value, dict):
            return _read(option, value, path, faults, expected)
        if isinstance(inside, kinds.VarTupleType) and isinstance(value, list):
            return _read(option, value, path, faults, expected)
        if _fits(inside, value):
            return value
    _tell_misfit(tuple(bare), value, path, faults, expected)
    return _blank(kind)


def _read_table(kind: kinds.StructType, values: dict[str, Any], path: KeyPath, faults: Faults) -> Any:
    fields = {field.encode_name: field for field in kind.fields}
    for key in values:
        if key not in fields:
            close = None if faults.full else nearest(key, fields)
            remedy = f'Did you mean "{close}"?' if close else f"Take it out; {_keys(fields)}"
            if close and close not in values:
                faults.spoil((*path, close))
            faults.tell(
                (*path, key), "unknown-key", "is not a key of the format.", remedy, found=key, allowed=close or ""
            )
    read: dict[str, Any] = {}
    for key, field in fields.items():
        below = (*path, key)
        if key in values:
            told = _read(field.type, values[key], below, faults, _Expected())
            if field.required or not faults.spoiled(below):
                read[field.name] = told
        elif field.required:
            if not faults.spoiled(below):
                title = _title(field.type)
                allowed = title or "a value"
                faults.tell(
                    below, "missing-key", "is missing.", f"Write it: {allowed}.", found="nothing", allowed=allowed
                )
            faults.spoil(below)
            read[field.name] = _blank(field.type)
    return kind.cls(**read)


def _read_entries(kind: kinds.DictType, values: dict[str, Any], path: KeyPath, faults: Faults) -> dict[str, Any]:
    if _too_many(kind, values, path, faults):
        return {}
    key_kind = _unwrapped(kind.key_type)
    key_expected = _expected_of(kind.key_type)
    for key in values:
        if not _fits(key_kind, key):
            allowed = key_expected.title
            remedy = f"Rename it to {allowed}."
            message = f"is not {allowed}."
            faults.tell((*path, key), key_expected.code, message, remedy, found=shown(key), allowed=allowed)
    return {key: _read(kind.value_type, value, (*path, key), faults, _Expected()) for key, value in values.items()}


def _read_list(
    kind: kinds.VarTupleType, values: list[Any], path: KeyPath, faults: Faults, expected: _Expected
) -> tuple[Any, ...]:
    if _too_many(kind, values, path, faults):
        return ()
    if len(values) < (kind.min_length or 0):
        _tell_misfit((kind,), values, path, faults, expected)
    return tuple(
        _read(kind.item_type, value, (*path, item(position)), faults, _Expected())
        for position, value in enumerate(values)
    )


def _too_many(kind: kinds.DictType | kinds.VarTupleType, values: Sized, path: KeyPath, faults: Faults) -> bool:
    """Tell of more entries than any garment has."""
    most = kind.max_length or MOST_ENTRIES
    if len(values) <= most:
        return False
    faults.spoil(path)
    found, allowed = f"{len(values):,} entries", f"at most {most:,}"
    message, remedy = f"has {found}; {allowed} are read.", "Take out what the garment does not need."
    faults.tell(path, "too-many", message, remedy, found=found, allowed=allowed)
    return True


def _fits(kind: kinds.Type, value: Any) -> bool:
    """Whether a plain value is one of a leaf type, limits and pattern included."""
    if isinstance(kind, kinds.StrType):
        if not isinstance(value, str) or (kind.max_length is not None and len(value) > kind.max_length):
            return False
        return kind.pattern is None or re.fullmatch(kind.pattern, value) is not None
    if isinstance(kind, kinds.BoolType):
        return isinstance(value, bool)
    if isinstance(kind, kinds.LiteralType):
        return isinstance(value, str) and value in kind.values
    if isinstance(value, bool):
        return False
    if isinstance(kind, kinds.IntType):
        return isinstance(value, int) and _within(kind, value)
    if isinstance(kind, kinds.FloatType):
        return isinstance(value, int | float) and _within(kind, value)
    return False


def _within(kind: kinds.IntType | kinds.FloatType, value: float) -> bool:
    if isinstance(value, float) and not math.isfinite(value):
        return False
    above = (kind.ge is None or value >= kind.ge) and (kind.gt is None or value > kind.gt)
    return above and (kind.le is None or value <= kind.le)


def _tell_misfit(
    options: tuple[kinds.Type, ...], value: Any, path: KeyPath, faults: Faults, expected: _Expected
) -> None:
    """Tell that a value fits none of the types that may stand there."""
    faults.spoil(path)
    allowed = expected.title or " or ".join(dict.fromkeys(_words(option) for option in options))
    found = shown(value)
    if isinstance(value, int | float) and not isinstance(value, bool) and expected.unit:
        remedy = f'Write it as text with its unit, as "{found} {expected.unit}" if that is meant.'
        faults.tell(path, "bare-number", f"is {found}, without a unit.", remedy, found=found, allowed=allowed)
        return
    choices = [str(choice) for option in options if isinstance(option, kinds.LiteralType) for choice in option.values]
    close = nearest(value, choices) if isinstance(value, str) and not faults.full else None
    code = expected.code if _same_type(options, value) else "wrong-type"
    remedy = f'Did you mean "{close}"?' if close else f"Write {allowed}."
    faults.tell(path, code, f"is {found}; expected {allowed}.", remedy, found=found, allowed=allowed)


def _same_type(options: tuple[kinds.Type, ...], value: Any) -> bool:
    """Whether the value's type would do, so that its content is at fault."""
    if isinstance(value, bool):
        return False
    texts = any(isinstance(option, kinds.StrType | kinds.LiteralType) for option in options)
    numbers = any(isinstance(option, kinds.FloatType) for option in options)
    whole = numbers or any(isinstance(option, kinds.IntType) for option in options)
    lists = any(isinstance(option, kinds.VarTupleType) for option in options)
    if isinstance(value, str):
        return texts
    if isinstance(value, int):
        return whole
    return (isinstance(value, float) and numbers) or (isinstance(value, list) and lists)


def _words(kind: kinds.Type) -> str:
    """A type in plain words."""
    if isinstance(kind, kinds.LiteralType):
        *others, last = (f'"{value}"' for value in kind.values)
        return f"{', '.join(others)} or {last}" if others else last
    if isinstance(kind, kinds.BoolType):
        return "true or false"
    if isinstance(kind, kinds.VarTupleType):
        inside = _title(kind.item_type)
        some = "at least one entry" if kind.min_length else "entries"
        return f"a list of {some}, each {inside}" if inside else f"a list of {some}"
    if isinstance(kind, kinds.StructType | kinds.DictType):
        return "a table"
    return "text" if isinstance(kind, kinds.StrType) else "a number"


def _title(kind: kinds.Type) -> str:
    return _expected_of(kind).title or (_words(_unwrapped(kind)) if not isinstance(kind, kinds.UnionType) else "")


def _expected_of(kind: kinds.Type) -> _Expected:
    expected = _Expected()
    while isinstance(kind, kinds.Metadata):
        expected = _expected(kind, expected)
        kind = kind.type
    return expected


def _unwrapped(kind: kinds.Type) -> kinds.Type:
    while isinstance(kind, kinds.Metadata):
        kind = kind.type
    return kind


def _blank(kind: kinds.Type) -> Any:
    """A value of the type that stands in for one that cannot be used; never trusted."""
    kind = _unwrapped(kind)
    if isinstance(kind, kinds.UnionType):
        return _blank(kind.types[0])
    if isinstance(kind, kinds.StructType):
        return kind.cls(**{field.name: _blank(field.type) for field in kind.fields if field.required})
    if isinstance(kind, kinds.LiteralType):
        return kind.values[0]
    if isinstance(kind, kinds.DictType):
        return {}
    if isinstance(kind, kinds.VarTupleType):
        return ()
    if isinstance(kind, kinds.StrType):
        return ""
    return False if isinstance(kind, kinds.BoolType) else 0


def _keys(fields: dict[str, Any]) -> str:
    return f"the keys here are {', '.join(fields)}."

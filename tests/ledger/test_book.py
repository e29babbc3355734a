"""The ledger as a file: the same values come back, an edited past shows, and what is no ledger is told."""

from pathlib import Path

import msgspec
import pytest

from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_json, parsed_ledger, read_ledger
from pipeline.ledger.facts import Facts, Measured
from pipeline.ledger.packed import packed, shape_digest, unpacked
from pipeline.ledger.seal import differing, sealed, sealing_date, why_not
from pipeline.masters.source_file import FileFault
from tests.ledger.versions import SHAPES, facts, skirt


def entered(ledger: Ledger, version: str, what: Facts) -> Ledger:
    named = {piece.shape for sizes in what.pieces.values() for piece in sizes.values()}
    measured = Measured(what, {digest: SHAPES[digest] for digest in sorted(named)})
    files = {"print/a4.pdf": version}
    made = Entry(
        version=version,
        date="2026-01-02",
        made_with={"cairo": "1.16.0"},
        files=files,
        facts=measured.facts,
        previous="",
    )
    return sealed(ledger, made, measured, "")


@pytest.fixture
def three() -> Ledger:
    first = entered(Ledger(), "1.0.0", facts())
    second = entered(first, "1.1.0", facts({"42": skirt("42", side=3.0)}))
    return entered(second, "1.1.1", facts({"42": skirt("42", side=3.0)}))


def with_entry(ledger: Ledger, index: int, **other: object) -> Ledger:
    entries = list(ledger.versions)
    entries[index] = msgspec.structs.replace(entries[index], **other)
    return msgspec.structs.replace(ledger, versions=tuple(entries))


def fault_of(ledger: Ledger) -> FileFault:
    fault = parsed_ledger(ledger_json(ledger))
    assert isinstance(fault, FileFault)
    return fault


def test_a_shape_comes_back_from_its_text_and_has_the_name_of_what_it_draws():
    shape = skirt("44", side=1.23)
    assert unpacked(packed(shape)) == shape
    assert shape_digest(packed(shape)) != shape_digest(packed(skirt("44")))


@pytest.mark.parametrize("text", ["", "Zm9v", "ü", packed(skirt("44"))[:-5]])
def test_what_is_no_shape_is_a_value_error(text):
    with pytest.raises(ValueError):  # noqa: PT011
        unpacked(text)


def test_a_ledger_comes_back_from_its_text(three):
    assert parsed_ledger(ledger_json(three)) == three


def test_shapes_that_did_not_change_are_kept_once(three):
    assert len(three.shapes) == 5


def test_an_edited_entry_shows(three):
    fault = fault_of(with_entry(three, 0, date="2020-01-01"))
    assert (fault.code, fault.message) == ("edited", "is not as it was sealed: version 1.0.0 was edited.")


def test_an_entry_that_was_taken_out_shows(three):
    fault = fault_of(msgspec.structs.replace(three, versions=three.versions[1:]))
    assert fault.message.endswith("what stood before version 1.1.0 was edited or taken out.")


def test_an_entry_that_was_edited_and_hashed_again_shows_in_the_next(three):
    first = three.versions[0]
    again = entered(Ledger(), "1.0.0", facts(texts={"pattern.title": {"en": "Other"}})).versions[0]
    assert again.digest != first.digest
    fault = fault_of(msgspec.structs.replace(three, versions=(again, *three.versions[1:])))
    assert fault.message.endswith("what stood before version 1.1.0 was edited or taken out.")


def test_an_edited_shape_shows(three):
    digest = next(iter(three.shapes))
    fault = fault_of(msgspec.structs.replace(three, shapes={**three.shapes, digest: packed(skirt("40", side=9.0))}))
    assert fault.message == "is not as it was sealed: a shape was edited."
    assert fault_of(msgspec.structs.replace(three, shapes={})).found.startswith("no shape")


@pytest.mark.parametrize(
    "data", [b"", b"{", b"[" * 100_000, b'{"format": 2}', b"<<<<<<< HEAD\n", b'{"versions": 3}', b"\xff"]
)
def test_what_is_no_ledger_is_told_with_what_to_do(data, tmp_path: Path):
    (tmp_path / LEDGER).write_bytes(data)
    fault = read_ledger(tmp_path)
    assert isinstance(fault, FileFault)
    assert (fault.code, fault.remedy[:42]) == ("unreadable", "Take ledger.json from your last commit: it")


def test_no_ledger_is_an_empty_one_and_a_folder_is_none(tmp_path: Path):
    assert read_ledger(tmp_path) == Ledger()
    (tmp_path / LEDGER).mkdir()
    fault = read_ledger(tmp_path)
    assert isinstance(fault, FileFault)
    assert fault.code == "not-a-file"


def test_a_version_needs_its_heading_and_a_higher_number(three):
    assert why_not("1.2.0", three, None).startswith("CHANGES.md has no heading for 1.2.0")
    assert why_not("1.2.0", three, "# 1.1.0\n").startswith("CHANGES.md has no heading for 1.2.0")
    assert why_not("1.0.5", three, "# 1.0.5\n").startswith("1.0.5 is not above 1.1.1")
    assert why_not("1.10.0", three, "# 1.10.0\n") is None
    assert why_not("0.1.0", Ledger(), "# 0.1.0\n") is None


def test_the_date_is_that_of_the_source_where_it_is_said():
    assert sealing_date({"SOURCE_DATE_EPOCH": "86400"}) == "1970-01-02"
    assert len(sealing_date({})) == len("1970-01-02")


def test_files_that_differ_came_or_went():
    assert differing({"a": "1", "b": "1", "c": "1"}, {"a": "1", "b": "2", "d": "1"}) == ["b", "c", "d"]

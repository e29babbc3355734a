"""The runner knows no trade; a skipped check and one that fails by itself are not passes."""

import pytest

from pipeline.checks.registry import Outcome, Registry


def _registry(function, needs=()):
    registry = Registry()
    registry.register(
        id="even",
        title="Even numbers",
        rationale="r",
        remedy="mend it",
        severity="warn",
        source="common practice",
        needs=needs,
    )(function)
    return registry


def test_what_a_check_yields_becomes_a_finding_of_its_severity():
    registry = _registry(lambda subject: [Outcome(code="odd", message=str(n)) for n in subject if n % 2])
    findings = registry.run("coat", [1, 2, 3], frozenset())
    assert [(f.check, f.code, f.severity, f.message, f.remedy) for f in findings] == [
        ("even", "odd", "warn", "1", "mend it"),
        ("even", "odd", "warn", "3", "mend it"),
    ]


def test_a_check_without_what_it_needs_is_skipped():
    registry = _registry(lambda subject: [], needs=("seams",))
    assert [(f.code, f.severity) for f in registry.run("coat", None, frozenset())] == [("not-declared", "skip")]
    assert registry.run("coat", None, frozenset({"seams"})) == ()


def test_a_check_that_fails_by_itself_blocks_and_keeps_what_it_had_told():
    def broken(subject):
        yield Outcome(code="odd", message="told before")
        raise ZeroDivisionError

    findings = _registry(broken).run("coat", None, frozenset())
    assert [(f.code, f.severity) for f in findings] == [("odd", "warn"), ("check-failed", "block")]


def test_an_id_is_given_once():
    registry = _registry(lambda subject: [])
    with pytest.raises(ValueError, match="even"):
        registry.register(id="even", title="", rationale="", remedy="", severity="warn", source="")(lambda subject: [])

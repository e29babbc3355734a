"""How findings are told: by severity, sizes merged, nothing that was skipped counted as a pass."""

import tomllib

import msgspec

from pipeline.checks.causes import places_of
from pipeline.checks.telling import size_ranges, tell, to_mend
from pipeline.checks.waivers import matches
from pipeline.model.findings import Finding
from pipeline.model.pattern import BodyMeasure, FinishedMeasure, Range, Reference, Strip, Sum, Term, Waiver
from tests.checks.skirt import PATTERN

replace = msgspec.structs.replace
SIZES = ("34", "36", "38", "40", "42")


def _finding(**values) -> Finding:
    start = {
        "check": "seam-lengths",
        "code": "too-long",
        "severity": "block",
        "pattern": "coat",
        "piece": "sleeve",
        "where": "cap",
        "message": "cap is 3 mm too long",
        "remedy": "shorten it",
    }
    return Finding(**(start | values))


def test_like_findings_of_several_sizes_are_one_line():
    lines = tell([_finding(size=size) for size in ("36", "38", "42")], (SIZES,))
    assert lines == [
        "BLOCKS: sleeve.cap, sizes 36 to 38, 42: cap is 3 mm too long [seam-lengths/too-long]",
        "    shorten it",
        '    or accept it: { check = "seam-lengths", code = "too-long", where = "sleeve.cap", why = "…" },',
    ]


def test_other_objects_at_the_same_place_are_named_and_those_of_other_sizes_are_not():
    findings = [_finding(size=size, object=name) for size in ("36", "38") for name in ("line 3", "line 9")]
    assert tell(findings, (SIZES,))[0].endswith("[seam-lengths/too-long]; so, too, line 9")
    many = [_finding(object=f"line {number}") for number in range(12)]
    assert tell(many, (SIZES,))[0].endswith("line 8, 3 more")


def test_what_blocks_comes_first_and_what_is_accepted_says_why():
    findings = [
        _finding(severity="info", message="by the way", where=None),
        _finding(severity="warn", message="odd", where="hem"),
        _finding(waived="meant so", where="neck"),
        _finding(message="broken"),
    ]
    assert [line.split(":")[0] for line in tell(findings, (SIZES,)) if not line.startswith(" ")] == [
        "BLOCKS",
        "accepted",
        "look at",
        "note",
    ]
    assert "    because: meant so" in tell(findings, (SIZES,))


def test_the_waiver_to_paste_is_one_entry_that_accepts_the_finding():
    finding = _finding(size="36")
    line = tell([finding], (SIZES,))[-1]
    entry = tomllib.loads(f"waivers = [\n{line.removeprefix('    or accept it: ')}\n]")["waivers"][0]
    assert matches(Waiver(**entry), finding)
    assert not matches(Waiver(**entry), _finding(size="38"))


def test_what_nothing_can_accept_has_no_waiver():
    unread = _finding(check="masters", code="edge-unnamed")
    failed = _finding(code="check-failed", piece=None, where=None)
    assert not [line for line in tell([unread, failed], (SIZES,)) if "accept" in line]


def measure(name: str, ease: Range) -> FinishedMeasure:
    return FinishedMeasure(
        name=name, title={"en": name}, sum=Sum("front.hem", (Term(1.0, Reference("front", "hem")),)), ease=ease
    )


PLACES = {
    "seams.neck": frozenset({"band", "front"}),
    "seams.side": frozenset({"front", "back"}),
    "finished.neck": frozenset({"band"}),
}


def _of(check: str, code: str, size: str, severity="warn", piece=None, where=None) -> Finding:
    return _finding(check=check, code=code, size=size, severity=severity, piece=piece, where=where, message=code)


def test_what_follows_from_a_size_that_is_off_stands_beneath_it_whatever_was_found_first():
    findings = [
        _of("seam-lengths", "too-short", "38", "block", where="seams.neck"),
        _of("grading-lengths", "falls", "40", piece="band", where="lower"),
        _of("grading-steps", "off", "38", piece="band", where="upper"),
        _of("finished-measures", "too-small", "38", "block", where="finished.neck"),
        _of("seam-lengths", "too-long", "38", "block", where="seams.side"),
        _of("seam-angles", "bend", "42", where="seams.neck"),
    ]
    lines = tell(findings, (SIZES,), PLACES)
    assert [line for line in lines if line[0] != " "] == [
        "BLOCKS: band.upper, size 38: off [grading-steps/off]",
        "BLOCKS: seams.side, size 38: too-long [seam-lengths/too-long]",
        "look at: seams.neck, size 42: bend [seam-angles/bend]",
    ]
    beneath = lines[lines.index("    probably the cause of:") + 1 :][:3]
    assert beneath == [
        "      BLOCKS: seams.neck, size 38: too-short [seam-lengths/too-short]",
        "      look at: band.lower, size 40: falls [grading-lengths/falls]",
        "      BLOCKS: finished.neck, size 38: too-small [finished-measures/too-small]",
    ]


def test_a_copied_size_is_told_first_of_all_that_comes_of_it():
    """Though a single edge of it would explain as much, and was found before."""
    copied = _of("size-copies", "copied", "38", "block", piece="band")
    falls = [_of("grading-lengths", "falls", "40", piece="band", where=edge) for edge in ("lower", "end")]
    findings = [
        _of("grading-steps", "off", "38", piece="band", where="upper"),
        *falls,
        _of("seam-lengths", "too-short", "38", "block", where="seams.neck"),
        copied,
        _of("seam-lengths", "too-long", "38", "block", where="seams.side"),
    ]
    lines = tell(findings, (SIZES,), PLACES)
    heads = [line for line in lines if line[0] != " "]
    assert heads == [
        "BLOCKS: band, size 38: copied [size-copies/copied]",
        "BLOCKS: seams.side, size 38: too-long [seam-lengths/too-long]",
    ]
    assert len([line for line in lines if line.startswith("      ")]) == 4


def test_a_measure_that_misses_a_body_with_a_wrong_digit_stands_beneath_it():
    measures = {"neck": measure("neck", ease=Range(0, 20)), "hem": measure("hem", ease=Range(0, 20))}
    body = {name: BodyMeasure(name=name, title={"en": name}, sizes_mm={}) for name in measures}
    places = places_of(replace(PATTERN, finished=measures, body=body))
    findings = [
        _of("finished-measures", "too-small", "38", "block", where="finished.neck"),
        _of("finished-measures", "too-small", "38", "block", where="finished.hem"),
        _of("body-steps", "off", "38", where="body.neck"),
    ]
    assert [line for line in tell(findings, (SIZES,), places) if line[0] != " "] == [
        "BLOCKS: finished.hem, size 38: too-small [finished-measures/too-small]",
        "BLOCKS: body.neck, size 38: off [body-steps/off]",
    ]


def test_a_strip_has_to_do_with_all_that_its_sums_name():
    def of(piece: str) -> Sum:
        return Sum(f"{piece}.top", (Term(1.0, Reference(piece, "top")),))

    loop = Strip(
        name="loop", title={}, cut=(), width_mm=10, make="flat", length=of("a"), opening=of("b"), goes_round=of("c")
    )
    assert places_of(replace(PATTERN, strips={"loop": loop}))["strips.loop"] == {"a", "b", "c"}


def test_what_is_so_in_most_sizes_is_no_slip_that_others_follow_from():
    off = [_of("grading-steps", "off", size, piece="band", where="upper") for size in SIZES[:4]]
    other = _of("finished-measures", "too-small", "38", "block", where="finished.neck")
    assert "    probably the cause of:" not in tell([*off, other], (SIZES,), PLACES)


def test_checks_that_have_nothing_to_look_at_are_named_once_in_one_line():
    skips = [_finding(check=check, code="not-declared", severity="skip", piece=None) for check in ("a", "b", "a")]
    assert tell(skips, (SIZES,)) == ["not checked, since the pattern has none of what they look at: a, b"]


def test_what_was_not_checked_is_told_with_why_and_what_may_be_done():
    loop = {"check": "strip-lengths", "code": "not-held", "severity": "skip", "piece": None}
    skips = [
        *(
            _finding(**loop, where=where, message="held against nothing", allowed="opening")
            for where in ("x", "y", "x")
        ),
        _finding(check="built-sizes", code="not-measured", severity="skip", piece=None, where=None, message="unseen"),
    ]
    assert tell(skips, (SIZES,)) == [
        "not checked: x, y: held against nothing; say opening to have it checked, or leave it [strip-lengths/not-held]",
        "not checked: unseen; there is nothing to do [built-sizes/not-measured]",
    ]


def test_things_to_mend_are_counted_once_for_all_their_sizes():
    assert to_mend([_finding(size="36"), _finding(size="38"), _finding(where="hem"), _finding(severity="warn")]) == 2


def test_size_ranges():
    assert size_ranges(["34"], SIZES) == "34"
    assert size_ranges(["34", "38", "40", "42"], SIZES) == "34, 38 to 42"

"""Clean patterns have no error; a slip planted in one is found, on its own line and alone."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from craft import fabric, notation, techedit
from craft.techedit import Finding, Level

from .clean import Text, one_size, rounds, rows, several_sizes

SETTINGS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def findings(text: str) -> list[Finding]:
    draft = notation.read(text)
    return techedit.check(draft, fabric.work(draft))


def errors(text: str) -> list[Finding]:
    return [finding for finding in findings(text) if finding.level is Level.ERROR]


@SETTINGS
@given(st.one_of(one_size(), several_sizes()))
def test_a_clean_pattern_has_no_error(text: Text) -> None:
    assert errors(text.written()) == []


@SETTINGS
@given(st.one_of(one_size(), several_sizes()))
def test_a_clean_pattern_agrees_in_every_line(text: Text) -> None:
    worked = fabric.work(notation.read(text.written()))
    assert [r.verdict.value for r in worked.rounds] == ["agrees"] * len(text.lines)


@SETTINGS
@given(one_size(), st.data())
def test_a_wrong_count_is_found_on_its_line(text: Text, data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(text.lines) - 1))
    off = data.draw(st.sampled_from((-3, -2, -1, 1, 2, 3)))
    made = text.lines[at]
    assume(made.counts[0] + off > 0)
    wrong = text.with_line(at, replace(made, counts=(made.counts[0] + off,)))
    found = errors(wrong.written())
    assert [finding.line_number for finding in found] == [text.line_number(at)]
    assert str(made.counts[0] + off) in found[0].says
    assert str(made.counts[0]) in found[0].says


@SETTINGS
@given(rounds(), st.data())
def test_a_wrong_count_is_offered_the_right_one(text: Text, data: st.DataObject) -> None:
    at = data.draw(st.integers(1, len(text.lines) - 2))
    made = text.lines[at]
    wrong = text.with_line(at, replace(made, counts=(made.counts[0] + 1,))).written()
    suggestion = errors(wrong)[0].suggestion
    assert suggestion is not None
    mended = wrong[: suggestion.span.start] + suggestion.text + wrong[suggestion.span.end :]
    assert mended == text.written()


@SETTINGS
@given(one_size(), st.data())
def test_a_repeat_that_does_not_fit_is_found_on_its_line(text: Text, data: st.DataObject) -> None:
    places = [at for at, made in enumerate(text.lines) if made.slip]
    assume(places)
    at = data.draw(st.sampled_from(places))
    wrong = text.with_line(at, replace(text.lines[at], steps=text.lines[at].slip))
    found = errors(wrong.written())
    assert [finding.line_number for finding in found] == [text.line_number(at)]


@SETTINGS
@given(several_sizes(), st.data())
def test_one_wrong_size_of_five_is_found(text: Text, data: st.DataObject) -> None:
    places = [at for at, made in enumerate(text.lines) if len(set(made.counts)) > 1]
    assume(places)
    at, size = data.draw(st.sampled_from(places)), data.draw(st.integers(0, 4))
    counts = list(text.lines[at].counts)
    counts[size] += data.draw(st.sampled_from((-2, -1, 1, 2)))
    assume(len(set(counts)) > 1)
    wrong = text.with_line(at, replace(text.lines[at], counts=tuple(counts)))
    found = errors(wrong.written())
    assert [(finding.line_number, finding.sizes) for finding in found] == [(text.line_number(at), (size,))]


@SETTINGS
@given(several_sizes(), st.data())
def test_a_number_missing_from_a_list_is_found(text: Text, data: st.DataObject) -> None:
    places = [at for at, made in enumerate(text.lines) if len(set(made.counts)) > 1]
    assume(places)
    at = data.draw(st.sampled_from(places))
    counts = text.lines[at].counts
    drop = data.draw(st.integers(1, 4))
    short = counts[:drop] + counts[drop + 1 :]
    assume(len(set(short)) > 1)
    wrong = text.with_line(at, replace(text.lines[at], counts=short))
    assert {finding.line_number for finding in errors(wrong.written())} == {text.line_number(at)}


@SETTINGS
@given(st.one_of(rounds(), rows()), st.data())
def test_a_missing_line_number_is_found_on_its_line(text: Text, data: st.DataObject) -> None:
    at = data.draw(st.integers(1, len(text.lines) - 1))
    lines = [text.line(i, number=i + 1 if i < at else i + 2) for i in range(len(text.lines))]
    found = errors("\n".join([*text.head, *lines]) + "\n")
    assert [(finding.check, finding.line_number) for finding in found] == [
        ("number-out-of-order", text.line_number(at))
    ]


@SETTINGS
@given(st.one_of(rounds(), rows()), st.data())
def test_one_odd_label_is_one_finding_on_itself(text: Text, data: st.DataObject) -> None:
    assume(len(text.lines) > 3)
    at = data.draw(st.integers(1, len(text.lines) - 2))
    odd = data.draw(st.integers(1, 30).filter(lambda n: n not in {at, at + 1, at + 2}))
    lines = [text.line(i, number=odd if i == at else i + 1) for i in range(len(text.lines))]
    found = errors("\n".join([*text.head, *lines]) + "\n")
    assert [(finding.check, finding.line_number) for finding in found] == [
        ("number-out-of-order", text.line_number(at))
    ]

"""Badges, sentences and chances: each decision has one word, and nothing that is not known reads as if it were."""

from trued.measure.decision import Conformity
from trued.words.decisions import Badge, badge_of, decided, likely_in
from trued.words.message import Message


def test_each_decision_has_a_badge_of_its_own() -> None:
    badges = [badge_of(decision) for decision in (*Conformity, None)]
    assert badges == [Badge.IN, Badge.OUT, Badge.NOT_KNOWN, Badge.MEASURED]


def test_only_what_is_proven_is_called_sure() -> None:
    assert decided(Conformity.NOT_PROVEN) == decided(None) == ""
    assert decided(Conformity.PROVEN_OUT, "tight") == "At least 95% sure it is out: tight."
    assert decided(Conformity.PROVEN_IN) == "At least 95% sure it is in tolerance."


def test_a_high_chance_that_nobody_has_shown_prints_no_percent() -> None:
    assert likely_in(0.98, "assumed") == "One run can't prove it."
    assert likely_in(0.77, "assumed") == "77% likely in (repeatability assumed)."
    assert likely_in(0.77, "seen") == "77% likely in."


def test_the_first_line_says_the_verdict() -> None:
    assert Message("Five-cut", Badge.OUT).headline == "Five-cut: OUT OF TOLERANCE"
    assert Message("Five-cut", Badge.IN, "Leave it.").headline == "Five-cut: IN TOLERANCE. Leave it."

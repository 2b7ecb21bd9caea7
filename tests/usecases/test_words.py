"""What stands beside a chance that this shop has not shown."""

import pytest

from trued.usecases.plan.words import bracketed, chance_words, cuts_words, not_seen_words


@pytest.mark.parametrize(
    ("shares", "said"),
    [
        ({"stop repeatability": 0.7, "bar swing": 0.3}, "assumed"),
        ({"bar swing": 0.62, "caliper: limit of error": 0.38}, "mostly assumed"),
        ({"bar swing": 0.38, "caliper: limit of error": 0.62}, "partly assumed"),
        ({"bar swing": 0.04, "caliper: limit of error": 0.96}, ""),
        ({}, ""),
    ],
)
def test_how_much_of_it_is_assumed(shares: dict[str, float], said: str) -> None:
    assert not_seen_words(shares, ("stop repeatability", "bar swing")) == said


def test_a_chance_is_a_whole_percent_and_never_none_or_all() -> None:
    assert (chance_words(0.012), chance_words(0.016)) == ("1%", "2%")
    assert (chance_words(0.0), chance_words(1.0)) == ("under 1%", "over 99%")


def test_brackets() -> None:
    assert (bracketed("so"), bracketed("")) == (" (so)", "")


def test_cuts_that_follow_one_another_are_told_as_a_run() -> None:
    assert cuts_words(["T1"]) == "T1" and cuts_words(["T2", "T1"]) == "T1, T2"
    assert cuts_words(["T1", "T2", "T3", "T7", "T9", "T10"]) == "T1 to T3, T7, T9, T10"

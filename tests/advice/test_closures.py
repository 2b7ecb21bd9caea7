"""What stays closed for rips: only a finding opens it, whatever a person types."""

from dataclasses import replace

import pytest
from tests.standing.rows import happened, hour, moved

from trued.advice.closures import FOR_RIPS, KNIFE, closed_of, rests_on
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature import features
from trued.standing.history.event import EVENTS
from trued.standing.history.history import Adjustment, History, Result, ShopEvent

MIL = 0.0254
NOW = hour(1000)


def toe(n: float, mils: float, doubts: tuple[tuple[str, str], ...] = ()) -> Result:
    """One run of the rip fence: a toe in thousandths, its locking known from ten locks."""
    value = UncertainValue.of(mils * MIL, ErrorSource(f"lock:{n:g}", "locking", 0.3 * MIL, 30))
    return Result(hour(n), "saw.rip-toe", "mm", value, "rip-fence", f"toe-{n:g}", doubts=doubts)


def knife(n: float, mils: float, feature: str = "knife-under-kerf", **more: object) -> Result:
    value = UncertainValue.of(mils * MIL, ErrorSource("limit:caliper", "caliper", 0.3 * MIL))
    return Result(hour(n), f"saw.{feature}", "mm", value, "knife", f"knife-{n:g}", **more)  # type: ignore[arg-type]


def closed(*rows: Result | Adjustment | ShopEvent) -> list[str]:
    of = tuple(tuple(row for row in rows if isinstance(row, kind)) for kind in (Result, Adjustment, ShopEvent))
    found = closed_of(History(*of), NOW)  # type: ignore[arg-type]
    return [one.bare for one in found]


def test_what_was_found_out_stays_closed_after_a_move_that_was_typed() -> None:
    """Toe −0.020 in, then `moved rip-toe out 0.0001`: 8 rips came back at the fence."""
    assert closed(toe(1, -20), toe(2, -20.1)) == ["rip-toe"]
    assert closed(toe(1, -20), toe(2, -20.1), moved(3, 0.0001 * 25.4, "out", "saw.rip-toe")) == ["rip-toe"]
    assert closed(toe(1, -20), moved(3, 21.5 * MIL, "out", "saw.rip-toe")) == ["rip-toe"]


def test_an_event_opens_nothing() -> None:
    assert closed(toe(1, -20), happened(2, "saw-carried")) == ["rip-toe"]
    assert "knife-under-kerf" in closed(knife(1, -10), happened(2, "saw-carried"))


def test_a_finding_that_cannot_tell_opens_nothing_and_one_that_proves_it_in_does() -> None:
    move = moved(3, 21.5 * MIL, "out", "saw.rip-toe")
    assert closed(toe(1, -20), toe(2, -20.1), move, toe(4, 0.1)) == ["rip-toe"]
    assert closed(toe(1, -20), toe(2, -20.1), move, toe(4, 1.5), toe(5, 1.4)) == []


def test_what_was_proven_in_and_is_only_doubtful_since_is_not_closed() -> None:
    """It is held, not refused: never shown out."""
    assert closed(toe(1, 1.5), toe(2, 1.4), happened(3, "saw-carried")) == []


@pytest.mark.parametrize("event", [kind for kind, event in EVENTS.items() if event.about == "blade"])
def test_after_another_blade_no_rip_before_the_knife_is_looked_at(event: str) -> None:
    good = [knife(1, 20, name) for name in ("knife", "knife-over-plate", "knife-under-kerf")]
    assert set(closed(*good, happened(2, event))) == set(KNIFE)
    assert set(closed(happened(2, event))) == set(KNIFE)  # also where it never was
    again = [replace(row, at=hour(3), run="knife-3") for row in good]
    assert closed(*good, happened(2, event), *again) == []


def test_a_knife_found_too_thick_stays_closed_after_a_blade_event() -> None:
    """`event blade-same-kerf` after a knife proven too thick: 8 rips came back."""
    bad = [knife(1, 20, "knife"), knife(1, 20, "knife-over-plate"), knife(1, -10)]
    assert "knife-under-kerf" in closed(*bad, happened(2, "blade-same-kerf"))
    only_line = [knife(3, 20, "knife"), knife(3, 20, "knife-over-plate")]
    assert "knife-under-kerf" in closed(*bad, happened(2, "blade-same-kerf"), *only_line)


def test_a_run_that_waits_to_be_confirmed_may_close_and_never_opens() -> None:
    doubt = (("sides-disagree", "Read again."),)
    good = [knife(3, 20, name, doubts=doubt) for name in KNIFE]
    assert set(closed(happened(2, "blade-thinner"), *good)) == set(KNIFE)
    assert closed(toe(1, -20, doubt)) == ["rip-toe"]
    assert closed(toe(1, -20), toe(2, -20), toe(3, 1.5, doubt)) == ["rip-toe"]


def test_a_danger_closes_whatever_the_figure() -> None:
    assert closed(knife(1, 20, dangers=(("knife-jams", "It jams."),))) == ["knife-under-kerf"]


def test_only_what_was_known_by_then_counts() -> None:
    history = History((toe(1, 1.5), toe(2, 1.4), toe(30, -20)))
    assert closed_of(history, hour(20)) == () and [one.bare for one in closed_of(history, hour(40))] == ["rip-toe"]
    (one,) = closed_of(history, NOW)
    assert "Only rip-fence opens it again, no move or event" in one.why


def test_a_rip_on_the_sled_rests_on_blade_and_knife_alone() -> None:
    assert set(FOR_RIPS) - set(rests_on(on_sled=True)) == {"rip-toe", "rip-fence-angle"}
    assert all(features()[bare].safety for bare in FOR_RIPS)


def test_many_findings_that_cannot_tell_open_nothing() -> None:
    """After 30 of them it was open again, and nothing had shown it right."""
    move = moved(2, 21.5 * MIL, "out", "saw.rip-toe")
    vague = [toe(3 + n, 0.1 if n % 2 else -0.1) for n in range(40)]
    assert closed(toe(1, -20), move, *vague) == ["rip-toe"]


def insert(n: float, mils: float, feature: str = "insert-operator-keeper", **more: object) -> Result:
    value = UncertainValue.of(mils * MIL, ErrorSource(f"feelers:{n:g}", "feelers", 0.3 * MIL, 30))
    return Result(hour(n), f"saw.{feature}", "mm", value, "insert", f"insert-{n:g}", **more)  # type: ignore[arg-type]


def test_an_insert_that_catches_stays_closed_until_it_is_shown_level() -> None:
    """The check said that nothing is cut over it, and the plan gave every cut a ticket."""
    assert closed(insert(1, -4)) == ["insert-operator-keeper"]
    assert closed(insert(1, 4, "insert-far-offcut"), happened(2, "saw-carried")) == ["insert-far-offcut"]
    doubt = (("strip-contradicts", "Look again."),)
    assert closed(insert(1, -4), insert(2, 2.5, doubts=doubt)) == ["insert-operator-keeper"]
    assert closed(insert(1, -4), moved(2, 6.5 * MIL, "down", "saw.insert-operator-keeper"), insert(3, 2.5)) == []

"""From what was typed to what was taken: every fault named, all at once, and nothing else ever raised."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.procedure.checks import GAP

from trued.checks import all_checks, find_check
from trued.errors import InputRefused
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument
from trued.procedure import Check, Finding, Kind, Reading, ReadingSpec, examine, take
from trued.procedure.reading import nearest

SIDE = {"side": "left"}
MINE = Instrument("caliper-1", "caliper", 0.01, 0.02, EstimatedSd(0.01, 20), range_mm=150.0)


def faults(*typed: str, facts: dict[str, str] | None = None, instruments: tuple[Instrument, ...] = ()) -> list[str]:
    with pytest.raises(InputRefused) as refused:
        take(GAP, typed, SIDE if facts is None else facts, instruments=instruments)
    return [f"{f.where}: {f.text}" for f in refused.value.faults]


def one(*typed: str, instruments: tuple[Instrument, ...] = ()) -> Reading:
    return take(GAP, ["gap=0.01", *typed], SIDE, instruments=instruments).readings[-1]


def test_a_reading_is_kept_as_typed_and_exact() -> None:
    reading = take(GAP, ["gap=-0.002"], SIDE).readings[0]
    assert reading.typed == "-0.002" and reading.value == pytest.approx(-0.0508)
    assert reading.exact_mm == (-127, 2500) and reading.instrument == DEFAULTS["feelers"] and not reading.named
    assert take(GAP, ["gap = 1/64"], SIDE).readings[0].value == pytest.approx(0.396875)


def test_the_unit_of_a_bare_number_is_the_person_s() -> None:
    assert take(GAP, ["gap=0.5"], SIDE, unit="mm").readings[0].value == 0.5
    assert take(GAP, ['gap=0.5"'], SIDE, unit="mm").readings[0].value == pytest.approx(12.7)


def test_repeats_and_places() -> None:
    taken = take(GAP, ["gap=0.01", "gap=0.02", "wall@near=1", "wall@far=2", "step@6=0.1", "step@13 1/2=0.2"], SIDE)
    assert len(taken.of("gap")) == 2
    assert taken.stations("wall") == ("near", "far") and taken.stations("step") == ("6", "13 1/2")


def test_other_kinds() -> None:
    assert one("rocks=YES").choice == "yes"
    assert one("lean=0.1deg").value == pytest.approx(0.0017453293)
    pair = take(GAP, ["gap=0.01", "count=3", "warm=70F"], SIDE)
    assert pair.all("count") == (3.0,) and pair.all("warm")[0] == pytest.approx(21.111, abs=1e-3)


def test_an_instrument_by_its_kind_or_its_name() -> None:
    assert one("gap:indicator=0.01").instrument == DEFAULTS["indicator"]
    assert one("gap:caliper=0.01", instruments=(MINE,)).instrument == MINE
    assert one("gap:caliper-1=0.01", instruments=(MINE,)).instrument == MINE and one("gap:rule=0.1").named


def test_facts_of_the_fixture() -> None:
    taken = take(GAP, ["gap=0.01"], {"side": "right", "reach": "18", "thread": "20/in", "colour": "green"})
    assert taken.word("side") == "right" and taken.number("reach") == pytest.approx(457.2)
    assert taken.number("thread") == pytest.approx(1.27) and "colour" not in taken.facts
    assert taken.word("reach") == "" and taken.number("side") is None and taken.number("nothing") is None


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("gap", "typed name=value"),
        ("=3", "typed name=value"),
        ("gpa=0.01", "Did you mean gap?"),
        ("zzzz=0.01", "Known: gap, rocks"),
        ("gap=", "The reading is missing"),
        ("gap=1,500", "1.500 or 1500"),
        ("gap@near=0.1", "one place only: leave out @near"),
        ("wall@behind=1", "wall is read at: near, middle, far"),
        ("wall=1", "wall is read at: near, middle, far"),
        ("step=0.1", "needs a place: type step@LENGTH=VALUE"),
        ("step@abc=0.1", "A length is written with digits"),
        ("rocks=maybe", "not one of the answers: yes, no"),
        ("gap:micrometer=0.1", "No instrument 'micrometer' is known"),
        ("gap:calipr=0.1", "Did you mean caliper?"),
        ("lean=3", "The unit is missing"),
        ("count=2.5", "Write a whole number"),
    ],
)
def test_what_is_refused_and_what_is_said(typed: str, said: str) -> None:
    assert any(said in fault for fault in faults("gap=0.01", typed))


def test_all_faults_at_once() -> None:
    found = faults("gpa=0.01", "gap=1/0", "rocks=maybe", facts={"side": "up", "reach": "0", "thread": "x"})
    assert len(found) == 6
    assert any("reaches must be more than 0" in fault for fault in found)


def test_what_is_needed_and_missing() -> None:
    assert faults(facts={}) == ["--side: gap needs the side it is on: give --side."]
    assert faults() == ["gap: gap is missing: the gap."]
    assert any("at most 3 make sense" in f for f in faults(*["gap=0.01"] * 4))
    assert any("wall is needed at 2 places or more, got 1" in f for f in faults("gap=0.01", "wall@near=1"))
    assert any("step is needed at 2 places or more, got 1" in f for f in faults("gap=0.01", "step@6=1", "step@6=1"))
    assert any("both@right is missing" in f for f in faults("gap=0.01", "both@left=1"))
    assert any("as many of each" in f for f in faults("gap=0.01", "count=1", "count=2", "warm=20C"))


def test_too_few_readings_at_a_place() -> None:
    with pytest.raises(InputRefused, match="part was read 1 times, 2 are needed"):
        take(find_check("stop-repeat"), ["set=12", "part=12.01"])


def test_an_own_instrument_cannot_read_beyond_its_end() -> None:
    """Of one that is only assumed the end is not known, so nothing is refused."""
    (found,) = faults("gap=0.01", "wall@near=8", "wall@far=1", instruments=(MINE,))
    assert found.startswith(
        "wall@near: caliper-1 reads to 150 mm (5.91 in) only. Millimeters? Type 8mm. Measure the difference "
    )
    assert take(GAP, ["gap=0.01", "wall@near=30", "wall@far=1"], SIDE).has("wall", "near")


def test_nearest() -> None:
    assert nearest("fre_end", ["fence_end", "free_end"]) == "Did you mean free_end?"


# --- no text whatever raises anything but a refusal

words = st.sampled_from([a.name for c in all_checks() for a in c.asks] + ["zz", ""])
ends = st.sampled_from(["", "@start", "@6", "@1/2", "@0", ":rule", ":zz", "@end:indicator", "@@", "::"])
values = st.one_of(
    st.text(max_size=12),
    st.sampled_from(["0", "1", "0.5", "25 3/16", "-1", "1e9", "9999999", "636mm", "½", "nan", "", "=", "0.000001"]),
)
lines = st.one_of(st.text(max_size=30), st.builds(lambda n, e, v: f"{n}{e}={v}", words, ends, values))


def finish(check: Check, typed: list[str], facts: dict[str, str]) -> Finding | None:
    try:
        taken = take(check, typed, facts)
    except InputRefused:  # with at least one fault, each a sentence: neither can be built otherwise
        return None
    return examine(taken)


@settings(max_examples=150)
@given(typed=st.lists(lines, max_size=6), check=st.sampled_from(all_checks()))
@example(typed=["fence_end=0", "free_end=0", "length=0"], check=all_checks()[0])
def test_any_text_is_taken_or_refused(typed: list[str], check: Check) -> None:
    finish(check, typed, {"fence": "far", "radius": "1"})


sizes = st.sampled_from(["0", "0.0001", "0.5", "1", "1.001", "12", "12.003", "304.8", "99999", "25.4"])


def every_place(ask: ReadingSpec, data: st.DataObject) -> list[str]:
    if ask.kind not in (Kind.LENGTH, Kind.GAP):
        return []
    lengths = ["0", "6", "12", "24"][: data.draw(st.integers(1, 4))]
    places = lengths if isinstance(ask.stations, int) else ask.stations or [""]
    times = max(ask.need[0], data.draw(st.integers(1, min(2, ask.need[1]))))
    return [f"{ask.name}{f'@{at}' if at else ''}={data.draw(sizes)}" for at in places for _ in range(times)]


@settings(max_examples=200)
@given(check=st.sampled_from(all_checks()), data=st.data())
def test_any_complete_run_is_worked_out_or_refused_in_words(check: Check, data: st.DataObject) -> None:
    """Noughts, wild sizes and equal readings everywhere: a finding comes out, with a drawing."""
    typed = [text for ask in check.asks for text in every_place(ask, data)]
    finding = finish(check, typed, {"plate": "0.07", "marked": "0.1", "bar": "20", "offset": "3/8", "radius": "18"})
    if finding is not None and not finding.refused:
        assert all(e.u >= 0 for e in finding.estimates)

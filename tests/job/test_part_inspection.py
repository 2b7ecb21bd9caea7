"""Measured parts: what may be typed, what it says of the fits, and what it teaches."""

from dataclasses import replace
from pathlib import Path

import pytest
from tests.job.shops import INCH, NOTHING, caliper, holds

from trued.errors import InputRefused
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.groups import GUIDED_SAW, CutGroup, CutGroups, default_groups
from trued.job.proof.part_inspection import Inspection, prove
from trued.job.proof.proof_reading import read_proof
from trued.measure.decision import Conformity
from trued.measure.instrument import DEFAULTS

TEXT = (Path(__file__).parents[2] / "examples" / "rack.toml").read_text(encoding="utf-8")
JOB = read_job(TEXT + '\n[[part]]\nid = "door"\nlength = "measured"\nwidth = "1"\nthickness = "t"\n'
               '[[part]]\nid = "cleat"\nlength = "12"\nwidth = "1"\nthickness = "t"\n')  # fmt: skip
CALIPER = caliper(0.001)


def proof(*texts: str, groups: CutGroups | None = None, offset: float = 0.0) -> Inspection:
    saw = holds(offset=offset, offset_u=0.05, setting=0.03, repeat=0.02, step=INCH / 64)
    budget = UncertaintyBudget(JOB, saw, groups or default_groups(JOB), (CALIPER,), NOTHING)
    return prove(budget, read_proof(JOB, texts, (CALIPER,)))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("foo", "A reading is typed PART@COPY=SIZE"),
        ("=3", "A reading is typed PART@COPY=SIZE"),
        ("@1=3", "A reading is typed PART@COPY=SIZE"),
        ("shelf=13", "There are 4 of shelf; say which, from shelf@1 to shelf@4"),
        ("shelf@9=13", "There are 4 of shelf"),
        ("shelf@x=13", "There are 4 of shelf"),
        ("cleat@2=12", "There is one cleat; write cleat@1 or cleat alone."),
        ("shelf@1.length@2=13", "Name the copy once"),
        ("shelv@1=13", "There is no part or fit called shelv. Did you mean shelf?"),
        ("shelf in the dados=0.01", "Did you mean shelf in its dados?"),
        ("side.with@1=3.5", "Did you mean width?"),
        ("shelf@1=0", "A part has a size above 0"),
        ("shelf@1=-13", "This length has no sign"),
        ("shelf@1=", "Nothing was typed"),
        ("shelf@1=1,500", "A comma with three digits"),
        ("shelf@1:ruler=13", "There is no instrument called ruler. Did you mean rule?"),
        ("shelf@1:=13", "There is no instrument called"),
        ("shelf@1-shelf@1=0.1", "Compare the same size of two different copies"),
        ("shelf@1-side.width@1=0.1", "Compare the same size of two different copies"),
        ("door=12", "door waits for a size"),
    ],
)
def test_what_is_refused(text: str, said: str) -> None:
    with pytest.raises(InputRefused) as caught:
        read_proof(JOB, [text])
    assert len(caught.value.faults) == 1 and said in str(caught.value)


def test_all_that_is_refused_is_told_at_once() -> None:
    with pytest.raises(InputRefused) as caught:
        read_proof(JOB, ["shelf@9=13", "shelf@1=13.377", "foo"])
    assert len(caught.value.faults) == 2
    with pytest.raises(InputRefused, match="Nothing was measured"):
        read_proof(JOB, [])


def test_an_instrument_of_ones_own_cannot_read_beyond_its_end() -> None:
    short = caliper(0.001, reach=200.0)
    with pytest.raises(InputRefused, match=r"caliper-1 reads to 200 mm.*mate or to a stick"):
        read_proof(JOB, ["shelf@1:caliper=13.377"], (short,))
    with pytest.raises(InputRefused, match=r"Millimeters\? Type 88\.9mm\."):
        read_proof(JOB, ["side.width@1:caliper=88.9"], (short,))
    assert read_proof(JOB, ["side.width@1=3.5", "shelf@2-shelf@1=-0.003", "shelf@1:rule=13 3/8"], (short,))


def test_where_the_caliper_does_not_reach_a_rule_is_taken_and_then_a_tape() -> None:
    short, rule = caliper(0.001, reach=200.0), replace(DEFAULTS["rule"], id="rule-1", range_mm=400.0)
    texts = ["side.width@1=3.5", "shelf@1=13.377", "side@1=30"]
    readings = read_proof(JOB, texts, (short, rule))
    assert [reading.instrument.kind for reading in readings] == ["caliper", "rule", "tape"]
    assert not any(reading.named for reading in readings)


def test_the_ways_to_write_a_size() -> None:
    readings = read_proof(
        JOB, ["shelf@2.width=3.5", "shelf.width@2=3.5", " shelf @ 2 . width : rule = 3 1/2 ", "cleat=12"]
    )
    assert [str(reading.of) for reading in readings] == ["shelf@2.width"] * 3 + ["cleat@1.length"]
    assert [reading.instrument.kind for reading in readings] == ["caliper", "caliper", "rule", "caliper"]
    assert readings[2].length.mm == 88.9 and readings[2].typed == " shelf @ 2 . width : rule = 3 1/2 "


def test_a_part_out_of_its_tolerance_is_told() -> None:
    found = proof("shelf@1=13.377", "shelf@2=13.400", "cleat=12.2", "side.thickness@1=0.75")
    by_name = {verdict.name: verdict for verdict in found.sizes}
    assert by_name["shelf@1.length"].decision is Conformity.PROVEN_IN
    assert by_name["shelf@1.length"].off.value == pytest.approx((13.377 - 13.375375) * INCH)
    assert by_name["shelf@2.length"].decision is Conformity.PROVEN_OUT
    assert by_name["cleat@1.length"].decision is None and by_name["cleat@1.length"].chance is None
    assert by_name["side@1.thickness"].limits is None
    assert by_name["side@1.thickness"].off.value == pytest.approx(0.008 * INCH)


def test_copies_that_are_not_alike_are_told_by_the_worst_pair() -> None:
    found = proof("shelf@1=13.377", "shelf@2=13.380", "shelf@3=13.370", "rail@1=12.891", "cleat=12")
    (worst,) = found.alike
    assert worst.name == "shelf@2.length - shelf@3.length" and worst.kind == "alike"
    assert worst.found.value == pytest.approx(0.010 * INCH) and worst.decision is Conformity.PROVEN_OUT
    # The caliper's limit of error is the same in both and cancels.
    assert worst.found.u < 1e-6


def test_a_difference_to_a_mate() -> None:
    found = proof("shelf@2-shelf@1=+0.003", "rail@1-shelf@1=-0.48", "cleat-rail@1=-0.9")
    assert [verdict.decision for verdict in found.alike] == [Conformity.PROVEN_IN, None, None]
    alike = next(fit for fit in found.fits if fit.name == "shelves alike")
    assert alike.mean_mm == pytest.approx(0.003 * INCH) and alike.sd_mm == pytest.approx(0.001, rel=1e-3)


def test_a_difference_passes_a_measured_length_on_either_way() -> None:
    first = proof("shelf@1=13.377", "shelf@2-shelf@1=+0.030")
    other = proof("shelf@2=13.407", "shelf@2-shelf@1=+0.030", "shelf@1-shelf@2=-0.030")
    for found in (first, other):
        fit = next(fit for fit in found.fits if fit.name == "shelf in its dados")
        assert fit.copies == "rail@1, shelf@2" and fit.chance < 0.01


def test_measured_sizes_take_the_place_of_the_expected_ones() -> None:
    before = next(fit for fit in proof("cleat=12").fits if fit.name == "shelf in its dados")
    now = proof(*(f"shelf@{n}=13.400" for n in (1, 2, 3, 4)), "rail@1=12.891", "rail@2=12.8905")
    after = next(fit for fit in now.fits if fit.name == "shelf in its dados")
    assert before.chance > 0.99 > 0.01 > after.chance
    # By hand: 12.8905 + 0.5 - 13.400 = -0.0095 in, and only the caliper's error is left, which cancels.
    assert after.mean_mm == pytest.approx(-0.0095 * INCH) and after.sd_mm < 1e-6
    assert after.copies.startswith("rail@2")


def test_a_gap_that_was_measured() -> None:
    (gap,) = proof("shelf in its dados=0.012").gaps
    assert gap.kind == "gap" and gap.decision is Conformity.PROVEN_IN
    (tight,) = proof("shelf in its dados=-0.001").gaps
    assert tight.decision is Conformity.PROVEN_OUT
    (open_above,) = proof("rack between the studs=1/4").gaps
    assert open_above.limits is not None and open_above.limits.high is None
    assert open_above.decision is Conformity.PROVEN_IN


def test_what_measured_parts_teach() -> None:
    groups = dict(default_groups(JOB).of)
    groups["rail", 1] = CutGroup("S7", "R7", length_reading_mm=327.0)
    groups["rail", 2] = CutGroup("S8", "", GUIDED_SAW)
    found = proof(
        "shelf@1=13.377", "rail@1=12.900", "rail@2=12.9", "rail@2.width=3",
        "side.width@1=3.5", "side.thickness@1=0.742",
        groups=CutGroups(groups), offset=0.2,
    )  # fmt: skip
    lessons = {str(lesson.of): lesson for lesson in found.lessons}
    assert lessons.keys() == {"shelf@1.length", "rail@1.length", "side@1.width"}
    # 339.7345 mm less the offset of 0.2 mm is 855.53 divisions of 1/64 in: the stop stood at 856.
    assert lessons["shelf@1.length"].reading_mm == pytest.approx(856 * INCH / 64)
    assert lessons["shelf@1.length"].found.value == pytest.approx(13.377 * INCH)
    assert (lessons["rail@1.length"].reading_mm, lessons["rail@1.length"].setting) == (327.0, "S7")
    assert (lessons["side@1.width"].station, lessons["side@1.width"].reading_mm) == (
        "rip fence",
        pytest.approx(3.5 * INCH),
    )


def test_repeats_are_a_mean_and_two_instruments_are_refused() -> None:
    (size,) = proof("shelf@1=13.376", "shelf@1.length=13.378").sizes
    assert size.found.value == pytest.approx(13.377 * INCH)
    with pytest.raises(InputRefused, match=r"shelf@1.length: This was read with two instruments"):
        proof("shelf@1=13.376", "shelf@1:rule=13 3/8")

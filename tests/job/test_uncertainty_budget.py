"""The error budget: who shares what, exactly."""

import math

import pytest
from tests.job.shops import INCH, NOTHING, caliper, holds

from trued.errors import InputRefused
from trued.job.budget.uncertainty_budget import UncertaintyBudget, assumed_labels
from trued.job.expression.tree import Name, PartSize, Side
from trued.job.file.read import read_job
from trued.job.geometry.unmeasured_errors import GUIDED, THICKNESS_BOARD, TypeBError
from trued.job.groups import GUIDED_SAW, RIP_FENCE, SLED, CutGroup, CutGroups
from trued.job.job import Job
from trued.measure.estimate import covariance
from trued.standing.cuts.cut_errors import CutErrors

JOB = read_job("""
[measured]
t = { is = "0.75", instrument = "caliper" }
u = { is = "0.5", instrument = "caliper" }
g = { is = "12", instrument = "rule" }
later = "measured"
[[part]]
id = "a"
quantity = 4
length = "12"
width = "4"
thickness = "t"
[[part]]
id = "b"
quantity = 2
length = "20"
width = "4"
thickness = "u"
[[part]]
id = "door"
length = "measured"
width = "measured"
thickness = "measured"
""")


def groups(**by_copy: CutGroup) -> CutGroups:
    """a1 … a4, b1, b2: one setting a part, on the sled, from one board; but for those given."""
    of = {("a", copy): CutGroup("S-a", "R-a", stock="B/1") for copy in (1, 2, 3, 4)}
    of |= {("b", copy): CutGroup("S-b", "R-b", stock="B/1") for copy in (1, 2)}
    return CutGroups(of | {(name[0], int(name[1])): group for name, group in by_copy.items()})


def budget(
    saw: CutErrors, cuts: CutGroups | None = None, untaught: TypeBError = NOTHING, job: Job = JOB
) -> UncertaintyBudget:
    return UncertaintyBudget(job, saw, cuts or groups(), untaught=untaught)


def size(text: str) -> PartSize | Name:
    if "." not in text:
        return Name(text)
    copy, side = text.split(".")
    return PartSize(copy[0], Side(side), int(copy[1]))


OTHER_STOP = groups(a3=CutGroup("S-2", "R-a", stock="B/1"))
OTHER_FENCE = groups(a3=CutGroup("S-a", "R-2", stock="B/1"))
OTHER_BOARD = groups(a3=CutGroup("S-a", "R-a", stock="B/2"))
BY_HAND_SAW = CutGroup("S-a", "R-a", GUIDED_SAW, "B/1", GUIDED_SAW)
ONE = 0.1  # mm or rad: the size of the error that is looked at


@pytest.mark.parametrize(
    ("case", "shared", "apart", "expected"),
    [
        ("stop offset", ("a1.length", "b1.length"), ("a1.length", "a1.width"), ONE**2),
        ("stop slope", ("a1.length", "b1.length"), ("a1.length", "a1.width"), ONE**2 * 12 * 20 * INCH**2),
        ("setting", ("a1.length", "a2.length"), ("a1.length", "a3.length"), ONE**2),
        ("setting of two parts", ("a1.length", "a2.length"), ("a1.length", "b1.length"), ONE**2),
        ("repeat", ("a1.length", "a1.length"), ("a1.length", "a2.length"), ONE**2),
        ("fence angle", ("a1.length", "b1.length"), ("a1.length", "a1.width"), (ONE * 4 * INCH) ** 2),
        ("known angle", ("a1.length", "b1.length"), ("a1.length", "a1.width"), (ONE * 4 * INCH) ** 2),
        ("swing", ("a1.length", "a1.length"), ("a1.length", "a2.length"), (ONE * 4 * INCH) ** 2),
        ("rip scale", ("a1.width", "b1.width"), ("a1.width", "a1.length"), ONE**2),
        ("rip setting", ("a1.width", "a2.width"), ("a1.width", "a3.width"), ONE**2),
        ("rip repeat", ("a1.width", "a1.width"), ("a1.width", "a2.width"), ONE**2),
        ("board", ("a1.thickness", "a2.thickness"), ("a1.thickness", "a3.thickness"), ONE**2),
        ("place", ("a1.thickness", "a1.thickness"), ("a1.thickness", "a2.thickness"), ONE**2),
        ("guided", ("a1.length", "a1.length"), ("a1.length", "a2.length"), ONE**2),
        ("guided width", ("a1.width", "a1.width"), ("a1.width", "a1.length"), ONE**2),
    ],
)
def test_a_source_is_shared_exactly_within_its_scope(
    case: str, shared: tuple[str, str], apart: tuple[str, str], expected: float
) -> None:
    by_hand = groups(a1=BY_HAND_SAW, a2=BY_HAND_SAW)
    budgets = {
        "stop offset": budget(holds(offset_u=ONE)),
        "stop slope": budget(holds(slope_u=ONE)),
        "setting": budget(holds(setting=ONE), OTHER_STOP),
        "setting of two parts": budget(holds(setting=ONE)),
        "repeat": budget(holds(repeat=ONE)),
        "fence angle": budget(holds(angle_u=ONE)),
        "known angle": budget(holds(angle=ONE)),
        "swing": budget(holds(swing=ONE)),
        "rip scale": budget(holds(rip_u=ONE)),
        "rip setting": budget(holds(rip_setting=ONE), OTHER_FENCE),
        "rip repeat": budget(holds(rip_repeat=ONE)),
        "board": budget(holds(), OTHER_BOARD, TypeBError(ONE, 0.0, 0.0)),
        "place": budget(holds(), None, TypeBError(0.0, ONE, 0.0)),
        "guided": budget(holds(), by_hand, TypeBError(0.0, 0.0, ONE)),
        "guided width": budget(holds(), by_hand, TypeBError(0.0, 0.0, ONE)),
    }
    # Without any error of the instrument: what two thicknesses share of it is looked at below.
    of = UncertaintyBudget(JOB, budgets[case].holds, budgets[case].groups, (caliper(0.0),), budgets[case].untaught)
    assert covariance(*(of.actual(size(text)) for text in shared)) == pytest.approx(expected, abs=1e-12)
    assert covariance(*(of.actual(size(text)) for text in apart)) == pytest.approx(0.0, abs=1e-12)


def test_a_measured_size_goes_into_all_that_rest_on_it_and_its_limit_into_all_that_it_read() -> None:
    of = UncertaintyBudget(JOB, holds(), groups(), (caliper(ONE),), NOTHING)
    t, u, g = (of.actual(Name(name)) for name in "tug")
    assert covariance(t, of.actual(size("a1.thickness"))) == pytest.approx(ONE**2)
    assert covariance(t, u) == pytest.approx(ONE**2)  # the limit of error of one caliper
    assert covariance(t, g) == 0.0  # a rule is another instrument
    assert covariance(t, of.actual(size("a1.length"))) == 0.0


def test_repeat_of_a_reading_belongs_to_that_reading() -> None:
    of = budget(holds())  # the assumed caliper: a repeat of its own, and a limit of error
    t, u = of.actual(Name("t")), of.actual(Name("u"))
    limit = 0.02 / math.sqrt(3)
    assert covariance(t, u) == pytest.approx(limit**2)
    assert t.u**2 == pytest.approx(0.025**2 + limit**2)


def test_offset_and_slope_are_one_vector() -> None:
    # From one line: a high offset goes with a low slope, and in the middle little is left of both.
    saw = holds(offset_u=ONE)
    height = next(iter(saw.stop_offset.parts))
    slope = type(saw.stop_slope)(0.0, {height: -1.0 / (12 * INCH)})
    one = UncertaintyBudget(
        JOB,
        CutErrors(**{**{f: getattr(saw, f) for f in saw.__slots__}, "stop_slope": slope}),
        groups(),
        untaught=NOTHING,
    )
    assert one.actual(size("a1.length")).u == pytest.approx(0.0, abs=1e-12)
    assert one.actual(size("b1.length")).u == pytest.approx(ONE * 8 / 12)


def test_a_length_comes_out_at_its_target_but_for_the_rounding_of_the_scale() -> None:
    saw = holds(offset=0.3, step=INCH / 64)
    length = budget(saw).actual(size("a1.length"))
    assert length.value == pytest.approx(12 * INCH + saw.setting_for(12 * INCH).remainder_mm)
    set_by_hand = groups(a1=CutGroup("S", "R", SLED, "", RIP_FENCE, 300.0, 100.0))
    of = budget(saw, set_by_hand)
    assert of.actual(size("a1.length")).value == pytest.approx(300.3)
    assert of.actual(size("a1.width")).value == pytest.approx(100.0)
    assert of.reading_mm("a", Side.LENGTH, 1) == 300.0 and of.reading_mm("a", Side.WIDTH, 1) == 100.0


def test_a_size_that_is_not_cut_is_as_the_stock_has_it() -> None:
    of = budget(holds(setting=ONE, rip_setting=ONE), groups(a1=CutGroup("", "R-a"), a2=CutGroup("S-a", "")))
    assert of.actual(size("a1.length")).u == 0.0 and of.reading_mm("a", Side.LENGTH, 1) is None
    assert of.actual(size("a2.width")).u == 0.0


def test_the_guided_saw_has_no_scale() -> None:
    of = budget(holds(), groups(a1=BY_HAND_SAW), TypeBError())
    assert of.reading_mm("a", Side.LENGTH, 1) is None
    assert of.actual(size("a1.length")).shares() == {GUIDED: 1.0}


def test_what_is_held_back_has_no_actual_size() -> None:
    of = budget(holds())
    for side in Side:
        with pytest.raises(KeyError):
            of.size("door", side, 1)
    with pytest.raises(KeyError):
        of.actual(Name("later"))


def test_an_unknown_instrument_and_one_that_is_too_short_are_refused_together() -> None:
    job = read_job("""
[measured]
a = { is = "14", instrument = "caliper-1" }
b = { is = "3", instrument = "calliper" }
[[part]]
id = "p"
length = "a"
width = "b"
thickness = "1"
""")
    with pytest.raises(InputRefused) as caught:
        UncertaintyBudget(job, holds(), CutGroups({}), (caliper(0.01, reach=200.0),))
    said = str(caught.value)
    assert "[measured], a “14”: caliper-1 reads to 200 mm (7.87 in) only." in said
    assert "[measured], b, instrument “calliper”: There is no instrument called calliper. Did you mean caliper?" in said


def test_what_rests_on_common_practice_alone() -> None:
    saw = holds(
        assumed=("sled.stop-offset@0", "sled.stop-setting", "sled.bar-swing", "blade.kerf", "saw.blade-parallel")
    )
    lacking = assumed_labels(budget(saw))
    assert {"stop scale", "setting the stop", "bar swing", "kerf", THICKNESS_BOARD, GUIDED} <= lacking
    assert "fence angle" not in lacking and "rip scale" not in lacking
    assert {"caliper: limit of error", "rule: repeat of a reading"} <= lacking
    own = UncertaintyBudget(JOB, saw, groups(), (caliper(0.01),))
    assert "caliper: limit of error" not in assumed_labels(own)

"""Tolerances of least effort, and what is better cut to a measured opening: worked by hand."""

import math

import pytest
from tests.job.shops import INCH, NOTHING, holds

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.fits.tolerance_allocation import cut_to_fit, tolerances_needed
from trued.job.geometry.unmeasured_errors import TypeBError
from trued.job.groups import GUIDED_SAW, CutGroup, CutGroups, default_groups
from trued.job.job import Job

JOB = """
[[part]]
id = "a"
length = "12"
width = "4"
thickness = "1"
[[part]]
id = "b"
length = "6"
width = "4"
thickness = "1"
[[part]]
id = "door"
length = "measured"
width = "4"
thickness = "1"
[[fit]]
id = "f"
of = "{0}"
at_least = "{1}"
at_most = "{2}"
"""


def budget(of: str, saw: object = None, low: str = "-1mm", high: str = "1mm", more: str = "") -> UncertaintyBudget:
    job = read_job(JOB.format(of, low, high) + more)
    return UncertaintyBudget(job, saw or holds(repeat=0.1), default_groups(job), (), NOTHING)  # type: ignore[arg-type]


def test_two_sizes_that_count_alike_share_the_room_alike() -> None:
    # Room 1 mm: t² + t² = 1.
    a, b = tolerances_needed(budget("a.length - 2*b.length + 0*a.width + b.length - 6"))
    assert (a.part, a.side, a.fit) == ("a", Side.LENGTH, "f")
    assert (a.tolerance_mm, b.tolerance_mm) == pytest.approx((1 / math.sqrt(2),) * 2)
    assert a.expected_mm == pytest.approx(1.96 * 0.1, abs=0.001) and a.enough


def test_a_size_that_counts_more_must_be_the_more_exact() -> None:
    # Derivatives 8 and 1: tolerances as 8^(-2/3) : 1 = 1/4 : 1. (8/4)² + 1² = 5 room units: t_b = 1 / sqrt(5).
    a, b = tolerances_needed(budget("8*a.length - b.length - 90"))
    assert (a.tolerance_mm, b.tolerance_mm) == pytest.approx((0.25 / math.sqrt(5), 1 / math.sqrt(5)), rel=1e-6)
    # No other split with the same room takes less effort (1/t each): look beside it.
    effort = 1 / a.tolerance_mm + 1 / b.tolerance_mm
    for other in (0.9, 0.97, 1.03, 1.1):
        ta = a.tolerance_mm * other
        tb = math.sqrt(1 - (8 * ta) ** 2)
        assert 1 / ta + 1 / tb > effort


def test_the_tightest_of_several_fits_counts() -> None:
    more = '[[fit]]\nid = "g"\nof = "a.length - 12"\nat_least = "-0.1mm"\nat_most = "0.1mm"\n'
    a, _ = tolerances_needed(budget("a.length - b.length - 6", more=more))
    assert (a.fit, a.tolerance_mm) == ("g", pytest.approx(0.1)) and not a.enough


def test_one_limit_and_no_room() -> None:
    # 1.96 / 1.645 of the distance to a single limit: 95 times in 100 on one side.
    (only,) = tolerances_needed(budget("a.length - 11.5", high="100", low="0"))
    one = read_job(JOB.format("a.length - 11.5", "0", "1").replace('at_most = "1"\n', ""))
    (sided,) = tolerances_needed(UncertaintyBudget(one, holds(), default_groups(one), (), NOTHING))
    assert only.tolerance_mm == pytest.approx(0.5 * INCH)
    assert sided.tolerance_mm == pytest.approx(0.5 * INCH * 1.95996 / 1.64485, rel=1e-4)
    assert tolerances_needed(budget("a.length - 20")) == ()


def test_what_hangs_on_much_is_cut_to_what_was_measured() -> None:
    # Offset unknown by 1 mm in both lengths of the sum: 2 mm. Cut to the measured rest: reading and the last cut only.
    saw = holds(offset_u=1.0, repeat=0.05)
    (one,) = cut_to_fit(budget("a.length + b.length - 18", saw, "-0.2mm", "0.2mm"))
    assert one.fit == "f" and one.chance < 0.1
    assert one.then == pytest.approx(math.erf(0.2 / math.hypot(0.05, 0.05) / math.sqrt(2)), abs=1e-6)
    assert cut_to_fit(budget("a.length + b.length - 18", holds(repeat=0.02), "-0.2mm", "0.2mm")) == ()


def test_a_rip_and_a_guided_saw_have_their_own_last_cut() -> None:
    of, saw = "a.width - b.width + a.length - 12", holds(rip_u=0.5, rip_setting=0.03, rip_repeat=0.04, offset_u=2.0)
    found = cut_to_fit(budget(of, saw, "-0.2mm", "0.2mm"))
    assert found and found[0].then > 0.9
    job = budget(of).job
    by_hand = CutGroups({copy: CutGroup("S", "R", GUIDED_SAW, "", GUIDED_SAW) for copy in default_groups(job)})
    sawn = UncertaintyBudget(job, saw, by_hand, (), TypeBError(0.0, 0.0, guided_saw_mm=0.4))
    (one,) = cut_to_fit(sawn)
    assert one.then == pytest.approx(math.erf(1.0 / math.hypot(0.05, 0.4) / math.sqrt(2)), abs=1e-6)
    # Two cuts by hand alike to 0.2 mm: holding one back does not make it good.
    assert (
        cut_to_fit(UncertaintyBudget(found_job("-0.2mm", "0.2mm", of), saw, by_hand, (), TypeBError(guided_saw_mm=0.4)))
        == ()
    )


def found_job(low: str, high: str, of: str) -> Job:
    return read_job(JOB.format(of, low, high))


def test_the_part_that_fewest_fits_wait_for_is_held_back() -> None:
    more = '[[fit]]\nid = "g"\nof = "b.width - 4"\nat_least = "-1"\n'
    saw = holds(offset_u=1.0, repeat=0.02)
    (one,) = cut_to_fit(budget("a.length + b.length - 18", saw, "-0.2mm", "0.2mm", more))
    assert one.part == "a"
    (last,) = cut_to_fit(budget("a.length + b.length - 18", saw, "-0.2mm", "0.2mm"))
    assert last.part == "b"


def test_a_length_mends_no_angle() -> None:
    """A mitred frame that does not close is out by its angles: no side is held back for it."""
    fit = 'kind = "mitres"\nsides = ["a@1", "b@1", "a@2", "b@2"]\nwidth = "2"\nat_least = "-1/64"\nat_most = "1/64"'
    parts = "".join(
        f'[[part]]\nid = "{id}"\nquantity = 2\nlength = "{n}"\nwidth = "2"\nthickness = "3/4"\n'
        for id, n in (("a", 12), ("b", 9))
    )
    job = read_job(f'{parts}[[fit]]\nid = "f"\n{fit}\n')
    assert cut_to_fit(UncertaintyBudget(job, holds(offset_u=1.0, angle_u=1e-3), default_groups(job))) == ()


def test_one_limit_is_cut_to_what_was_meant() -> None:
    text = JOB.format("a.length + b.length - 17.9", "0", "9").replace('at_most = "9"\n', "")
    job = read_job(text)
    (one,) = cut_to_fit(UncertaintyBudget(job, holds(offset_u=5.0, repeat=0.1), default_groups(job), (), NOTHING))
    assert one.then > 0.99 > one.chance

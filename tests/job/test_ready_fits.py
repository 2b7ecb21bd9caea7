"""Ready-made fits as a job file writes them: their fields, what they come to, and which errors go into them."""

import math

import pytest
from tests.job.shops import INCH, NOTHING, holds
from tests.worlds.polygon import Polygon, clip, direction, turn

from trued.errors import InputRefused
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult, judge_fit, judge_fits, judge_job
from trued.job.geometry.unmeasured_errors import ASKEW, LIVELY, PLACE, TAPED, TILT, TypeBError
from trued.job.groups import GUIDED_SAW, CutGroup, CutGroups, default_groups
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import covariance
from trued.measure.instrument import Instrument
from trued.standing.cuts.cut_angle import CutAngle
from trued.standing.cuts.cut_errors import CutErrors
from trued.standing.cuts.feature_lookup import named_sources

PARTS = """
[sizes]
t = "0.75"
[[part]]
id = "shelf"
quantity = 2
length = "24"
width = "10"
thickness = "t"
[[part]]
id = "side"
quantity = 2
length = "30"
width = "10"
thickness = "t"
[[part]]
id = "slat"
quantity = 3
length = "20"
width = "2"
thickness = "t"
"""
FITS = {
    "clearance": 'opening = "24 1/16"\npart = "shelf"',
    "gap": 'between = "24 1/16"\nparts = ["shelf@1.length", "0.01"]',
    "flush": 'one = "side@1.length"\nother = "side@2.length"',
    "dado": 'dado = "0.755"\npart = "shelf"',
    "diagonals": 'across = ["shelf@1.length + 2*t", "shelf@2.length + 2*t"]\nup = ["side@1.length", "side@2.length"]',
    "mitres": 'sides = ["shelf@1", "side@1", "shelf@2", "side@2"]\nwidth = "2"',
    "face frame": 'frame = ["24 1/8", "30"]\ncarcass = ["shelf.length", "side.length"]',
    "lid": 'lid = ["24 1/8", "10 1/8"]\nbox = ["shelf.length", "shelf.width"]',
    "drawer": 'opening = "25 1/32"\nbox = ["shelf@1.length", "shelf@2.length"]\nslide = "1/2"\ndeep = "18"',
    "door": 'opening = "24 3/16"\ndoor = "shelf.length"\nhinge_gap = "3/32"',
    "glue-up": 'boards = ["slat@1.width", "slat@2.width", "slat@3.width"]\ndeep = "20"\nwanted = "6"',
    "row": 'opening = "8"\npieces = ["slat@1.width", "slat@2.width", "slat@3.width"]\nspacer = "1/2"\ndeep = "20"',
}
MEANT = {
    "clearance": 0.0625, "gap": 0.0525, "flush": 0.0, "dado": 0.005, "diagonals": 0.0, "mitres": 0.0,
    "face frame": 0.0625, "lid": 0.0625, "drawer": 0.03125, "door": 0.09375, "glue-up": 0.0, "row": 0.5,
}  # fmt: skip


def text(kind: str, fields: str = "") -> str:
    limits = f'at_least = "{MEANT[kind] - 0.008:.5f}"\nat_most = "{MEANT[kind] + 0.012:.5f}"'
    return f'{PARTS}[[fit]]\nid = "f"\nkind = "{kind}"\n{fields or FITS[kind]}\n{limits}\n'


def at_45(saw: CutErrors) -> CutAngle:
    label = "detent angle at 45°"
    return CutAngle("sled.detent-angle@45closed", label, named_sources((saw.fence_angle,), label)[0], "closed")


def judged(
    kind: str,
    saw: CutErrors,
    fields: str = "",
    untaught: TypeBError = NOTHING,
    groups: CutGroups | None = None,
    own: tuple[Instrument, ...] = (),
) -> FitResult:
    job = read_job(text(kind, fields))
    (fit,) = judge_fits(
        UncertaintyBudget(job, saw, groups or default_groups(job), own, untaught, at_angles={"45": at_45(saw)})
    )
    return fit


@pytest.mark.parametrize("kind", sorted(FITS))
def test_every_kind_comes_to_what_it_is_meant_to(kind: str) -> None:
    fine = Instrument("tape", "tape", 1e-9, 0.0, EstimatedSd(0.0, 10))
    fit = judged(kind, holds(), own=(fine,))
    assert fit.mean_mm == pytest.approx(MEANT[kind] * INCH, abs=1e-4)
    assert fit.sd_mm == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("kind", sorted(FITS))
def test_every_kind_has_a_spread_in_a_shop_of_which_nothing_is_known(kind: str) -> None:
    saw = holds(offset_u=0.05, setting=0.05, repeat=0.05, angle_u=4e-4, swing=1e-4, rip_setting=0.05, rip_repeat=0.05)
    fit = judged(kind, saw, untaught=TypeBError())
    assert fit.sd_mm > 0.02
    assert sum(fit.shares.values()) == pytest.approx(1.0, abs=0.05)
    assert 0.0 < fit.chance < 1.0 and fit.chance_interval[0] <= fit.chance <= fit.chance_interval[1]


@pytest.mark.parametrize(("kind", "fields"), list(FITS.items()))
def test_a_field_that_is_not_known_is_refused_with_the_nearest(kind: str, fields: str) -> None:
    own = fields.split(" ", maxsplit=1)[0]
    with pytest.raises(InputRefused, match=f"Did you mean {own}"):
        read_job(text(kind, f"{fields}\n{own}s = 3"))


@pytest.mark.parametrize(
    ("kind", "fields", "said"),
    [
        ("clearance", 'opening = "24"', 'part: Name the part: part = "shelf".'),
        ("clearance", 'opening = "24"\npart = "shelve"', "There is no part called shelve. Did you mean shelf?"),
        ("clearance", 'opening = "24"\npart = "shelf@3"', "There are 2 of shelf."),
        ("clearance", 'opening = "24"\npart = "the shelf"', "There is no part called the shelf"),
        ("clearance", 'part = "shelf"', 'This kind of fit needs it; write opening = "…".'),
        ("clearance", 'opening = 24\npart = "shelf"', 'Write this in quotes: opening = "24".'),
        ("clearance", 'opening = "bay"\npart = "shelf"', "There is no size called bay"),
        ("gap", 'between = "24"\nparts = "shelf.length"', "parts: Write a list of two and more sizes in quotes"),
        ("gap", 'between = "24"\nparts = ["1"]', "parts: Write a list of two and more sizes in quotes"),
        ("diagonals", 'across = ["24"]\nup = ["30", "30"]', "across: Write a list of 2 sizes in quotes"),
        ("diagonals", 'across = ["24", "25"]\nup = ["30", "30"]', "Opposite sides are meant to be of one size"),
        ("diagonals", 'across = ["24", "24"]\nup = ["30", "30"]\nsquared = "joints"', "by the length of one part"),
        ("diagonals", 'across = ["24", "24"]\nup = ["30", "30"]\nsquared = "eye"', "Write one of tape, joints, clamps"),
        ("mitres", 'sides = ["shelf", "side"]\nwidth = "2"', "A frame has three sides and more"),
        ("mitres", 'sides = ["shelf", 3, "side"]\nwidth = "2"', "Write a list of two and more parts"),
        ("door", FITS["door"] + '\nhung = "level"', 'high: This kind of fit needs it; write high = "…".'),
        (
            "door",
            FITS["door"] + '\nwood = "pinewood"\nsolid = "4"\nyear = [6, 12]',
            "wood “pinewood”: This wood is not known",
        ),
        ("door", FITS["door"] + '\nwood = "redd oak"\nsolid = "4"\nyear = [6, 12]', "did you mean red oak"),
        ("door", FITS["door"] + '\nwood = "red oak"\nsolid = "4"', "year: Write two percentages in a list"),
        ("door", FITS["door"] + '\nwood = "red oak"\nsolid = "4"\nyear = ["6", "12"]', "Write two percentages"),
        ("door", FITS["door"] + '\nwood = "red oak"\nyear = [6, 12]', "solid: This kind of fit needs it"),
    ],
)
def test_a_field_that_is_wrong_is_told_at_its_place(kind: str, fields: str, said: str) -> None:
    with pytest.raises(InputRefused) as caught:
        read_job(text(kind, fields))
    assert said in str(caught.value)


def test_a_kind_may_still_be_a_sum_of_the_person_s_own() -> None:
    fit = judged("diagonals", holds(repeat=0.1), 'of = "side@1.length - side@2.length"')
    assert fit.sd_mm == pytest.approx(0.1 * math.sqrt(2))


def leans(method: str) -> tuple[float, float]:
    """A board is cut by a blade along y with the fence 0.01 rad tight; how far ends 1 and 2 lean outward."""
    tight, width = 0.01, 100.0
    lying = turn([(-500.0, 0.0), (500.0, 0.0), (500.0, width), (-500.0, width)], -tight)
    # The keeper lies at negative x: what is left of the blade. Its corner at the fence edge comes out tight.
    kept = lean_at_blade(clip(lying, (1.0, 0.0), 0.0), -tight)
    if method == "rough":  # the part is turned over, the same edge to the fence again: both ends are kept ends
        return kept, kept
    # Continuous: end 1 was cut on the offcut side of the cut before; seen from its other face it lies as a kept one.
    offcut = [(-x, y) for x, y in clip(lying, (-1.0, 0.0), 0.0)]
    return lean_at_blade(offcut, tight), kept


def lean_at_blade(board: Polygon, edge: float) -> float:
    """How far the end at the blade (greatest x) leans outward, from the edge at the fence, which runs at `edge` rad."""
    low, high = sorted(sorted(board, key=lambda p: -p[0])[:2], key=lambda p: p[1])
    return edge + math.pi / 2 - direction(low, high)


@pytest.mark.parametrize("method", ["continuous", "rough"])
def test_which_way_a_tight_fence_makes_the_ends_lean(method: str) -> None:
    rough = 'method = "rough"\nrough = "1/2"\n' if method == "rough" else ""
    job = read_job(rough + PARTS)
    budget = UncertaintyBudget(job, holds(angle=0.01), default_groups(job), (), NOTHING)
    found = [budget.lean("shelf", 1, end).value for end in (1, 2)]
    assert found == pytest.approx(leans(method), abs=1e-9)


def test_ends_share_the_fence_and_not_the_swing() -> None:
    job = read_job(PARTS)
    budget = UncertaintyBudget(job, holds(angle_u=1e-3), default_groups(job), (), NOTHING)
    one, two, other = budget.lean("shelf", 1, 1), budget.lean("shelf", 1, 2), budget.lean("shelf", 2, 2)
    assert covariance(two, other) == pytest.approx(1e-6) and covariance(one, two) == pytest.approx(-1e-6)
    swinging = UncertaintyBudget(job, holds(swing=1e-3), default_groups(job), (), NOTHING)
    assert covariance(swinging.lean("shelf", 1, 1), swinging.lean("shelf", 1, 2)) == 0.0
    length = swinging.actual(next(iter(read_job(text("gap")).fits)).of)
    assert covariance(length, swinging.lean("shelf", 1, 2)) != 0.0  # the same cut made both


def test_the_edge_of_one_piece_counts_at_both_its_ends() -> None:
    job = read_job(PARTS)
    budget = UncertaintyBudget(job, holds(), default_groups(job), (), TypeBError(crook_rad=1e-3))
    one, two, other = budget.lean("shelf", 1, 1), budget.lean("shelf", 1, 2), budget.lean("shelf", 2, 1)
    assert covariance(one, two) == pytest.approx(-1e-6) and covariance(one, other) == 0.0


def test_a_guided_saw_has_no_fence() -> None:
    job = read_job(PARTS)
    by_hand = {copy: CutGroup("S", "R", GUIDED_SAW) for copy in default_groups(job)}
    lean = UncertaintyBudget(job, holds(angle_u=1.0), CutGroups(by_hand), (), TypeBError()).lean("shelf", 1, 2)
    assert lean.u == pytest.approx(0.4 / (10 * INCH))


def test_mitres_take_what_the_saw_holds_at_their_angle() -> None:
    job = read_job(text("mitres"))
    usual = UncertaintyBudget(job, holds(angle_u=1e-9), default_groups(job), (), NOTHING)
    known = UncertaintyBudget(
        job, holds(), default_groups(job), (), NOTHING, at_angles={"45": at_45(holds(angle_u=1e-4))}
    )
    # Outer corner of the last joint: each of the seven headings before it has moved, by 1e-4 each.
    assert judge_fits(usual)[0].sd_mm == pytest.approx(4 * judge_fits(known)[0].sd_mm, rel=1e-6)
    assert judge_fits(known)[0].shares == pytest.approx({"detent angle at 45°": 1.0})


def test_how_a_carcass_was_brought_square() -> None:
    saw = holds(angle_u=4e-4, swing=1e-4)
    by = {
        how: judged("diagonals", saw, f'{FITS["diagonals"]}\nsquared = "{how}"', TypeBError())
        for how in ("tape", "clamps", "joints")
    }
    # A tape to 1/32 in: 1/32 / sqrt(12) = 0.0090 in, whatever the ends are.
    assert by["tape"].sd_mm == pytest.approx(INCH / 32 / math.sqrt(12)) and set(by["tape"].shares) == {TAPED}
    # 25.5 x 30 in racked by 0.002: 2 * 25.5 * 30 / 39.37 * 0.002 = 0.0777 in.
    assert by["clamps"].sd_mm == pytest.approx(0.0777 * INCH, abs=0.001 * INCH) and ASKEW in by["clamps"].shares
    assert TILT in by["joints"].shares and "fence angle" not in by["joints"].shares


def test_a_flat_frame_left_to_its_joints_takes_the_fence_and_not_the_tilt() -> None:
    fields = f'{FITS["diagonals"]}\nsquared = "joints"\nlies = "flat"'
    fit = judged("diagonals", holds(angle_u=4e-4, swing=1e-4), fields, TypeBError(crook_rad=0.0))
    # Worked by hand: four ends, racking = fence angle (all four the same way) and half of a swing; 38.87 in a rad.
    expected = math.hypot(4e-4, 1e-4 / 2) * 2 * 25.5 * 30 / math.hypot(25.5, 30) * INCH
    assert fit.sd_mm == pytest.approx(expected, rel=1e-3)
    assert set(fit.shares) == {"fence angle", "bar swing"}


def test_matched_sides_leave_the_diagonals_alone() -> None:
    # Both sides cut at one setting, offset unknown by 0.010 in: their sum moves, the diagonals differ as before.
    fields = f'{FITS["diagonals"]}\nsquared = "joints"'
    saw = holds(offset_u=0.010 * INCH)
    assert judged("diagonals", saw, fields).sd_mm == pytest.approx(0.0, abs=1e-9)
    apart = CutGroups({(p, c): CutGroup(f"{p}{c}", "R") for p, c in default_groups(read_job(PARTS))})
    mixed = judged("diagonals", holds(setting=0.010 * INCH), fields, groups=apart)
    assert mixed.sd_mm > 0.0 or mixed.curved


def test_a_drawer_is_judged_at_its_narrowest() -> None:
    # Front and back each by their own repeat: both must fit. Limits at -0.8 and +1.2 standard deviations; a normal
    # distribution holds 0.6730 between them (tables: 0.7881 and 0.8849).
    fit = judged("drawer", holds(repeat=0.010 * INCH), f'{FITS["drawer"]}\nsquared = "clamps"')  # of which nothing here
    assert fit.method == "draws"
    assert fit.chance == pytest.approx(0.6730**2, abs=0.01)


def test_a_face_frame_is_laid_by_hand() -> None:
    fit = judged("face frame", holds(), untaught=TypeBError())
    assert fit.method == "draws" and next(iter(fit.shares)) == PLACE
    assert fit.place == "" or "side" in fit.place


# Doors in August, by hand from published coefficients (Wood Handbook, table 13-5): two oak doors with 4 in of solid
# stiles each, made 4 % drier than in August; hinge sides fixed, so both grow into the centre gap of 0.094 in.
@pytest.mark.parametrize(("grain", "left"), [("flatsawn", -0.024), ("quartersawn", 0.043)])
def test_doors_through_the_seasons(grain: str, left: float) -> None:
    fields = f"""opening = "21"
door = "(21 - 3*3/32)/2"
hinge_gap = "3/32"
leaves = "pair"
wood = "red oak"
grain = "{grain}"
solid = "4"
made_at = [8, 8]
year = [8, 12]"""
    job = read_job(text("door", fields).replace('at_most = "0.10575"', ""))
    fit = judge_fit(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING), job.fits[0])
    assert fit.mean_mm == pytest.approx(left * INCH, abs=0.001 * INCH)
    assert fit.place == "at the bottom, dampest"
    assert set(fit.shares) == {LIVELY}


def test_a_test_piece_takes_the_scale_out_and_leaves_the_caliper() -> None:
    # The first part is measured and the stop corrected: instead of the offset there is the instrument's error and the
    # repeat of that first part, for all that follow.
    job = read_job(text("gap"))
    saw = holds(offset_u=0.5, slope_u=1e-3, setting=0.3, repeat=0.04)
    caliper = Instrument("c", "caliper", 1e-9, 0.03 * math.sqrt(3), EstimatedSd(0.0, 10))
    setting = default_groups(job)["shelf", 1].length_setting
    budget = UncertaintyBudget(job, saw, default_groups(job), (), NOTHING, tested={setting: caliper})
    (fit,) = judge_fits(budget)
    assert fit.sd_mm == pytest.approx(math.sqrt(0.03**2 + 2 * 0.04**2))
    both = budget.actual(job.fits[0].of, {})
    assert both.value == pytest.approx(0.0525 * INCH)


def test_a_joint_s_depth_is_cut_with_an_error_of_its_own() -> None:
    cut = PARTS.replace('t = "0.75"', 't = "0.75"\ndepth = { is = "1/4", cut = true }')
    job = read_job(cut + '[[fit]]\nid = "f"\nof = "side.length + 2*depth - 30"\nat_least = "0"\nat_most = "1"\n')
    (fit,) = judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), TypeBError(joint_mm=0.1)))
    assert fit.sd_mm == pytest.approx(0.2) and set(fit.shares) == {"joint cut"}
    job = read_job(cut + '[[fit]]\nid = "f"\nkind = "dado"\ndado = "depth"\npart = "shelf"\nat_least = "-1"\n')
    (dado,) = judge_fits(UncertaintyBudget(job, holds(), default_groups(job), (), TypeBError(0.0, 0.0, joint_mm=0.1)))
    assert dado.sd_mm == pytest.approx(0.1)  # once, not twice


def test_all_kinds_in_one_job_are_drawn_together() -> None:
    rows = "".join(
        f'[[fit]]\nid = "{kind}"\nkind = "{kind}"\n{fields}\nat_least = "-1/16"\nat_most = "1"\n'
        for kind, fields in FITS.items()
    )
    job = read_job(PARTS + rows)
    saw = holds(offset_u=0.05, setting=0.05, repeat=0.05, angle_u=4e-4)
    found = judge_job(UncertaintyBudget(job, saw, default_groups(job), (), TypeBError()))
    assert found.chance is not None and found.chance_interval is not None
    assert len(found.fits) == len(FITS) and found.chance <= min(fit.chance for fit in found.fits)
    again = judge_job(UncertaintyBudget(job, saw, default_groups(job), (), TypeBError()))
    assert again == found


@pytest.mark.parametrize(
    ("squared", "u"),
    [("tape", 1 / 32 / math.sqrt(12) * math.hypot(24, 30) / (2 * 24 * 30)), ("clamps", 2e-3), ("joints", 5e-4)],
)
def test_a_racked_frame_shows_at_its_corners(squared: str, u: float) -> None:
    # Laid exactly; the carcass leans by u, the frame not at all: half its height times that at each corner.
    fields = 'frame = ["24 1/8", "30"]\ncarcass = ["shelf.length", "30"]\nframe_squared = "joints"\n'
    fields += f'carcass_squared = "{squared}"'
    errors = TypeBError(0, 0, 0, 0, tilt_rad=5e-4, flat_rad=0, taper_rad=0, joint_mm=0, place_mm=0)
    fit = judged("face frame", holds(), fields, errors)
    both = 0.0 if squared == "joints" else math.hypot(u, 5e-4)  # one blade leans both alike
    assert fit.sd_mm == pytest.approx(15 * INCH * both, rel=0.01, abs=1e-3)


def test_a_pair_of_doors_that_hang_level_part_evenly() -> None:
    fields = (
        'opening = ["48", "48.02"]\ndoor = "23.9"\nhinge_gap = "0.05"\nleaves = "pair"\nhung = "level"\nhigh = "30"'
    )
    job = read_job(text("door", fields))
    fit = judge_fit(UncertaintyBudget(job, holds(), default_groups(job), (), NOTHING), job.fits[0])
    assert fit.mean_mm == pytest.approx(0.11 * INCH) and fit.place == ""

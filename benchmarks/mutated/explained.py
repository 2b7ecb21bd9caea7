"""Changes that turn something and still give the same result for every input, each with its reason.

Found by the line's own words, so that a line that is written anew is asked about again. They count as not noticed.
"""

from __future__ import annotations

_TWO_MEANS = (
    "The deviations of one factor add up to nought, so what is added to the other, if always the same, is lost."
)
_SYMMETRIC = "Panels and nodes lie symmetric about the middle of the even spread: the same terms in another order."
_ANY_POINTS = (
    "It only chooses with which points the search goes on. It ends where no point stands out of the zone, whichever "
    "were chosen on the way: another choice takes longer, and cannot end elsewhere."
)
_CHOSEN = "_touching(active, slopes) if zone > last else active"
_SETTLED = "It only says when to stop: without it the fraction is carried on long after its digits stand still."

EXPLAINED: dict[tuple[str, str], tuple[tuple[str, ...], str]] = {
    ("chi_square.py", "if abs(c * d - 1.0) < 1e-16:"): (("- -> +",), _SETTLED),
    ("estimate.py", "panels = max(1, min(32, math.ceil(2.0 * edge / rest)))"): (
        ("min -> max",),
        "More panels than are needed give the same integral.",
    ),
    ("estimate.py", "total += weight * t_cdf((away - centre - side * width / 2.0) / rest, dof)"): (
        ("- -> +",),
        _SYMMETRIC,
    ),
    ("flatness.py", "while len(chain) > 1 and _left_turn(chain[-2], chain[-1], p) <= 0.0:"): (
        ("<= -> >=",),
        "Both hulls are walked, upper and lower: they change places.",
    ),
    ("flatness.py", "math.fsum((p[i] - mean_i) * (p[j] - mean_j) for p in places)"): (("- -> +",), _TWO_MEANS),
    ("flatness.py", "active, last = _corners(places), -1.0"): (("-1.0 -> (1.0)",), _ANY_POINTS),
    ("flatness.py", "active = [*(_touching(active, slopes) if zone > last else active), *new]"): (
        (
            "> -> <",
            f"{_CHOSEN} -> (active) if (zone > last) else (_touching(active, slopes))",
        ),
        _ANY_POINTS,
    ),
    ("flatness.py", "low, high = min(above), max(above)"): (("min -> max", "max -> min"), _ANY_POINTS),
    (
        "flatness.py",
        "return [p for p, z in zip(places, above, strict=True) if z - low <= near or high - z <= near]",
    ): (("- -> +", "<= -> >="), _ANY_POINTS),
    ("line.py", "slope = sum((a - x_mean) * (b - y_mean) for a, b in zip(x, y, strict=True)) / sxx"): (
        ("- -> +",),
        _TWO_MEANS,
    ),
    ("student.py", "if x < (a + 1.0) / (a + b + 2.0):"): (
        ("+ -> -",),
        "It chooses between two fractions of the same function: the other one only takes more steps.",
    ),
    ("variance.py", "if len(parts) < 2 or len(hands) < 2 or not whole or min(counts) < 2:"): (
        ("min -> max",),
        "All counts are alike where it is asked.",
    ),
    ("which_dominates.py", "return not (beyond and len({run.difference > 0.0 for run in runs}) == 1)"): (
        ("> -> <",),
        "All above nought or all below it, asked from either side; an exact nought among them is no size that is read.",
    ),
    ("detent_angle.py", "return [(values[i], values[i + n // 2]) for i in range(n // 2)]"): (
        ("+ -> -",),
        "Round a ring of an even number, half of it on and half of it back is the same piece.",
    ),
}


def explained(file: str, line: str, told: str) -> str:
    """The reason; "" when there is none."""
    changes, reason = EXPLAINED.get((file, line.strip()), ((), ""))
    return reason if told in changes else ""

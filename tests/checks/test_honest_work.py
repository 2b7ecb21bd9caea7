"""Instruments, stock and work: clean runs are not stopped, and a blunder that is planted in one is named."""

from collections.abc import Callable

import numpy as np
import pytest
from tests.checks.ran import simulate
from tests.checks.simulated_work import WORLDS

from trued.checks import find_check
from trued.procedure import RunInput, Severity, take

INCH = 25.4
Plant = Callable[[list[str]], list[str]]


def codes_of(taken: RunInput) -> dict[str, Severity]:
    rules = (*taken.check.dangers, *taken.check.blunders)
    return {seen.code: seen.act for rule in rules if (seen := rule(taken)) is not None}


@pytest.mark.parametrize("check", WORLDS)
def test_honest_runs_are_hardly_ever_doubted(check: str) -> None:
    """Fewer than 1 in 100 clean runs raise a warning that withholds a move; 2 in 250 is the most that is let pass."""
    runs = simulate(WORLDS[check], 250, 30)
    stopped = sum(any(act is not Severity.NOTE for act in codes_of(one).values()) for _, one in runs)
    assert stopped <= 2


def changed(name: str, change: Callable[[float], float]) -> Plant:
    """The first reading of that name, typed otherwise; mm."""

    def plant(typed: list[str]) -> list[str]:
        at = next(i for i, text in enumerate(typed) if text.startswith(name))
        left, _, value = typed[at].partition("=")
        return [*typed[:at], f"{left}={change(float(value.removesuffix('mm'))):.4f}mm", *typed[at + 1 :]]

    return plant


def said(name: str, word: str) -> Plant:
    return lambda typed: [*(text for text in typed if not text.startswith(f"{name}=")), f"{name}={word}"]


def all_alike(name: str, value: str) -> Plant:
    return lambda typed: [f"{name}={value}" if text.startswith(f"{name}=") else text for text in typed]


def every(name: str, by_mm: float) -> Plant:
    """All readings of that name longer by so much."""

    def plant(typed: list[str]) -> list[str]:
        return [changed(name, lambda mm: mm + by_mm)([t])[0] if t.startswith(f"{name}=") else t for t in typed]

    return plant


PLANTED: list[tuple[str, str, Plant]] = [
    ("caliper", "unit-slip", changed("edge", lambda mm: mm / INCH)),
    ("caliper", "burned-inch", every("from_line", 10 * INCH)),
    ("caliper", "light-in-jaws", said("light", "yes")),
    ("sight-line", "unit-slip", changed("to_cut", lambda mm: mm / INCH)),
    ("sight-line", "burned-inch", changed("to_cut", lambda mm: mm + INCH)),
    ("sight-line", "narrow-facing", lambda t: [x if not x.startswith("facing") else "facing_kerf=1.0mm" for x in t]),
    ("stock", "unit-slip", changed("thickness", lambda mm: mm / INCH)),
    ("stock", "nominal", all_alike("thickness", "3/4in")),
    ("stock", "moisture-uneven", lambda t: [*t, "moisture=19.5"]),
    ("stock", "unpaired", lambda t: [x for x in t if not x.startswith("crook_length")]),
    ("dado", "unit-slip", changed("shelf", lambda mm: mm / INCH)),
    ("dado", "nominal", all_alike("shelf", "18mm")),
    ("dado", "groove-uneven", changed("groove", lambda mm: mm + 0.3)),
    ("rip-parallel", "unit-slip", changed("middle", lambda mm: mm / INCH)),
    ("rip-parallel", "other-setting", changed("trail", lambda mm: mm + 2.5)),
    ("diagonals", "unit-slip", changed("diagonal_2", lambda mm: mm / INCH)),
    ("diagonals", "burned-inch", every("diagonal_1", INCH)),
    ("diagonals", "opposite-sides", changed("other_width", lambda mm: mm - 6.0)),
    ("support", "foot-lifted", said("foot_lifted@end", "yes")),
    ("support", "more-than-all", lambda t: [x if not x.startswith("held@end") else "held@end=40kg" for x in t]),
    ("support", "unpaired", lambda t: [x for x in t if not x.startswith("span@start")]),
]  # fmt: skip


@pytest.mark.parametrize(("check", "code", "plant"), PLANTED, ids=[f"{c}: {code}" for c, code, _ in PLANTED])
def test_a_planted_blunder_is_named(check: str, code: str, plant: Plant) -> None:
    """In at least 9 of 10 runs, whatever fault the saw has."""
    rng, runs, named = np.random.default_rng(31), 40, 0
    for _ in range(runs):
        one = WORLDS[check](rng)
        given = plant(list(one.typed))
        named += code in codes_of(take(find_check(check), given, one.facts, instruments=one.instruments, unit="mm"))
    assert named / runs >= 0.9

"""Fence, detents, table and wing: clean runs are not stopped, and a blunder that is planted in one is named."""

from collections.abc import Callable

import numpy as np
import pytest
from tests.checks.ran import Simulated, World, simulate
from tests.checks.simulated_fence import WORLDS as FENCE
from tests.checks.simulated_table import WORLDS as TABLE

from trued.procedure import RunInput, Severity

ALL: dict[str, World] = {**FENCE, **TABLE}
Plant = Callable[[list[str], np.random.Generator], list[str] | None]


def codes_of(taken: RunInput) -> dict[str, Severity]:
    return {seen.code: seen.act for blunder in taken.check.blunders if (seen := blunder(taken)) is not None}


@pytest.mark.parametrize("check", ALL)
def test_honest_runs_are_hardly_ever_doubted(check: str) -> None:
    """Fewer than 1 in 100 clean runs raise a warning that withholds a move; 2 in 250 is the most that is let pass."""
    runs = 250 if check != "table" else 60
    stopped = sum(
        any(act is not Severity.NOTE for act in codes_of(one).values()) for _, one in simulate(ALL[check], runs, 30)
    )
    assert stopped <= 2


def _mm(text: str) -> float:
    return float(text.partition("=")[2].removesuffix("mm"))


def _changed(typed: list[str], name: str, change: Callable[[float], float], rng: np.random.Generator) -> list[str]:
    """One reading of that name, picked anew each time, typed otherwise."""
    mine = [i for i, text in enumerate(typed) if text.startswith(name)]
    at = int(rng.choice(mine))
    return [f"{text.partition('=')[0]}={change(_mm(text)):.4f}mm" if i == at else text for i, text in enumerate(typed)]


def _slipped(name: str) -> Plant:
    return lambda typed, rng: _changed(typed, name, lambda mm: mm / 25.4, rng)


def _worded(old: str, new: str) -> Plant:
    return lambda typed, _rng: [text.replace(old, new) for text in typed] if any(old in t for t in typed) else None


def _all(name: str, by: float) -> Plant:
    """Every reading of that name and place more by so much."""
    return lambda typed, _rng: [f"{name}={_mm(t) + by:.4f}mm" if t.startswith(f"{name}=") else t for t in typed]


def _swapped_line(typed: list[str], rng: np.random.Generator) -> list[str] | None:
    """A line that is clearly hollow typed as crowned, or the other way."""
    lines = [i for i, text in enumerate(typed) if "@blade" not in text and "@" in text and "scribed" not in text]
    clear = [i for i in lines if _mm(typed[i]) > 0.35]
    if not clear:
        return None
    at = int(rng.choice(clear))
    word, _, rest = typed[at].partition("@")
    return [*typed[:at], f"{'crown' if word == 'hollow' else 'hollow'}@{rest}", *typed[at + 1 :]]


def _wrong_word(typed: list[str], _rng: np.random.Generator) -> list[str] | None:
    """The joint of a wing that is clearly low typed as high at all places, while the card says the truth."""
    joints = [text for text in typed if text.startswith("joint_low") and _mm(text) > 0.1]
    if len(joints) < 3:
        return None
    return [text.replace("joint_low", "joint_high") for text in typed] + ["card=on-table"]


def _creeping(typed: list[str], _rng: np.random.Generator) -> list[str]:
    """The indicator's stand gives way by 0.1 mm from one engagement to the next."""
    made, n = [], 0
    for text in typed:
        name = text.partition("=")[0]
        if name == "reach":
            made.append(text)
            continue
        made.append(f"{name}={_mm(text) + 0.4 * n:.4f}mm")
        n += 1
    return made


PLANTED: list[tuple[str, str, Plant]] = [
    ("flip", "unit-slip", _slipped("board")),
    ("flip", "not-rolled", _worded("mark=under", "mark=up")),
    ("flip", "gap-without-place", _worded("where=away", "where=none")),
    ("flip", "not-parallel", _all("board@offcut", 0.3)),
    ("flip", "burr", lambda typed, rng: _changed(typed, "board", lambda mm: mm + 0.4, rng)),
    ("fence-straight", "wavy", lambda typed, rng: _changed(typed, "gap@304.8", lambda mm: mm + 1.0, rng)),
    ("fence-upright", "unit-slip", _slipped("block")),
    ("fence-upright", "faces-not-parallel", _all("block@top", 1.0)),
    ("fence-upright", "burr", lambda typed, rng: _changed(typed, "block", lambda mm: mm + 0.4, rng)),
    ("detent-repeat", "one-apart", lambda typed, rng: _changed(typed, "closing", lambda mm: mm + 6.0, rng)),
    ("detent-repeat", "drifting", _creeping),
    ("detent-angle", "unit-slip", _slipped("piece")),
    ("detent-angle", "two-detents", _worded("ends=one", "ends=two")),
    ("detent-angle", "unequal-pieces", lambda typed, rng: _changed(typed, "piece", lambda mm: mm + 3.0, rng)),
    ("detent-angle", "gap-without-place", _worded("where=inside", "where=none")),
    ("table", "does-not-close", _swapped_line),
    ("table", "lines-missing", lambda typed, _rng: [t for t in typed if "@far" not in t]),
    ("wing", "card-says-otherwise", _wrong_word),
    ("wing", "too-much", lambda typed, rng: _changed(typed, "outer", lambda mm: mm + 10.0, rng)),
]


@pytest.mark.parametrize(("check", "code", "plant"), PLANTED, ids=lambda value: value if isinstance(value, str) else "")
def test_a_planted_blunder_is_named(check: str, code: str, plant: Plant) -> None:
    """In 9 of 10 runs or more where the readings can show it."""
    rng, named, shown = np.random.default_rng(5), 0, 0

    def world(own: np.random.Generator) -> Simulated:
        while True:
            one = ALL[check](own)
            typed = plant(list(one.typed), rng)
            if typed is not None:
                return Simulated(one.check, typed, one.truth, one.facts, one.scatter, one.instruments)

    for _, taken in simulate(world, 40 if check != "table" else 20, seed=6):
        shown += 1
        named += code in codes_of(taken)
    assert named >= 0.9 * shown

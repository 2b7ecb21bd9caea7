"""The fits of a kept plan, as they were told."""

from __future__ import annotations

from dataclasses import dataclass

from trued.drawing.shapes import Drawing
from trued.measure.decision import LEVEL
from trued.plan.document import PlanFit
from trued.units import Unit
from trued.usecases.plan.fit_drawing import fit_picture
from trued.usecases.plan.words import beside_words, chance_words, limits_words, small
from trued.words.error_keys import all_labeled, labeled


@dataclass(frozen=True, slots=True)
class KeptFit:
    """One fit in words; `drawing` None while no spread is known.

    beside: what stands beside the chance where it does not rest on this shop.
    """

    name: str
    needed: str
    expected: str
    spread: str
    chance: str
    beside: str
    sure: bool
    because: tuple[str, ...]
    drawing: Drawing | None


def fit_of(fit: PlanFit, unit: Unit) -> KeptFit:
    """One fit of the plan."""
    assumed, shares = all_labeled(fit.assumed or ()), labeled(fit.shares or {})
    chance = "not known: no shop is known" if fit.chance is None else chance_words(fit.chance)
    drawn = (
        fit_picture(fit.name, fit.mean_mm, fit.sd_mm, fit.limits_mm, shares, assumed, chance, unit)
        if fit.sd_mm
        else None
    )
    return KeptFit(
        name=fit.name,
        needed=limits_words(fit, unit),
        expected=small(fit.mean_mm, unit),
        spread=" and ".join(small(end, unit) for end in fit.interval95_mm or ()),
        chance=chance,
        beside=beside_words(fit),
        sure=fit.chance is not None and fit.chance >= LEVEL,
        because=tuple(
            f"{label}{' (assumed)' if label in assumed else ''}" for label, share in shares.items() if share >= _TOLD
        ),
        drawing=drawn,
    )


_TOLD = 0.05

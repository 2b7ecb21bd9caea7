"""Recipes to begin with, and how one becomes better: a small change at a time."""

from dataclasses import replace

from trued.plan.layout.task import Task
from trued.plan.rng import Rng
from trued.plan.search.best import Best
from trued.plan.search.decode import FITS, SPLITS, Recipe

POLISH = 400
"""Changes without a gain after which a layout is not bettered further at the same cost."""
STALE = 60
"""Changes without a gain after which the search starts again from another order."""


def orders(task: Task) -> list[Recipe]:
    """Starting recipes: parts by size in five senses, in rows, with every way to split and fit."""
    wants = task.wants
    keys = (
        [-(want.length * want.width) for want in wants],
        [-max(want.length, want.width) for want in wants],
        [-want.width for want in wants],
        [-want.length for want in wants],
        [-(want.length + want.width) for want in wants],
    )
    orders = []
    for key in keys:
        order = tuple((want, wants[want].copies) for want in sorted(range(len(wants)), key=lambda w: (key[w], w)))
        orders += [Recipe(order, fit, split) for split, fit in ((1, 0), (2, 0), (0, 0), (1, 2), (0, 1), (3, 0), (4, 0))]
    return orders


def climb(best: Best, bins: tuple[int, ...], start: Recipe | None, budget: int) -> None:
    """Change a recipe a little at a time and keep what is no worse; begin anew where that leads nowhere."""
    starts = orders(best.task)
    stop = best.spent + min(budget, best.left)
    recipe = start or starts[best.chance.below(len(starts))]
    verdict = best.attempt(recipe, bins)
    stale = 0
    while best.spent < stop and best.left and not (start is None and verdict.missing == 0):
        other = _changed(recipe, best.chance)
        now = best.attempt(other, bins)
        stale = 0 if now < verdict else stale + 1
        if now <= verdict:
            recipe, verdict = other, now
        if start is not None and stale > POLISH:
            return
        if start is None and stale > STALE:
            recipe, stale = starts[best.chance.below(len(starts))], 0
            verdict = best.attempt(recipe, bins)


def _changed(recipe: Recipe, chance: Rng) -> Recipe:
    order = list(recipe.order)
    what = chance.below(100)
    if what < 20:
        return replace(recipe, fit=chance.below(FITS)) if what < 10 else replace(recipe, split=chance.below(SPLITS))
    place = chance.below(len(order))
    if what < 40:  # part a row
        want, count = order[place]
        if count > 1:
            some = 1 + chance.below(count - 1)
            order[place] = (want, count - some)
            order.insert(chance.below(len(order) + 1), (want, some))
            return replace(recipe, order=tuple(order))
    if what < 60:
        other = chance.below(len(order))
        order[place], order[other] = order[other], order[place]
    else:
        item = order.pop(place)
        order.insert(chance.below(len(order) + 1), item)
    return replace(recipe, order=_joined(order))


def _joined(order: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Rows of the same part that came to stand side by side are one row again."""
    joined: list[tuple[int, int]] = []
    for want, count in order:
        if joined and joined[-1][0] == want:
            joined[-1] = (want, joined[-1][1] + count)
        else:
            joined.append((want, count))
    return tuple(joined)

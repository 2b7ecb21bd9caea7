"""Blunders that an ask declares of its own readings: a size that cannot be 0, sizes about alike, a burr on an edge.

A check may say where among its warnings one of them stands, by naming it there; else they come first.
"""

from __future__ import annotations

from trued.procedure.declaration import Flag, RunInput, Severity
from trued.procedure.gross_errors import rough_edge, unit_slip
from trued.procedure.quantities import place


def no_size(taken: RunInput) -> Flag | None:
    """Sizes of 0 where an ask says that there can be none: refused, in the words of the first such ask."""
    for words in dict.fromkeys(ask.positive for ask in taken.check.asks if ask.positive):
        asks = [ask.name for ask in taken.check.asks if ask.positive == words]
        zero = [r for name in asks for r in taken.of(name) if r.value <= 0.0]
        if zero:
            names, places = " and ".join(dict.fromkeys(r.name for r in zero)), ", ".join(map(place, zero))
            return Flag("no-size", Severity.REFUSE, words.format(names=names, places=places))
    return None


def slipped_unit(taken: RunInput) -> Flag | None:
    """One of the sizes that are about alike was typed in the other unit: refused, with what it may be."""
    for group in dict.fromkeys(ask.alike for ask in taken.check.asks if ask.alike):
        readings = [r for ask in taken.check.asks if ask.alike == group for r in taken.of(ask.name)]
        if (slip := unit_slip(taken, readings)) is not None:
            return slip
    return None


def burr(taken: RunInput) -> Flag | None:
    """Readings of one spot that do not agree, where an ask reads an edge: fuzz or a burr."""
    names = [ask.name for ask in taken.check.asks if ask.edge and taken.has(ask.name)]
    return rough_edge(taken, names) if names else None


RULES = (no_size, slipped_unit, burr)


def undeclared(taken: RunInput) -> list[Flag]:
    """What those rules show that the check does not name among its own warnings."""
    seen = (rule(taken) for rule in RULES if rule not in taken.check.blunders)
    return [flag for flag in seen if flag is not None]

"""How many words an output may have, warnings counted. A budget yields to warnings, never the other way round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tests.words.outputs import PAGE, PAPER, TERMINAL, Books, Output
from tests.words.user_text import Fault, faults

WARNINGS_INSIDE = 25
"""So many words of warning have room in a budget; what a step needs beyond them is no fault of the wording."""


@dataclass(frozen=True, slots=True)
class Budget:
    """For every output whose row begins with `row` at that place. `each`: words of one of its pages or cuts."""

    row: str
    place: str
    words: int
    each: bool = False


WING_LIKE = (
    "arbor",
    "blade-parallel",
    "five-cut",
    "insert",
    "knife",
    "rip-fence",
    "support",
    "table",
    "tilt-45",
    "wing",
)
"""Checks with more than six readings in their own example."""

BUDGETS: tuple[Budget, ...] = (  # the first that fits counts
    Budget("check, order, first time", TERMINAL, 130),
    Budget("check, order, moved before", TERMINAL, 75),
    Budget("check, several features", TERMINAL, 130),
    Budget("check, in tolerance", TERMINAL, 50),
    Budget("check, no limit", TERMINAL, 50),
    Budget("check, not known yet", TERMINAL, 65),
    Budget("check, bad run", TERMINAL, 70),
    Budget("check, ", TERMINAL, 130),
    *(Budget(f"check help, {id}", TERMINAL, 180) for id in WING_LIKE if id != "five-cut"),
    Budget("check help", TERMINAL, 150),
    Budget("standing, empty", TERMINAL, 40),
    Budget("standing, one in", TERMINAL, 50),
    Budget("standing, one out", TERMINAL, 90),
    Budget("standing, half-known", TERMINAL, 120),
    Budget("standing, full", TERMINAL, 150),
    Budget("plan summary", TERMINAL, 220),
    Budget("one ticket", TERMINAL, 85),
    Budget("one ticket", PAGE, 85),
    Budget("cut sheets", PAPER, 55, each=True),
    Budget("whole PDF", PAPER, 900),
    Budget("home page", PAGE, 120),
    Budget("check page (form)", PAGE, 220),
    Budget("result page", PAGE, 80),
    Budget("checks list page", PAGE, 150),
    Budget("job page", PAGE, 180),
    Budget("history page", PAGE, 80),
    Budget("event", TERMINAL, 70),
    Budget("event", PAGE, 70),
    Budget("move recorded", TERMINAL, 20),
    Budget("move page", PAGE, 60),
    Budget("parts check", TERMINAL, 90),
    Budget("refusal", TERMINAL, 30),
)


def budget_of(output: Output) -> Budget:
    """LookupError: no row is for it."""
    for budget in BUDGETS:
        if budget.place == output.place and output.row.startswith(budget.row):
            return budget
    raise LookupError(output.row)


def words_over(output: Output) -> int:
    """How many words too many it has, after it was given room for its warnings; 0 or less is within."""
    budget = budget_of(output)
    share = output.pages if budget.each else 1
    room = budget.words * share + max(0, output.warning_words - WARNINGS_INSIDE * share)
    return output.words - room


def faults_of(output: Output) -> list[Fault]:
    """Banned phrases and long sentences of what is seen."""
    return list(faults(output.unbroken, on_page=output.place == PAGE))


def by_budget(books: Books) -> Iterator[tuple[Budget, list[Output]]]:
    """The outputs of each budget, in its order; a budget without any is left out."""
    for budget in BUDGETS:
        found = [output for output in books.outputs if budget_of(output) is budget]
        if found:
            yield budget, found

"""Plan the job of a form once: the same form sent again is the same plan, and what differs is asked about."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import InputRefused
from trued.units import Unit, read_length
from trued.usecases.plan.formats import OtherFormat, read_plan
from trued.usecases.plan.shop import GIVEN
from trued.usecases.questions.asking import settle
from trued.usecases.questions.once import Place, Sent, place_of
from trued.usecases.saved.saved_plan import unit_of
from trued.usecases.shop.shop_now import opened

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import PlanRow


def plan_once(
    text: str,
    kerf: str | None,
    book: Path,
    key: str,
    *,
    seconds: float,
    out: Callable[[str], Path],
    answers: Sequence[str] = (),
) -> str:
    """The id of the plan that is kept now, or was when the form of that `key` was sent before; `out` is the folder for
    the sheets of a plan of that id.

    InputRefused as `plan_job` says it; Asks when something else was sent under the key.
    """
    with opened(book) as kept:
        place = _place(kept, text, kerf, key)
    if place.there is not None:
        return place.there.id
    settle(place.questions, answers)
    from trued.usecases.plan.plan_job import plan_job  # loads all of the planning, which no other page needs

    return plan_job(text, book=book, kerf=kerf, seconds=seconds, out=out(place.id), key=place.id).kept


def _place(book: Book, text: str, kerf: str | None, key: str) -> Place[PlanRow]:
    jobs = {job.id: job for job in book.jobs()}
    plans = {plan.id: plan for plan in book.plans()}

    def look(id: str) -> Sent[PlanRow] | None:
        plan = plans.get(id)
        return None if plan is None else Sent(plan, plan)

    def same(plan: PlanRow) -> bool:
        job = jobs[plan.job]
        return job.text == text and _same_kerf(plan, kerf, unit_of(job.text, book.shop().unit))

    def told(plan: PlanRow) -> str:
        return f"{jobs[plan.job].name}, list {plan.version}"

    return place_of(key, repr((text, kerf)), look, same, told, replaces=lambda _: False)


def _same_kerf(plan: PlanRow, kerf: str | None, unit: Unit) -> bool:
    """Whether that plan was made with the kerf that is typed, or with none typed."""
    made = read_plan(plan.json)
    if isinstance(made, OtherFormat):
        return False
    if kerf is None or made.kerf.source != GIVEN:
        return (kerf is None) == (made.kerf.source != GIVEN)
    try:
        return abs(read_length(kerf, unit, where="--kerf").mm - made.kerf.mm) < _ROUNDING_MM
    except InputRefused:
        return False


_ROUNDING_MM = 1e-6

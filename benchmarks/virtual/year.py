"""A year at one virtual shop: days pass, the saw is carried now and then, and the fence is looked at when it is due.

With the tool it is due when the standing says so (a date, or an event). Without it, after each carry and every 91 days
(common practice: three months), set by full correction and seen in twice.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from benchmarks.virtual.nature import Nature
from benchmarks.virtual.sled import Sled
from benchmarks.virtual.stand_ins import full, set_by
from benchmarks.virtual.told import TOLERANCE
from benchmarks.virtual.with_tool import Person

from trued.standing.feature_status import FeatureStatus

DAYS = 365
CARRIED_IN = 1.0 / 60.0  # chance on a day
EVERY = 91


@dataclass(slots=True)
class Year:
    """Runs after the first session, and days on which the fence was out of tolerance and nobody knew."""

    runs: int = 0
    days_out: int = 0
    times: int = 0


def with_tool(nature: Nature, seed: int, number: int) -> Year:
    """The person looks when the standing says so."""
    person = Person(Sled(nature, seed, number))
    person.set_true()
    rng, year = Random(f"year:{seed}:{number}"), Year()  # noqa: S311 - a benchmark
    standing = person.standing()
    for _ in range(DAYS):
        person.sled.rest(1.0)
        person.wait(days=1.0)
        carried = rng.random() < CARRIED_IN
        if carried:
            person.sled.carry()
            person.event("saw-carried")
        if carried or _due(standing, person):
            year.runs += person.set_true().runs
            year.times += 1
            standing = person.standing()
        year.days_out += abs(person.sled.x) > TOLERANCE
    return year


def _due(standing: FeatureStatus, person: Person) -> bool:
    again = standing.look_again
    return again is None or (again.date is not None and person.now >= again.date)


def by_calendar(nature: Nature, seed: int, number: int) -> Year:
    """After each carry, and every three months."""
    sled, rng, year = Sled(nature, seed, number), Random(f"year:{seed}:{number}"), Year()  # noqa: S311 - a benchmark
    hand = Random(f"hand:{seed}:{number}")  # noqa: S311 - a benchmark
    set_by(full, sled, hand, 2)
    for day in range(1, DAYS + 1):
        sled.rest(1.0)
        carried = rng.random() < CARRIED_IN
        if carried:
            sled.carry()
        if carried or day % EVERY == 0:
            year.runs += set_by(full, sled, hand, 2).runs
            year.times += 1
        year.days_out += abs(sled.x) > TOLERANCE
    return year

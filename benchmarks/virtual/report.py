"""All policies on the same shops, and one line for each."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from random import Random

from benchmarks.virtual.nature import Nature
from benchmarks.virtual.oracle import sessions
from benchmarks.virtual.sled import Sled
from benchmarks.virtual.stand_ins import RULES, set_by
from benchmarks.virtual.told import Told
from benchmarks.virtual.with_tool import Person
from benchmarks.virtual.year import by_calendar, with_tool

EVENT = "screw-touched"
Came = dict[str, list[Told]]


def first_session(nature: Nature, seed: int, number: int) -> Told:
    """A new book: no untouched pair, nothing known of the scatter here."""
    return Person(Sled(nature, seed, number)).set_true()


def later_session(pairs: int, nature: Nature, seed: int, number: int) -> Told:
    """A book with so many untouched pairs, a month apart; then the screw was touched, and it is out again."""
    person = Person(Sled(nature, seed, number))
    for _ in range(pairs):
        person.run()
        person.run()
        person.wait(days=30.0)
        person.event(EVENT)
        person.sled.another_start()
    return person.set_true()


def stand_in(name: str, evidence: int, nature: Nature, seed: int, number: int) -> Told:
    """One of the rules at one shop."""
    hand = Random(f"{name}:{seed}:{number}")  # noqa: S311 - a benchmark, not a secret
    return set_by(RULES[name], Sled(nature, seed, number), hand, evidence)


def oracle(evidence: int, stay: float, nature: Nature, seed: int, shops: int) -> list[Told]:
    """The oracle at all shops."""
    return sessions([Sled(nature, seed, number) for number in range(shops)], nature, evidence, stay)


def what_came(nature: Nature, seed: int, shops: int, cores: int, only: str) -> Came:
    """Every policy on the shops of that seed."""
    each = partial(_each, nature=nature, seed=seed, shops=shops, cores=cores)
    came = {
        "the tool, first session": each(first_session),
        "the tool, a pair on record": each(partial(later_session, 1)),
    }
    if nature.name == "changed":
        came["the tool, ten pairs on record"] = each(partial(later_session, 10))
    if only == "tool":
        return came
    for evidence, text in ((2, "seen in twice"), (1, "seen in once")):
        for name in RULES:
            came[f"{name}, {text}"] = each(partial(stand_in, name, evidence))
    for evidence, text in ((2, "seen in twice"), (0, "at its own 95 %")):
        tried = [(oracle(evidence, stay, nature, seed, shops), stay) for stay in (0.45, 0.6, 0.75, 0.85, 0.92)]
        best, stay = min(tried, key=lambda pair: sum(told.runs for told in pair[0]))
        came[f"oracle, {text} (stays at {stay})"] = best
    return came


def _each(one: Callable[[Nature, int, int], Told], nature: Nature, seed: int, shops: int, cores: int) -> list[Told]:
    work = partial(one, nature, seed)
    if cores == 1:
        return [work(number) for number in range(shops)]
    with ProcessPoolExecutor(cores) as pool:
        return list(pool.map(work, range(shops), chunksize=50))


HEAD = (
    f"{'policy':38} {'runs':>5} {'±':>5} {'moves':>5} {'true':>6} {'needless':>8} {'worse':>6} "
    f"{'proven':>6} {'right':>6} {'told':>6} {'told-seen':>9} {'held':>6} {'last':>6}"
)


def table(came: Came) -> Iterator[str]:
    """One line a policy. Percentages; `needless` and `worse` of all moves; held: of all intervals, of the last ones."""
    yield HEAD
    for name, told in came.items():
        yield line(name, told)


def line(name: str, told: Sequence[Told]) -> str:
    """What came of one policy."""
    n, moves = len(told), sum(t.moves for t in told) or 1
    mean = sum(t.runs for t in told) / n
    error = math.sqrt(sum((t.runs - mean) ** 2 for t in told)) / n
    proven = [t for t in told if t.proven]
    held = [h for t in told for h in t.held]
    last = [t.held[-1] for t in told if t.held]
    right = _share([t.true_in for t in proven])
    stated = sum(t.stated or 0.0 for t in proven) / len(proven) if proven else math.nan
    return (
        f"{name:38} {mean:5.2f} {error:5.3f} {moves / n:5.2f} {_share([t.true_in for t in told]):6.1%} "
        f"{sum(t.needless for t in told) / moves:8.2%} {sum(t.worse for t in told) / moves:6.2%} "
        f"{len(proven) / n:6.1%} {right:6.2%} {stated:6.2%} {100 * (stated - right):+9.2f} "
        f"{_share(held):6.2%} {_share(last):6.2%}"
    )


def years(nature: Nature, seed: int, shops: int) -> Iterator[str]:
    """A year after the first session: how often it was looked at, runs, and days out that nobody knew of."""
    yield f"{'a year of':38} {'times':>6} {'runs':>6} {'days out, unknown':>18}"
    for name, one in (
        ("the tool: when the standing says", with_tool),
        ("after a carry and every 91 days", by_calendar),
    ):
        years = [one(nature, seed, number) for number in range(shops)]
        times, runs = (sum(y.times for y in years) / shops, sum(y.runs for y in years) / shops)
        yield f"{name:38} {times:6.1f} {runs:6.1f} {sum(y.days_out for y in years) / shops:18.1f}"


def _share(yes: Sequence[bool]) -> float:
    return sum(yes) / len(yes) if yes else math.nan

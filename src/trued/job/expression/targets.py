"""Reckoning all the sizes of a job, each after those that it rests on.

A target is reckoned once, from the numbers as measured, and is then a constant.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from graphlib import CycleError, TopologicalSorter

from trued.errors import Fault, Faults
from trued.job.expression.evaluate import Ground, evaluate, exact_choice
from trued.job.expression.tree import Name, Node, PartSize, uses
from trued.units.nearest import nearest

_LARGEST_MM = 1_000_000
_MOST_BITS = 256  # an exact ratio of that many digits came from no measuring; it would only grow from here


@dataclass(frozen=True, slots=True)
class Definition:
    """A size as written: its text, its tree (None while it is held back), and its place in the file."""

    text: str
    of: Node | None
    place: str


@dataclass(slots=True)
class Targets:
    """What every size comes to. Keys are `t` and `shelf.length`.

    values:   exact mm; None for a size that is held back, or rests on one.
    unclear:  keys whose own text is at fault; what rests on them is left alone, so that one fault is told once.
    copies:   how many copies each part has.
    """

    copies: Mapping[str, int]
    values: dict[str, Fraction | None] = field(default_factory=dict)
    unclear: set[str] = field(default_factory=set)

    def of(self, node: Node, text: str, faults: Faults) -> Fraction | None:
        """What an expression comes to, or None: it waits for a size, or a fault was noted."""
        found = self.faults_in(node, text)
        for fault in found:
            faults.add(fault.where, fault.read, fault.text)
        return None if found else self._reckon(node, text, faults)

    def clear(self, node: Node) -> bool:
        """Whether everything that the expression rests on could be read."""
        return not any(_key(use) in self.unclear for use in uses(node))

    def waits(self, node: Node) -> bool:
        """Whether it rests on a size that is held back."""
        return any(self.values.get(_key(use), 0) is None for use in uses(node))

    def faults_in(self, node: Node, text: str) -> list[Fault]:
        """Names and parts that do not exist, each with its column."""
        return [Fault(f"column {use.column}", text, said) for use in uses(node) if (said := self._unknown(use))]

    def _unknown(self, use: Name | PartSize) -> str:
        if isinstance(use, Name):
            return self._unknown_name(use.name)
        if use.part not in self.copies:
            return f"There is no part called {use.part}. {_near(use.part, sorted(self.copies))}"
        if use.copy and use.copy > self.copies[use.part]:
            return f"There are {self.copies[use.part]} of {use.part}, so there is no copy {use.copy}."
        return ""

    def _unknown_name(self, name: str) -> str:
        if name in self.copies:
            return f"{name} is a part; say which size: {name}.length, .width or .thickness."
        if name in self.values or name in self.unclear:
            return ""
        known = sorted(key for key in {*self.values, *self.unclear} if "." not in key)
        return f"There is no size called {name}. {_near(name, known)}"

    def _reckon(self, node: Node, text: str, faults: Faults) -> Fraction | None:
        if self.waits(node) or not self.clear(node):
            return None
        try:
            value = evaluate(node, Ground(Fraction, lambda use: Fraction(self.values[_key(use)] or 0), exact_choice))
        except ZeroDivisionError:
            faults.add("", text, "This divides by 0; check the sizes under the slash.")
            return None
        if abs(value) > _LARGEST_MM:
            faults.add("", text, "This comes to more than a kilometre; check the numbers and their units.")
            return None
        if value.denominator.bit_length() > _MOST_BITS:
            faults.add("", text, "This comes to a number with too many digits to mean anything; write it as a number.")
            return None
        return value


def reckon(definitions: Mapping[str, Definition | None], copies: Mapping[str, int], faults: Faults) -> Targets:
    """All the sizes in the order in which they rest on each other; None as a definition is one that is unclear.

    Circles are told once each, by all their names.
    """
    targets = Targets(copies)
    targets.unclear.update(key for key, given in definitions.items() if given is None)
    written = {key: given for key, given in definitions.items() if given is not None}
    targets.values.update(dict.fromkeys(written))
    for key in _in_order(written, targets.unclear, faults):
        if key in targets.unclear:
            targets.values.pop(key, None)
        elif (of := written[key].of) is not None:
            _reckon_one(targets, key, written[key], of, faults)
    return targets


def _reckon_one(targets: Targets, key: str, given: Definition, of: Node, faults: Faults) -> None:
    own = Faults()
    targets.values[key] = targets.of(of, given.text, own)
    for fault in own:
        told = fault.under(given.place)
        faults.add(told.where, told.read, told.text)
    if len(own) or not targets.clear(of):
        targets.unclear.add(key)
        del targets.values[key]


def _in_order(written: Mapping[str, Definition], unclear: set[str], faults: Faults) -> list[str]:
    rests_on = {
        key: {_key(use) for use in uses(given.of)} & written.keys() if given.of else set()
        for key, given in written.items()
    }
    while True:
        try:
            return list(TopologicalSorter(rests_on).static_order())
        except CycleError as error:
            circle: list[str] = error.args[1][::-1]
            first = written[min(circle, key=list(written).index)]
            way = " → ".join(circle if len(circle) < 9 else [*circle[:7], "…", circle[-1]])
            faults.add(first.place, first.text, f"These sizes go in a circle: {way}; measure or decide one of them.")
            for key in circle:
                unclear.add(key)
                rests_on[key] = set()


def _key(use: Name | PartSize) -> str:
    return use.name if isinstance(use, Name) else f"{use.part}.{use.side}"


def _near(word: str, known: list[str]) -> str:
    return nearest(word, known) if known else "Nothing is named yet."

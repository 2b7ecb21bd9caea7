"""An answer as every surface tells it: a first line, what can hurt someone, one thing to do, numbers, what is behind.

Terminal, page and paper write the same value, so that none of them can say more, less or otherwise. What a surface has
of its own, as how a command is typed or where a button leads, is kept apart from the words: `Record`, `CheckNext`.

Dangers, questions, orders and their warnings are shown by every surface; only `folds` lie behind `--more` or a fold.
"""

from __future__ import annotations

from dataclasses import dataclass

from trued.words.decisions import Badge


@dataclass(frozen=True, slots=True)
class Record:
    """A move that was ordered, as it is written down when it is done: feature, direction and amount as typed.

    full: the feature's full name, where a surface knows it by that.
    """

    feature: str
    direction: str
    amount: str
    full: str = ""


@dataclass(frozen=True, slots=True)
class CheckNext:
    """A check that is to be run: its id, what running it is in a sentence, how long it takes, and its warnings.

    feature: the full name of what it is run for, where that says at which angle.
    """

    check: str
    name: str
    minutes: float
    warnings: tuple[str, ...] = ()
    feature: str = ""


@dataclass(frozen=True, slots=True)
class Order:
    """One thing to do: the sentence, the warnings that stand before its steps, the steps, and what follows.

    steps:  how it is done, numbered; empty for whoever has done it before. record: how it is written down.
    check:  what is run then. why: one sentence, for the desk. run: the check that this order itself is.
    """

    text: str
    warnings: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    record: Record | None = None
    check: CheckNext | None = None
    why: str = ""
    run: CheckNext | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """One number: `Fence angle`, `0.0060 in/ft tight, ±0.0016 (0.029°)`, `limit ±0.0024`, `over 99% sure`."""

    name: str
    value: str
    limit: str = ""
    sure: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Numbers under a heading of their own: `Will it fit?`"""

    title: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Fold:
    """What lies behind `--more` or a fold: a heading and its lines."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Message:
    """One answer.

    subject: what it is about; `badge` (None where nothing is judged) and `lead` end the first line:
             `Five-cut: IN TOLERANCE. Leave it.`
    dangers: what can hurt someone, before all else. why: what speaks against a run, where the first line calls it bad.
    orders:  the one to be done first, then what goes with it by hand.
    sections: more figures, each group under its heading. unsafe: checks never done, of what can hurt someone.
    asides:  sentences behind the figures: what is not checked, when to look again.
    """

    subject: str
    badge: Badge | None
    lead: str = ""
    dangers: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    orders: tuple[Order, ...] = ()
    figures: tuple[Figure, ...] = ()
    asides: tuple[str, ...] = ()
    folds: tuple[Fold, ...] = ()
    sections: tuple[Section, ...] = ()
    unsafe: tuple[CheckNext, ...] = ()

    @property
    def verdict(self) -> str:
        """The answer without its subject, as a heading: `Bad run. Don't adjust.`"""
        if self.badge is None:
            return self.lead
        return f"{self.badge.value}{f'. {self.lead}' if self.lead else ''}"

    @property
    def headline(self) -> str:
        """The first line: `Five-cut: BAD RUN. Don't adjust.`"""
        if self.badge is None:
            return f"{self.subject}: {self.lead}"
        return f"{self.subject}: {self.badge.shouted}{f'. {self.lead}' if self.lead else ''}"

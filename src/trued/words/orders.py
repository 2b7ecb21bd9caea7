"""What is to be done now, in imperatives: the warning before a hand reaches in, the steps, and the run that follows."""

from __future__ import annotations

from trued.job.expression.tree import Side
from trued.standing.feature import named
from trued.units import Unit

_CUT_AGAIN = {"five-cut": "cut all five again"}
"""By check: what running it again comes to for whoever stands at the saw."""
MOST_IN_A_STEP = 20
"""Words of a numbered step; two short sentences of one handling stand together."""


def again(check: str, minutes: float, *, same_setup: bool = False) -> str:
    """`cut all five again, same setup (15 min)`, `run knife again (6 min)`."""
    text = _CUT_AGAIN.get(check, f"run {check} again")
    return f"{text}{', same setup' if same_setup else ''} ({minutes:.0f} min)"


def at_the_saw(text: str) -> str:
    """An order of the advice with what running its check again comes to."""
    for check, cut in _CUT_AGAIN.items():
        text = text.replace(f"Run {check} again", f"{cut[:1].upper()}{cut[1:]}").replace(f"run {check} again", cut)
    return text


def before_adjusting(feature: str) -> str:
    """The warning for the adjusting itself: it stands before every order to move or to fix something at the saw."""
    bare = named(feature).feature
    what = "the fence" if bare.startswith(("fence-", "detent-")) else "the blade" if bare in _BY_THE_BLADE else "in"
    return f"Saw unplugged, blade stopped, before you reach {'for ' if what != 'in' else ''}{what}."


def before_cutting(side: Side | None, unit: Unit) -> tuple[str, ...]:
    """Of a cut that is ordered away from its ticket: to a length on the sled, to a width at the rip fence."""
    hands, foot = ("6 in", "foot") if unit == "in" else ("150 mm", "300 mm")
    if side is Side.WIDTH:
        return (f"Riving knife and guard on. Push block for the last {foot}. Stand clear of the board's path.",)
    return (f"Hands {hands} from the kerf. Blade stopped before you take the offcut.",)


_BY_THE_BLADE = ("bevel", "blade-parallel", "knife", "flange", "wobble")


def sentences(text: str) -> list[str]:
    """A text as its sentences; a question stays with its answer."""
    parts = text.split(". ")
    return [part if part.endswith((".", "?", "!", ":")) else f"{part}." for part in parts if part]


def steps_of(texts: list[str]) -> tuple[str, ...]:
    """Sentences as numbered steps: two together where they are short."""
    steps: list[str] = []
    joined = 0
    for text in texts:
        if steps and joined == 1 and len(f"{steps[-1]} {text}".split()) <= MOST_IN_A_STEP:
            steps[-1] = f"{steps[-1]} {text}"
            joined = 2
        else:
            steps.append(text)
            joined = 1
    return tuple(steps)

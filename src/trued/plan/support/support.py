"""Does table, wing and sled carry this piece through the whole cut? The verdict, and the smallest change that mends it.

The words never call a cut harmless: they say what these sums looked at, what they found, and what they did not look at.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import assert_never

from trued.plan.support.remedy import Change, Remedy, smallest_change
from trued.plan.support.sled_cut import Blade, Extension, Piece, Side, Sled, SledCut
from trued.plan.support.stages import Problem, Stage, StageLoad, SupportFault, moments, problems, worst_between
from trued.plan.support.statics import STANDARD_GRAVITY, Body, Ground

__all__ = [
    "CAUTIONS",
    "CHECKED",
    "NOT_CHECKED",
    "Blade",
    "Body",
    "Change",
    "Extension",
    "Ground",
    "Piece",
    "Problem",
    "Remedy",
    "Side",
    "Sled",
    "SledCut",
    "Stage",
    "StageLoad",
    "SupportFault",
    "SupportFinding",
    "support_of",
]

CHECKED = (
    "centre of mass of sled and piece over table and counted supports, at the four moments and between them",
    "the piece's own balance on the sled",
    "the tail on the offcut side",
    "what the maker was said to forbid",
)
NOT_CHECKED = (
    "the strength of wing, stand, screws and clamps",
    "the whole saw turning over on its stand",
    "how much of the bar is in the slot",
    "the sled pushed on past the cut",
    "pieces that are not straight, even and solid",
    "guards, knife and the rest of the maker's manual",
)
CAUTIONS = (
    "The saw maker's manual decides first: whether a sled, this load, a wing or drilling the table is allowed at all.",
    "Try it cold: saw off and unplugged, other hand off. Lay the piece at both ends of the travel and let go.",
    "Then press lightly on the far corner, the same way; stop if a foot of the saw lifts.",
    "Test-load a wing or stand cold with twice the planned weight (common practice) before it is counted on.",
)


@dataclass(frozen=True, slots=True)
class SupportFinding:
    """The four moments of a cut, the worst place between them, what is wrong, and what would mend it.

    mends: () when nothing is wrong; None when none of the known changes helps: then another way of cutting, or none.
    """

    cut: SledCut
    moments: tuple[StageLoad, StageLoad, StageLoad, StageLoad]
    between: StageLoad
    problems: tuple[Problem, ...]
    mends: tuple[Remedy, ...] | None

    @property
    def nothing_found(self) -> bool:
        """True if these checks found no problem. That is not a promise."""
        return not self.problems

    @property
    def tips(self) -> bool:
        """True if it tips by itself somewhere: no reason that a person types takes this away."""
        return any(problem.trouble is SupportFault.TIPS for problem in self.problems)

    @property
    def worst(self) -> StageLoad:
        """The moment with the least margin."""
        return min((*self.moments, self.between), key=lambda moment: moment.margin_mm)

    def words(self, length: Callable[[float], str] = "{:.0f} mm".format) -> str:
        """The verdict in words; `length` writes millimetres in the reader's unit."""
        said = [_problem_words(problem, length) for problem in _worst_of_each(self.problems)]
        if not said:
            least = f"least margin {length(self.worst.margin_mm)}, {self.worst.stage}"
            said = [f"No problem found in these checks: {'; '.join(CHECKED)} ({least})."]
        rest = (*self._press_words(), *self._mend_words(length), *self._reasons())
        return " ".join((*said, *rest, f"Not checked: {'; '.join(NOT_CHECKED)}."))

    def short_words(self, length: Callable[[float], str] = "{:.0f} mm".format) -> str:
        """Only what is wrong and what mends it; "" when nothing was found."""
        said = (_problem_words(problem, length) for problem in _worst_of_each(self.problems))
        return " ".join((*said, *self._mend_words(length)))

    def problem_words(self, length: Callable[[float], str] = "{:.0f} mm".format) -> str:
        """Only what is wrong; "" when nothing was found."""
        return " ".join(_problem_words(problem, length) for problem in _worst_of_each(self.problems))

    def mend_words(self, length: Callable[[float], str] = "{:.0f} mm".format) -> str:
        """Only the smallest change that mends it; "" when nothing was found."""
        return " ".join(self._mend_words(length))

    @property
    def wants_rough(self) -> bool:
        """True if the piece is to be cut to rough length first."""
        return any(mend.change is Change.ROUGH for mend in self.mends or ())

    def _press_words(self) -> tuple[str, ...]:
        least = min(moment.press.newton for moment in (*self.moments, self.between))
        if not 0 < least < float("inf"):
            return ()
        return (f"A press of {least:.0f} N (the weight of {least / STANDARD_GRAVITY:.1f} kg) on a corner tips it.",)

    def _mend_words(self, length: Callable[[float], str]) -> tuple[str, ...]:
        if self.mends is None:
            return ("None of the usual changes mends it: cut it another way, or not at all.",)
        if not self.mends:
            return ()
        changes = ", and ".join(_change_words(mend, length) for mend in self.mends)
        return (f"Smallest change that mends it: {changes}.",)

    def _reasons(self) -> tuple[str, ...]:
        """A support that was never tested but is counted has its reason beside the verdict."""
        counted = (extension for extension in self.cut.extensions if self.cut.may_count(extension))
        return tuple(
            f"The {extension.name} is counted without a load test, because: {extension.typed_reason.strip()}."
            for extension in counted
            if not extension.load_tested
        )


def support_of(cut: SledCut) -> SupportFinding:
    """Do the sums for one cut on the sled. Hand force is never counted as help."""
    found = problems(cut)
    return SupportFinding(
        cut=cut,
        moments=moments(cut),
        between=worst_between(cut),
        problems=found,
        mends=smallest_change(cut) if found else (),
    )


def _worst_of_each(found: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """Of the same trouble on the same side at several moments, the worst one."""
    worst: dict[tuple[SupportFault, str], Problem] = {}
    for problem in found:
        key = (problem.trouble, problem.what)
        if key not in worst or problem.amount_mm < worst[key].amount_mm:
            worst[key] = problem
    return tuple(worst.values())


def _problem_words(problem: Problem, length: Callable[[float], str]) -> str:
    when = "" if problem.where is None else problem.where.stage.capitalize()
    match problem.trouble:
        case SupportFault.MAKER_FORBIDS:
            return f"The saw's maker forbids {problem.what}: it is refused, whatever the sums say."
        case SupportFault.TIPS:
            return f"{when} it tips over the edge on the {problem.what}, by {length(-problem.amount_mm)}."
        case SupportFault.CLOSE:
            return f"{when} it is only {length(problem.amount_mm)} from tipping on the {problem.what}."
        case SupportFault.PIECE_TIPS if problem.amount_mm < 0:
            return f"{when} the piece itself tips off the sled's base, by {length(-problem.amount_mm)}."
        case SupportFault.PIECE_TIPS:
            return f"{when} the piece itself is only {length(problem.amount_mm)} from tipping off the sled's base."
        case SupportFault.TAIL:
            return f"A tail of {length(problem.amount_mm)} hangs on the offcut side with nothing under it."
        case _ as never:
            assert_never(never)


def _change_words(mend: Remedy, length: Callable[[float], str]) -> str:
    if mend.extension is None:
        return mend.change.value
    return f"a {mend.extension.name} that reaches at least {length(mend.extension.reach_mm)} (load-tested)"

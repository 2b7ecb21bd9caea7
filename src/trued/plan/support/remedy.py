"""The smallest change that takes away every problem of a cut's support, found by doing the sums again with it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import combinations

from trued.plan.support.sled_cut import Extension, Side, SledCut
from trued.plan.support.stages import RESERVE_MM, bears, centres
from trued.plan.support.statics import Ground

# Common practice: a rough blank is left half an inch longer than the part.
ROUGH_MM = 12.7


class Change(StrEnum):
    """What a person can change, the easiest first."""

    CLAMP = "clamp the piece to the sled's fence on the keeper side"
    ROUGH = "cut in another order: first to rough length off the saw, with a guided hand-held saw, then this cut"
    TAIL = "put a support of the base's height under the tail on the offcut side"
    TEST = "load-test the wing or stand that is there, saw off and unplugged, and count it then"
    TAKE_OFF = "take off the wing that the maker forbids"
    EXTEND = "add a support level with the table"


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change. For EXTEND the extension, its reach the least that suffices, to be tested before use."""

    change: Change
    extension: Extension | None = None


def smallest_change(cut: SledCut) -> tuple[Remedy, ...] | None:
    """The fewest changes that leave no problem; () if there is none, None if these changes cannot mend it.

    Never anything that the maker forbids. None means: another way of cutting, or none.
    """
    if bears(cut):
        return ()
    best: tuple[Remedy, ...] | None = None
    for simple in _combinations(cut):
        if best is not None and len(simple) > len(best):
            break
        mends = _tried(cut, simple)
        if mends is not None and (best is None or _effort(mends) < _effort(best)):
            best = mends
    return best


def _effort(mends: tuple[Remedy, ...]) -> tuple[int, int]:
    """Fewest changes first; among as many, those that build nothing."""
    return len(mends), sum(mend.change is Change.EXTEND for mend in mends)


def _combinations(cut: SledCut) -> Iterator[tuple[Change, ...]]:
    """Every choice of the simple changes that change anything here, the fewest first."""
    simple = [change for change, do in _DO.items() if do(cut) != cut]
    for count in range(len(simple) + 1):
        yield from combinations(simple, count)


def _tried(cut: SledCut, simple: tuple[Change, ...]) -> tuple[Remedy, ...] | None:
    """These changes and, if more is needed, the fewest extensions; None if that does not suffice."""
    for change in simple:
        cut = _DO[change](cut)
    extensions = tuple(_needed(cut))
    if not bears(_with(cut, extensions)):
        return None  # what is not enough with all of them is not enough with fewer
    choices = (chosen for count in range(len(extensions) + 1) for chosen in combinations(extensions, count))
    fewest = next(chosen for chosen in choices if bears(_with(cut, chosen)))
    return (*(Remedy(change) for change in simple), *(Remedy(Change.EXTEND, extension) for extension in fewest))


def _with(cut: SledCut, extensions: tuple[Extension, ...]) -> SledCut:
    return replace(cut, extensions=(*cut.extensions, *extensions))


def _needed(cut: SledCut) -> Iterator[Extension]:
    """The extensions that take the centre of mass 2 in inside every outer edge, where the table alone does not."""
    xs, ys = zip(*centres(cut), strict=True)
    outermost = {Side.KEEPER: max(xs), Side.OFFCUT: -min(xs), Side.OPERATOR: max(ys), Side.FAR: -min(ys)}
    reaches = {side: outward + RESERVE_MM - _edge_mm(cut.table, side) for side, outward in outermost.items()}
    across = _span_across(cut, reaches)
    for side, reach_mm in reaches.items():
        along = None if side in {Side.KEEPER, Side.OFFCUT} else across
        if reach_mm > 0 and not _covered(cut, side, reach_mm):
            # A hair more, so that a reach rounded in the last bit is still enough.
            yield Extension(side, reach_mm + 1e-6, along, load_tested=True)


def _span_across(cut: SledCut, reaches: dict[Side, float]) -> tuple[float, float]:
    """From the outermost edge on the offcut side to that on the keeper side, wings counted: a stand beside the table
    that ends at the table's corner would leave the corner of the wing hanging."""
    offcut = max(ground.offcut_mm for ground in cut.grounds)
    keeper = max(ground.keeper_mm for ground in cut.grounds)
    wider_offcut = cut.table.offcut_mm + max(0.0, reaches[Side.OFFCUT])
    wider_keeper = cut.table.keeper_mm + max(0.0, reaches[Side.KEEPER])
    return -max(offcut, wider_offcut), max(keeper, wider_keeper)


def _covered(cut: SledCut, side: Side, reach_mm: float) -> bool:
    """True if an extension that is there already reaches as far along its whole edge."""
    return any(
        cut.may_count(there) and there.side is side and there.reach_mm >= reach_mm and there.along_mm is None
        for there in cut.extensions
    )


def _edge_mm(table: Ground, side: Side) -> float:
    return {
        Side.KEEPER: table.keeper_mm,
        Side.OFFCUT: table.offcut_mm,
        Side.OPERATOR: table.operator_mm,
        Side.FAR: table.far_mm,
    }[side]


def _clamped(cut: SledCut) -> SledCut:
    return replace(cut, clamped=True)


def _tail_held(cut: SledCut) -> SledCut:
    return replace(cut, tail_held=True)


def _rough_first(cut: SledCut) -> SledCut:
    short = min(cut.piece.length_mm, cut.piece.keeper_mm + ROUGH_MM)
    return replace(cut, piece=replace(cut.piece, length_mm=short))


def _tested(cut: SledCut) -> SledCut:
    return replace(cut, extensions=tuple(replace(extension, load_tested=True) for extension in cut.extensions))


def _without_forbidden(cut: SledCut) -> SledCut:
    return replace(cut, extensions=tuple(e for e in cut.extensions if not cut.forbids(e)))


_DO: dict[Change, Callable[[SledCut], SledCut]] = {
    Change.CLAMP: _clamped,
    Change.ROUGH: _rough_first,
    Change.TAIL: _tail_held,
    Change.TEST: _tested,
    Change.TAKE_OFF: _without_forbidden,
}

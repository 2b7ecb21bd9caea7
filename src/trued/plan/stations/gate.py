"""May this station make this cut? Height of the blade and what carries the work; what must be done first, what waits.

Heights: the blade stands 1/4 in above the work, 1/8 at least (common practice). On the sled the centre of mass of sled
and work stays 2 in inside what carries them, all the way; a clamp and a support under the tail are counted only as
first steps of the ticket. At the rip fence the last end is pushed past the knife: a press of up to 3 lb keeps it down,
and up to 15 lb are carried at the start (common practice), each told; what needs more needs a stand.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations

from trued.errors import InputRefused
from trued.plan.layout.cut_tree import Axis, Cut, Sized
from trued.plan.layout.pieces import Stock, to_mm
from trued.plan.stations.bench import Bench
from trued.plan.stations.refusal import RIP_HEAVY, RIP_TIPS, TIPS, TOO_THICK, Refusal
from trued.plan.stations.steps import ABOVE_MM, LEAST_ABOVE_MM, Do, Step
from trued.plan.support.sled_cut import Blade, Piece, Side, SledCut
from trued.plan.support.stages import RESERVE_MM, bears
from trued.plan.support.statics import STANDARD_GRAVITY, margin_inside_mm, outline
from trued.plan.support.support import SupportFinding, support_of
from trued.wood.density import density_kg_m3

PUSH_NEWTON = 3 * 0.45359237 * STANDARD_GRAVITY
CARRY_NEWTON = 15 * 0.45359237 * STANDARD_GRAVITY
LEAST_KEEPER_MM = 152.4
THICK_BY_HAND_MM = 50.8
"""What a guided saw and a hand saw are counted on for where nobody has said: 2 in thick, common practice."""
_HAIR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Leave:
    """A station's leave for a cut: how high the blade stands, what is done first, the fact that it still waits for."""

    blade_mm: float | None = None
    before: tuple[Step, ...] = ()
    waits: str = ""
    finding: SupportFinding | None = None


def by_hand(cut: Cut, stock: Stock, station: str) -> Leave | Refusal:
    """The guided saw on the floor, or the hand saw."""
    del cut
    thick = to_mm(stock.thickness)
    if thick > THICK_BY_HAND_MM + _HAIR_MM:
        return Refusal(TOO_THICK, station, thick, THICK_BY_HAND_MM)
    return Leave()


def on_the_sled(cut: Cut, stock: Stock, bench: Bench) -> Leave | Refusal:
    """A cut on the sled."""
    low, high = to_mm(cut.position), to_mm(cut.span - cut.position - cut.kerf)
    keeper = {Sized.LOW: low, Sized.HIGH: high, Sized.NONE: max(low, high)}[cut.sized]
    mark = _Mark(to_mm(stock.thickness), stock.material, to_mm(cut.span), to_mm(cut.run), keeper, cut.axis)
    return _on_the_sled(mark, bench)


def at_the_fence(cut: Cut, stock: Stock, bench: Bench, widest_known: bool) -> Leave | Refusal:
    """A cut along the rip fence."""
    mark = _Mark(to_mm(stock.thickness), stock.material, to_mm(cut.span), to_mm(cut.run), 0.0, cut.axis)
    return _at_the_fence(mark, bench, widest_known)


@dataclass(frozen=True, slots=True)
class _Mark:
    """All of a cut that its leave rests on, in mm."""

    thick: float
    material: str
    span: float
    run: float
    keeper: float
    axis: Axis


def _height(work_mm: float, highest_mm: float) -> Step | None:
    """What the blade is set to over work whose upper face is so high; None where it does not go through."""
    if work_mm + ABOVE_MM <= highest_mm + _HAIR_MM:
        return Step(Do.BLADE, work_mm + ABOVE_MM)
    if work_mm + LEAST_ABOVE_MM <= highest_mm + _HAIR_MM:
        return Step(Do.BLADE_LOW, highest_mm)
    return None


@lru_cache(maxsize=8192)
def _on_the_sled(mark: _Mark, bench: Bench) -> Leave | Refusal:
    must = (Do.CLAMP,) if mark.keeper < LEAST_KEEPER_MM - _HAIR_MM or mark.axis is Axis.ALONG else ()
    held = tuple(Step(do) for do in must)
    if bench.highest_mm is None:
        return Leave(before=held, waits="Not known: saw: max_cut, its highest cut at 90.")
    if bench.base_mm is None:
        return Leave(before=held, waits=bench.lacks or "Not known: sled: base.")
    height = _height(bench.base_mm + mark.thick, bench.highest_mm)
    if height is None:
        wanted = bench.base_mm + mark.thick + LEAST_ABOVE_MM
        return Refusal(TOO_THICK, "sled", wanted, bench.highest_mm, base_mm=bench.base_mm)
    guard = (Step(Do.GUARD),) if bench.guarded else ()
    before = (height, *guard)
    if bench.on_table:
        return _on_the_table(mark, bench, height, (*before, *held))
    density = _density(mark.material)
    if bench.sled is None or bench.table is None or bench.radius_mm is None:
        return Leave(height.mm, (*before, *held), bench.lacks)
    if density is None:
        return Leave(height.mm, (*before, *held), _unknown_weight(mark.material))
    try:
        cut = SledCut(
            bench.table,
            Blade(bench.radius_mm, min(height.mm, 0.999 * bench.radius_mm)),
            bench.sled,
            Piece(mark.span, mark.run, mark.thick, density, mark.keeper),
            extensions=bench.extensions,
            maker_forbids=bench.forbids,
        )
    except InputRefused as refused:
        return Leave(height.mm, (*before, *held), str(refused))
    found = _first_steps(cut, must)
    if found is None:
        return Refusal(TIPS, "sled", cut=cut)
    steps, carried = found
    tail = cut.piece.tail_mm - cut.sled.offcut_mm
    said = tuple(Step(do, tail if do is Do.TAIL else 0.0) for do in steps)
    return Leave(height.mm, (*before, *said), finding=support_of(carried))


def _on_the_table(mark: _Mark, bench: Bench, height: Step, before: tuple[Step, ...]) -> Leave | Refusal:
    """Work against a gauge lies on table and wings by itself: its middle stays 2 in inside them, all the way."""
    if bench.table is None or bench.radius_mm is None:
        return Leave(height.mm, before, bench.lacks)
    blade = Blade(bench.radius_mm, min(height.mm, 0.999 * bench.radius_mm))
    wings = (e for e in bench.extensions if e.counts and not ("wing" in bench.forbids and e.side in _BESIDE))
    grounds = (bench.table, *(wing.ground(bench.table) for wing in wings))
    ring = outline(corner for ground in grounds for corner in ground.corners)
    start, end = blade.reach_mm(0.0), blade.reach_mm(min(mark.thick, height.mm)) - mark.run
    lengths = (mark.span, mark.keeper)  # out with the whole piece, back with the keeper
    centres = [(mark.keeper - length / 2, far + mark.run / 2) for length in lengths for far in (start, end)]
    if min(margin_inside_mm(ring, centre) for centre in centres) < RESERVE_MM:
        return Refusal(TIPS, "sled")
    return Leave(height.mm, before)


_BESIDE = (Side.KEEPER, Side.OFFCUT)
_CHANGES: dict[Do, Callable[[SledCut], SledCut]] = {
    Do.TAKE_OFF: lambda cut: replace(cut, extensions=tuple(e for e in cut.extensions if not cut.forbids(e))),
    Do.CLAMP: lambda cut: replace(cut, clamped=True),
    Do.TAIL: lambda cut: replace(cut, tail_held=True),
}
"""What a person can do at the saw, before the cut, by the word of a ticket."""


def _first_steps(cut: SledCut, must: tuple[Do, ...]) -> tuple[tuple[Do, ...], SledCut] | None:
    """The fewest steps with which the cut is carried; None where these do not suffice."""
    start = _with(cut, must)
    able = [do for do, change in _CHANGES.items() if do not in must and change(cut) != cut]
    for count in range(len(able) + 1):
        for chosen in combinations(able, count):
            carried = _with(start, chosen)
            if bears(carried):
                return tuple(do for do in _CHANGES if do in (*must, *chosen)), carried
    return None


def _with(cut: SledCut, steps: tuple[Do, ...]) -> SledCut:
    for do in steps:
        cut = _CHANGES[do](cut)
    return cut


@lru_cache(maxsize=8192)
def _at_the_fence(mark: _Mark, bench: Bench, widest_known: bool) -> Leave | Refusal:
    if bench.highest_mm is None:
        return Leave(waits="Not known: saw: max_cut, its highest cut at 90.")
    height = _height(mark.thick, bench.highest_mm)
    if height is None:
        return Refusal(TOO_THICK, "rip fence", mark.thick + LEAST_ABOVE_MM, bench.highest_mm)
    if not widest_known:
        return Leave(height.mm, (height,), "Not known: saw: rip, the widest that it rips.")
    density = _density(mark.material)
    if bench.far_mm is None or bench.operator_mm is None or bench.radius_mm is None:
        return Leave(height.mm, (height,), bench.fence_lacks)
    if density is None:
        return Leave(height.mm, (height,), _unknown_weight(mark.material))
    teeth = Blade(bench.radius_mm, min(height.mm, 0.999 * bench.radius_mm)).reach_mm(0.0)
    weight = mark.run * mark.span * mark.thick * 1e-9 * density * STANDARD_GRAVITY
    ends = _Ends(mark.run, weight, teeth, teeth + bench.knife_behind_mm, bench.far_mm, bench.operator_mm)
    if ends.press > PUSH_NEWTON:
        return Refusal(RIP_TIPS, "rip fence", ends.wanted_behind(bench), newton=ends.press)
    if ends.carried > CARRY_NEWTON:
        return Refusal(RIP_HEAVY, "rip fence", newton=ends.carried)
    push = (Step(Do.PUSH, newton=ends.press),) if ends.press > 0 else ()
    carry = (Step(Do.CARRY, newton=ends.carried),) if ends.carried > CARRY_NEWTON / 3 else ()
    return Leave(height.mm, (height, *push, *carry))


@dataclass(frozen=True, slots=True)
class _Ends:
    """A board at the rip fence: `teeth` before the arbor its first end, `last` behind it its last; weight in N."""

    run: float
    weight: float
    teeth: float
    last: float
    far: float
    operator: float

    @property
    def press(self) -> float:
        """What holds its last end down, about the edge that carries it; 0 where it lies by itself."""
        over = self.last + self.run / 2 - self.far
        if over <= 0:
            return 0.0
        return self.weight * over / (self.far - self.last) if self.far > self.last else float("inf")

    @property
    def carried(self) -> float:
        """What the hands carry at its far end when the first end is at the teeth."""
        over = self.teeth + self.run / 2 - self.operator
        return self.weight * over / (self.teeth + self.run - self.operator) if over > 0 else 0.0

    def wanted_behind(self, bench: Bench) -> float:
        """How far a support must reach behind the table, 2 in more in reserve."""
        edge = bench.table.far_mm if bench.table is not None else self.far
        return self.last + self.run / 2 - edge + 50.8


def _density(material: str) -> float | None:
    """In kg/m³. A name that ends in a panel's (`birch ply`) is taken for that panel; None when it is not known."""
    for name in (material, material.rpartition(" ")[2]):
        try:
            return density_kg_m3(name)
        except InputRefused:
            continue
    return None


def _unknown_weight(material: str) -> str:
    return f"How heavy {material or 'the material'} is, is not known here: weigh a piece."

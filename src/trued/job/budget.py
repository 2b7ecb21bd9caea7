"""The error budget of a job: every size that a fit rests on, as it will really come out.

A target is a constant: the size that a part is meant to have, reckoned once from the numbers as measured. The
actual size is the target with the errors of cutting. The actual size of something measured is the reading with the
error of its instrument. So an error in a measured thickness never cancels against a target reckoned from it.

Every error has a scope, and two sizes share it exactly when they share the scope:

=====================  ==========================================================================================
stop scale             all lengths cut against the stop (offset and slope, one vector)
setting                all copies cut at one setting of the stop or the rip fence
cut                    one size of one copy
fence angle            all lengths cut on the sled, times the width of the part; the swing of the bar is each cut's
rip scale              all sizes cut at the rip fence
thickness              one measured thickness; then each board or sheet; then each copy
measured size          that reading; the limit of error is shared by all readings of the instrument
=====================  ==========================================================================================

The far end of a part is out by the fence's angle times its width, one way or the other as its face lay up or down; so
what is known of the angle counts as a spread too, and cancels between parts of one width that were cut alike.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from trued.errors import Faults
from trued.job import groups
from trued.job.evaluate import Ground, evaluate
from trued.job.groups import CutGroups
from trued.job.job import Job
from trued.job.measuring import find_instrument, judge_range
from trued.job.tree import Name, Node, PartSize, Side
from trued.measure.estimate import Source, Uncertain, linear
from trued.measure.instrument import DEFAULTS, Instrument
from trued.shop.assumed import PRIORS
from trued.shop.capability import Capability
from trued.shop.feature import named


@dataclass(frozen=True, slots=True)
class Untaught:
    """Errors that no check teaches: standard uncertainties in mm, common practice.

    board:      thickness of another board or sheet than the one that was measured (0.002 in).
    piece:      thickness from place to place within one (0.001 in).
    guided_saw: a cut with a hand-held saw along a guide that was set to a line (1/64 in).
    """

    board_mm: float = 0.05
    piece_mm: float = 0.025
    guided_saw_mm: float = 0.4


THICKNESS_BOARD = "thickness of the board"
THICKNESS_PIECE = "thickness from place to place"
GUIDED = "guided saw"
_DRAWN = {"stop-setting": "setting", "bar-swing": "swing", "bar-play": "swing"}
"""Features whose error is drawn anew at each setting or cut, by the name of that error."""
_UNTAUGHT = frozenset((THICKNESS_BOARD, THICKNESS_PIECE, GUIDED))


@dataclass(frozen=True, slots=True)
class Budget:
    """The actual sizes of one job on one saw.

    groups:   which cuts share what. own: the person's instruments.
    measured: sizes of copies that were measured after the cut; they stand in place of what was expected.
    """

    job: Job
    holds: Capability
    groups: CutGroups
    own: tuple[Instrument, ...] = ()
    untaught: Untaught = Untaught()
    measured: Mapping[PartSize, Uncertain] = field(default_factory=dict)

    def __post_init__(self) -> None:
        faults = Faults()
        for name in self.job.named:
            if name.instrument and name.exact_mm is not None:
                with faults.at(f"[measured], {name.name}"):
                    instrument = find_instrument(name.instrument, self.own, "instrument")
                    judge_range(instrument, float(name.exact_mm), "", name.text)
        faults.raise_if_any()

    def actual(self, node: Node, copies: Mapping[str, int] | None = None) -> Uncertain:
        """What an expression really comes to; `copies` says which copy of a part is meant where it is not written."""
        chosen = copies or {}

        def used(use: Name | PartSize) -> Uncertain:
            if isinstance(use, Name):
                return self._named(use.name)
            return self.size(use.part, use.side, use.copy or chosen.get(use.part, 1))

        return evaluate(node, Ground(lambda value: Uncertain(float(value)), used, _choose))

    def size(self, part: str, side: Side, copy: int) -> Uncertain:
        """The actual size of one copy. KeyError for a part that is held back."""
        if (known := self.measured.get(PartSize(part, side, copy))) is not None:
            return known
        if side is Side.THICKNESS:
            return self._thickness(part, copy)
        return self._cut(part, side, copy)

    def _named(self, name: str) -> Uncertain:
        given = next(named for named in self.job.named if named.name == name)
        if given.instrument and given.exact_mm is not None:
            instrument = find_instrument(given.instrument, self.own, "")
            return instrument.read(f"measured:{name}", instrument.kind, [float(given.exact_mm)])
        if given.of is None:
            raise KeyError(name)
        return self.actual(given.of)

    def _thickness(self, part: str, copy: int) -> Uncertain:
        size = self.job.part(part).thickness
        if size is None:
            raise KeyError(part)
        group = self.groups[part, copy]
        board = Source(f"thickness:{group.stock or size.text}", THICKNESS_BOARD, self.untaught.board_mm)
        piece = Source(f"thickness:{part}@{copy}", THICKNESS_PIECE, self.untaught.piece_mm)
        return self.actual(size.node) + Uncertain.of(0.0, board, piece)

    def _cut(self, part: str, side: Side, copy: int) -> Uncertain:
        group, scope = self.groups[part, copy], f"{part}@{copy}.{side}"
        reading, setting = self.reading_mm(part, side, copy), group.setting(side)
        if reading is None:
            guided = Source(f"guided:{scope}", GUIDED, self.untaught.guided_saw_mm)
            return Uncertain(self._target_mm(part, side), {guided: 1.0} if setting else {})
        if group.where(side) == groups.RIP_FENCE:
            return self._at_the_fence(reading, setting, scope)
        across = Side.WIDTH if side is Side.LENGTH else Side.LENGTH
        return self._at_the_stop(reading, self._target_mm(part, across), setting, scope)

    def _target_mm(self, part: str, side: Side) -> float:
        size = self.job.part(part).size(side)
        if size is None:
            raise KeyError(part)
        return size.mm

    def reading_mm(self, part: str, side: Side, copy: int) -> float | None:
        """What the scale of stop or rip fence was set to for that size; None where no scale was used."""
        group, target = self.groups[part, copy], self._target_mm(part, side)
        given = group.reading_mm(side)
        if not group.setting(side):
            return None
        match group.where(side):
            case groups.SLED:
                return self.holds.setting_for(target).reading_mm if given is None else given
            case groups.RIP_FENCE:
                return self.holds.rip_setting_for(target).reading_mm if given is None else given
            case _:
                return None

    def _at_the_stop(self, reading: float, across: float, setting: str, scope: str) -> Uncertain:
        holds = self.holds
        angle, length = holds.fence_angle, holds.length_at(reading)
        known = Source("fence-angle:known", PRIORS["fence-angle"].label, abs(angle.value))
        own = Uncertain.of(0.0, holds.source("setting", setting), holds.source("stop-repeat", scope))
        ends = Uncertain(0.0, {known: across, holds.source("swing", scope): across})
        return linear(length.value, (1.0, length), (1.0, own), (1.0, ends), (across, angle))

    def _at_the_fence(self, reading: float, setting: str, scope: str) -> Uncertain:
        holds = self.holds
        return holds.rip_offset + Uncertain.of(
            reading, holds.source("rip-setting", setting), holds.source("rip-repeat", scope)
        )


def assumed_labels(budget: Budget) -> frozenset[str]:
    """Lines of a budget that rest on common practice alone: nothing of this shop has shown them yet."""
    features = {named(full).feature for full in budget.holds.assumed}
    saw = {PRIORS[name].label for name in {_DRAWN.get(feature, feature) for feature in features} & PRIORS.keys()}
    instruments = {given.instrument for given in budget.job.named if given.instrument}
    found = [find_instrument(name, budget.own, "") for name in sorted(instruments)]
    kinds = {instrument.kind for instrument in found if instrument is DEFAULTS.get(instrument.kind)}
    readings = {f"{kind}: {error}" for kind in kinds for error in ("limit of error", "repeat of a reading")}
    return frozenset(saw | readings) | _UNTAUGHT


def _choose(word: str, among: Sequence[Uncertain]) -> Uncertain:
    """The one that is smallest or largest on the mean: first order, right where one stands clear of the others."""
    return min(among, key=lambda x: x.value) if word == "min" else max(among, key=lambda x: x.value)

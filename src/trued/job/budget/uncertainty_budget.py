"""The error budget of a job: every size that a fit rests on, as it will really come out.

A target is a constant: the size that a part is meant to have, reckoned once from the numbers as measured. The
actual size is the target with the errors of cutting. The actual size of something measured is the reading with the
error of its instrument. So an error in a measured thickness never cancels against a target reckoned from it.

Every error has a scope, and two sizes share it exactly when they share the scope:

=====================  ==========================================================================================
stop scale             all lengths cut against the stop (offset and slope, one vector)
setting                all copies cut at one setting of the stop or the rip fence
cut                    one size of one copy
fence angle            all lengths cut on the sled, times the width of the part; the bar swing is each cut's
rip scale              all sizes cut at the rip fence
thickness              one measured thickness; then each board or sheet; then each copy
measured size          that reading; the limit of error is shared by all readings of the instrument
joint                  that width or depth of a dado, rabbet or groove: one setting
end angle              fence angle with its sign by end, swing each cut, crook of the edge that lay against the fence
tilt                   the blade's, with its sign by end; the work on the table each cut
test piece             all copies cut at a setting that was corrected by measuring its first part
=====================  ==========================================================================================

A geometry that has the ends of a part apart asks for its length at the reference edge and for their lean. Else the
far end of a part is out by the fence's angle times its width, one way or the other as its face lay up or down; so
what is known of the angle counts as a spread too, and cancels between parts of one width that were cut alike.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from trued.equipment.shop import Shop
from trued.errors import Faults
from trued.job import groups
from trued.job.budget.measuring import find_instrument, judge_range
from trued.job.expression.evaluate import Ground, evaluate
from trued.job.expression.tree import Name, Node, PartSize, Side, uses
from trued.job.geometry import unmeasured_errors as untaught
from trued.job.geometry.unmeasured_errors import GUIDED, JOINT, THICKNESS_BOARD, THICKNESS_PIECE, TypeBError
from trued.job.groups import CutGroups
from trued.job.job import Job, Method
from trued.measure.estimate import ErrorSource, UncertainValue, linear
from trued.measure.instrument import DEFAULTS, Instrument
from trued.standing.cuts.cut_angle import CutAngle, cut_angle
from trued.standing.cuts.cut_errors import CutErrors
from trued.standing.default_uncertainty import TYPE_B
from trued.standing.feature import named

_DRAWN = {"stop-setting": "setting", "bar-swing": "swing", "bar-play": "swing"}
"""Features whose error is drawn anew at each setting or cut, by the name of that error."""


@dataclass(frozen=True, slots=True)
class UncertaintyBudget:
    """The actual sizes of one job on one saw.

    groups:   which cuts share what. own: the person's instruments.
    measured: sizes of copies that were measured after the cut; they stand in place of what was expected.
    at_angles: the detent at which cuts at other angles are made, by the angle in degrees ("45").
    tested:   settings whose first part is measured and the stop corrected by it, with which instrument.
    """

    job: Job
    holds: CutErrors
    groups: CutGroups
    own: tuple[Instrument, ...] = ()
    untaught: TypeBError = field(default_factory=TypeBError)
    measured: Mapping[PartSize, UncertainValue] = field(default_factory=dict)
    at_angles: Mapping[str, CutAngle] = field(default_factory=dict)
    tested: Mapping[str, Instrument] = field(default_factory=dict)

    def __post_init__(self) -> None:
        faults = Faults()
        for name in self.job.named:
            if name.instrument and name.exact_mm is not None:
                with faults.at(f"[measured], {name.name}"):
                    instrument = find_instrument(name.instrument, self.own, "instrument")
                    judge_range(instrument, float(name.exact_mm), "", name.text)
        faults.raise_if_any()

    def actual(self, node: Node, copies: Mapping[str, int] | None = None, *, ends: bool = True) -> UncertainValue:
        """What an expression really comes to; `copies` says which copy of a part is meant where it is not written.

        ends: a length with what its far end is out of square; False is the length at the reference edge.
        """
        chosen = copies or {}

        def used(use: Name | PartSize) -> UncertainValue:
            if isinstance(use, Name):
                return self._named(use.name)
            return self.size(use.part, use.side, use.copy or chosen.get(use.part, 1), ends=ends)

        return evaluate(node, Ground(lambda value: UncertainValue(float(value)), used, _choose))

    def size(self, part: str, side: Side, copy: int, *, ends: bool = True) -> UncertainValue:
        """The actual size of one copy. KeyError for a part that is held back."""
        if (known := self.measured.get(PartSize(part, side, copy))) is not None:
            return known
        if side is Side.THICKNESS:
            return self._thickness(part, copy)
        return self._cut(part, side, copy, ends=ends)

    def lean(self, part: str, copy: int, end: int, angle: str = "0") -> UncertainValue:
        """How far an end (1 or 2) leans outward from the reference edge to the other edge, rad.

        End 2 is the one whose cut frees the part, on the keeper side: a tight fence makes it lean inward. End 1 was
        made by the cut before, on the offcut side. Cut from one board along one fence the two lean opposite ways and
        stay parallel; with the part turned over on the same edge (the rough method) they lean alike, and so do the
        two mitres of one side.
        """
        group, scope = self.groups[part, copy], f"{part}@{copy}"
        if group.station != groups.SLED:
            u = self.untaught.guided_saw_mm / self._target_mm(part, Side.WIDTH)
            return UncertainValue.of(0.0, untaught.source("guided", f"{scope}.end {end}", GUIDED, u))
        alike = self.job.method is Method.ROUGH or angle != "0"
        sign = (group.leans or ((-1, -1) if alike else (1, -1)))[end - 1]
        crook = untaught.source("crook", scope, untaught.CROOK, self.untaught.crook_rad)
        swing = self.holds.source("swing", f"{scope}.length" if end == 2 else f"{scope}.end")
        against = linear(0.0, (float(sign), self._fence(angle)), (float(sign), UncertainValue.of(0.0, crook)))
        return against + sign * self._fence(angle).value + UncertainValue.of(0.0, swing)

    def tilt(self, part: str, copy: int, end: int) -> UncertainValue:
        """How far an end leans outward from one face to the other, rad; opposite ways at the two ends."""
        flat = untaught.source("flat", f"{part}@{copy}.{end}", untaught.FLAT, self.untaught.flat_rad)
        return UncertainValue.of(0.0, flat) + self.blade_tilt() * (-1.0 if end == 1 else 1.0)

    def blade_tilt(self) -> UncertainValue:
        """How far the blade leans, rad; the same for every cut."""
        return UncertainValue.of(0.0, untaught.source("tilt", "blade", untaught.TILT, self.untaught.tilt_rad))

    def joint(self, node: Node, copies: Mapping[str, int], scope: str) -> UncertainValue:
        """The width or depth of a joint with the error of cutting it, which a name that is cut has already."""
        names = {use.name for use in uses(node) if isinstance(use, Name)}
        has = any(named.cut for named in self.job.named if named.name in names)
        size = self.actual(node, copies)
        return size if has else size + self._joint(scope)

    def _joint(self, scope: str) -> UncertainValue:
        return UncertainValue.of(0.0, untaught.source("joint", scope, JOINT, self.untaught.joint_mm))

    def _fence(self, angle: str) -> UncertainValue:
        if angle == "0":
            return self.holds.fence_angle
        if (known := self.at_angles.get(angle)) is not None:
            return known.over
        return cut_angle(Shop(), (), float(angle)).over

    def _named(self, name: str) -> UncertainValue:
        given = next(named for named in self.job.named if named.name == name)
        if given.instrument and given.exact_mm is not None:
            instrument = find_instrument(given.instrument, self.own, "")
            return instrument.read(f"measured:{name}", instrument.kind, [float(given.exact_mm)])
        if given.of is None:
            raise KeyError(name)
        known = self.actual(given.of)
        if given.cut:
            return known + self._joint(name)
        return known

    def _thickness(self, part: str, copy: int) -> UncertainValue:
        size = self.job.part(part).thickness
        if size is None:
            raise KeyError(part)
        group = self.groups[part, copy]
        board = ErrorSource(f"thickness:{group.stock or size.text}", THICKNESS_BOARD, self.untaught.board_mm)
        piece = ErrorSource(f"thickness:{part}@{copy}", THICKNESS_PIECE, self.untaught.piece_mm)
        return self.actual(size.node) + UncertainValue.of(0.0, board, piece)

    def _cut(self, part: str, side: Side, copy: int, *, ends: bool) -> UncertainValue:
        group, scope = self.groups[part, copy], f"{part}@{copy}.{side}"
        reading, setting = self.reading_mm(part, side, copy), group.setting(side)
        if reading is None:
            guided = ErrorSource(f"guided:{scope}", GUIDED, self.untaught.guided_saw_mm)
            return UncertainValue(self._target_mm(part, side), {guided: 1.0} if setting else {})
        if group.where(side) == groups.RIP_FENCE:
            return self._at_the_fence(reading, setting, scope)
        across = self._target_mm(part, Side.WIDTH if side is Side.LENGTH else Side.LENGTH) if ends else 0.0
        return self._at_the_stop(reading, self._target_mm(part, side), across, setting, scope)

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

    def _at_the_stop(self, reading: float, target: float, across: float, setting: str, scope: str) -> UncertainValue:
        holds = self.holds
        angle, length = holds.fence_angle, holds.length_at(reading)
        own = UncertainValue.of(0.0, holds.source("setting", setting), holds.source("stop-repeat", scope))
        if (instrument := self.tested.get(setting)) is not None:
            length, own = self._corrected(instrument, target, setting, scope)
        known = ErrorSource("fence-angle:known", TYPE_B["fence-angle"].label, abs(angle.value))
        ends = UncertainValue(0.0, {known: across, holds.source("swing", scope): across})
        return linear(length.value, (1.0, length), (1.0, own), (1.0, ends), (across, angle))

    def _corrected(
        self, instrument: Instrument, target: float, setting: str, scope: str
    ) -> tuple[UncertainValue, UncertainValue]:
        """With the first part measured and the stop corrected by it: scale and setting no longer count.

        What is left is the instrument's error and the repeat of that first part, both for all that follow.
        """
        first = self.holds.source("stop-repeat", f"test:{setting}")
        read = instrument.read(f"test:{setting}", instrument.kind, [0.0])
        return UncertainValue(target) + read + UncertainValue.of(0.0, first), UncertainValue.of(
            0.0, self.holds.source("stop-repeat", scope)
        )

    def _at_the_fence(self, reading: float, setting: str, scope: str) -> UncertainValue:
        holds = self.holds
        return holds.rip_offset + UncertainValue.of(
            reading, holds.source("rip-setting", setting), holds.source("rip-repeat", scope)
        )


def assumed_labels(budget: UncertaintyBudget) -> frozenset[str]:
    """Lines of a budget that rest on common practice alone: nothing of this shop has shown them yet."""
    features = {named(full).feature for full in budget.holds.assumed}
    saw = {TYPE_B[name].label for name in {_DRAWN.get(feature, feature) for feature in features} & TYPE_B.keys()}
    instruments = {given.instrument for given in budget.job.named if given.instrument}
    found = [find_instrument(name, budget.own, "") for name in sorted(instruments)]
    kinds = {instrument.kind for instrument in found if instrument is DEFAULTS.get(instrument.kind)}
    readings = {f"{kind}: {error}" for kind in kinds for error in ("limit of error", "repeat of a reading")}
    detents = {at.label for at in budget.at_angles.values() if at.assumed}
    return frozenset(saw | readings | detents) | untaught.LABELS


def _choose(word: str, among: Sequence[UncertainValue]) -> UncertainValue:
    """The one that is smallest or largest on the mean: first order, right where one stands clear of the others."""
    return min(among, key=lambda x: x.value) if word == "min" else max(among, key=lambda x: x.value)

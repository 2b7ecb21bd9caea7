"""Which parts of a job have ends that are cut at an angle (they are not planned yet, and never as square cuts), and at
which detents its mitered frames are cut."""

from __future__ import annotations

from collections.abc import Sequence

from trued.equipment.shop import Shop
from trued.job.geometry.kinds.mitres import Mitres
from trued.job.job import Job
from trued.standing.cuts.cut_angle import CutAngle, cut_angle
from trued.standing.feature_status import FeatureStatus


def needs_angles(job: Job) -> tuple[str, ...]:
    """Ids of the parts with mitred or beveled ends, in the order of the job: those of a fit `mitres`, and those of an
    assembly that is joined by miters."""
    sides = {side.part for fit in job.fits if isinstance(fit.shape, Mitres) for side in fit.shape.sides}
    angled = sides | {part for assembly in job.assemblies for part in assembly.angled}
    return tuple(part.id for part in job.parts if part.id in angled)


def detents_for(job: Job, shop: Shop, standings: Sequence[FeatureStatus]) -> dict[str, CutAngle]:
    """What is believed of the detents at which the mitered frames of a job are cut, by the angle ("45")."""
    angles = sorted({fit.shape.angle for fit in job.fits if isinstance(fit.shape, Mitres)})
    return {angle: cut_angle(shop, standings, float(angle)) for angle in angles}

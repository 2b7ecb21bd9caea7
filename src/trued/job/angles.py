"""Which parts of a job have ends that are cut at an angle: they are not planned yet, and never as square cuts."""

from __future__ import annotations

from trued.job.job import Job
from trued.job.kinds.mitres import Mitres


def needs_angles(job: Job) -> tuple[str, ...]:
    """Ids of the parts with mitred or beveled ends, in the order of the job: those of a fit `mitres`, and those of an
    assembly that is joined by miters."""
    sides = {side.part for fit in job.fits if isinstance(fit.shape, Mitres) for side in fit.shape.sides}
    angled = sides | {part for assembly in job.assemblies for part in assembly.angled}
    return tuple(part.id for part in job.parts if part.id in angled)

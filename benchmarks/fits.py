"""How long the draws of a large job take: 60 parts, 20 fits, 200,000 shops, against the bare draws that they need.

Goal: under 1 s on one core, and at most twice the bare draws of as many sources, which are counted in the print. The
times are seconds of processor, in a process of its own that is held to one core.
Run: `python benchmarks/fits.py [DRAWS]`.
"""

import os
import subprocess
import sys
import time

import numpy as np

from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.file.read import read_job
from trued.job.fits.fit import looked_at
from trued.job.fits.joint_probability import JointProbability, count, put_together
from trued.job.fits.monte_carlo import Draws
from trued.job.groups import CutGroup, CutGroups
from trued.job.job import Job
from trued.standing.cuts.cut_errors import assumed_capability

PARTS, FITS, GOAL_S, GOAL_RATIO = 60, 20, 1.0, 2.0
PIECE = 2_000


def wood_of(number: int) -> str:
    """Every second part is of the thicker sheet."""
    return "t" if number % 2 else "u"


def job_text() -> str:
    """Sixty parts from four sheets; every fit goes over three of them and their thickness."""
    rows = ['[measured]\nt = { is = "0.742", instrument = "caliper" }\nu = { is = "0.5", instrument = "caliper" }\n']
    rows += [
        f'[[part]]\nid = "p{number}"\nlength = "{10 + number // 4}"\nwidth = "4"\nthickness = "{wood_of(number)}"\n'
        for number in range(PARTS)
    ]
    for fit in range(FITS):
        a, b, c = 3 * fit, 3 * fit + 1, 3 * fit + 2
        target = sum(10 + number // 4 for number in (a, b, c))
        of = f"p{a}.length + p{b}.length + p{c}.length - {target} + p{a}.thickness - p{c}.thickness"
        of += f" + p{b}.thickness - {wood_of(b)} + p{b}.width - p{a}.width + 4 - p{c}.width"
        rows.append(f'[[fit]]\nid = "f{fit}"\nof = "{of}"\nat_least = "-1/16"\nat_most = "1/16"\n')
    return "".join(rows)


def whole(job: Job) -> JointProbability:
    """The fits ready to be drawn, with settings for families of eight parts."""
    groups = CutGroups(
        {
            (part.id, 1): CutGroup(f"S{number // 8}", f"R{number // 8}", stock=f"sheet/{number // 15}")
            for number, part in enumerate(job.parts)
        }
    )
    return put_together(looked_at(UncertaintyBudget(job, assumed_capability(kerf_mm=2.4), groups)))


def bare(draws: Draws, many: int) -> float:
    """Seconds for nothing but the same draws: as many numbers of the same kinds, thrown away."""
    start, rng = time.process_time(), np.random.default_rng(1)
    for _ in range(0, many, PIECE):
        draws.draw(rng, PIECE)
    return time.process_time() - start


def normals(sources: int, many: int) -> float:
    """Seconds for as many standard normal numbers and nothing else."""
    start, rng = time.process_time(), np.random.default_rng(1)
    for _ in range(0, many, PIECE):
        rng.standard_normal((sources, PIECE))
    return time.process_time() - start


def fitted(together: JointProbability, many: int) -> float:
    """Seconds for the draws, all the fits and whether they hold."""
    start = time.process_time()
    count(together, 1, draws=many)
    return time.process_time() - start


def main(many: int) -> None:
    """Print the best of five of each."""
    job = read_job(job_text())
    start = time.process_time()
    together = whole(job)
    first_order = time.process_time() - start
    sources = len(together.draws.sources)
    rounds = [(normals(sources, many), bare(together.draws, many), fitted(together, many)) for _ in range(5)]
    needed, same, best = (min(times) for times in zip(*rounds, strict=True))
    found = count(together, 1, draws=many)
    print(f"{len(job.parts)} parts, {len(together.fits)} fits, {many} draws, {sources} independent sources")
    print(f"budget to first order   {first_order:6.2f} s")
    print(f"bare normal numbers     {needed:6.2f} s")
    print(f"bare draws as needed    {same:6.2f} s   (with what is shared by one scatter)")
    print(f"draws and all fits      {best:6.2f} s   goal {GOAL_S:.2f} s")
    print(f"ratio to bare normals   {best / needed:6.2f}     goal {GOAL_RATIO:.2f}")
    print(f"all of it together      {100 * found.together / found.draws:6.2f} times in 100")


if __name__ == "__main__":
    one_core = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    if one_core.items() <= os.environ.items():
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 200_000)
    else:
        subprocess.run([sys.executable, __file__, *sys.argv[1:]], check=True, env={**os.environ, **one_core})

"""Sessions of the exact filter: it ends by the same evidence as the tool, and turns by the same rule."""

from __future__ import annotations

import numpy as np
from benchmarks.virtual.ahead import MOVE, RUN, Noise, choices, step_of
from benchmarks.virtual.came import Came
from benchmarks.virtual.exact import SURE, Bools, Exact, Told, knows
from benchmarks.virtual.lots import MOST_RUNS, Array, Ints, Lot

DEPTH = 2


class Oracle:
    """All shops of a lot, side by side. `pair`: whether an untouched pair is in the book, or none is asked for."""

    def __init__(self, lot: Lot, *, pair: bool, depth: int = DEPTH) -> None:
        self._lot, self._depth = lot, depth
        self._r, settling = knows(lot)
        self._settling = settling
        self._noise = Noise(self._r, settling**2, step_of(lot.radius_mm))
        self.x = lot.x.copy()
        self._belief = Exact.first(lot.shops)
        self._pair = np.full(lot.shops, pair)
        self._any = np.zeros(lot.shops, dtype=bool)

    def event(self) -> None:
        """The screw was touched."""
        self.x = self.x + self._lot.thrown
        self._belief.thrown(np.arange(self._lot.shops))

    def set_true(self, session: int) -> list[Came]:
        """One session of each."""
        lot = self._lot
        came = [Came(float(yaw)) for yaw in lot.yaw]
        open_ = np.arange(lot.shops)
        moves = np.zeros(lot.shops, dtype=int)
        fresh = np.zeros(lot.shops, dtype=bool)  # whether the last thing done was a run
        for run in range(MOST_RUNS):
            z = lot.angles(open_, self.x[open_], session, run)
            self._belief.found(open_, z, self._r[open_])
            self._pair[open_] |= fresh[open_]
            fresh[open_] = True
            told = self._belief.told(open_)
            for i in open_:
                came[i].runs, came[i].minutes = came[i].runs + 1, came[i].minutes + RUN
            done = (told.inside >= SURE) & self._pair[open_]
            for i in open_[done]:
                came[i].ended(float(self.x[i]), claimed=True)
            stay = ~done
            turn = np.zeros(len(open_), dtype=bool)
            u = np.zeros(len(open_))
            if stay.any():
                turn[stay], u[stay] = self._choice(told, stay, open_)
            self._turn(open_[turn], u[turn], session, moves, came)
            fresh[open_[turn]] = False
            open_ = open_[stay]
            if not len(open_):
                break
        for i in open_:
            came[i].ended(float(self.x[i]), claimed=False)
        return came

    def _choice(self, told: Told, stay: Bools, open_: Ints) -> tuple[Bools, Array]:
        m = told.moments.some(stay)
        who = open_[stay]
        noise = Noise(self._noise.r[who], self._noise.q[who], self._noise.step[who])
        again, move, u = choices(m, noise, self._pair[who], self._depth)
        above = told.above[stay]
        sure = np.maximum(above, 1.0 - above) >= SURE
        return (move < again) & sure & (u != 0.0), u

    def _turn(self, who: Ints, u: Array, session: int, moves: Ints, came: list[Came]) -> None:
        if not len(who):
            return
        for i in who:
            came[i].turned(float(self.x[i]))
            came[i].minutes += MOVE
        for move in np.unique(moves[who]):
            some = moves[who] == move
            ids = who[some]
            self.x[ids] = self._lot.landed(ids, self.x[ids], u[some], session, int(move), ~self._any[ids])
        self._belief.turned(who, u, self._settling[who], ~self._any[who])
        self._any[who] = True
        moves[who] += 1

"""The best found so far, and how much has been tried for it."""

from collections.abc import Callable
from dataclasses import dataclass, field

from trued.plan.bounds.bound import Floor
from trued.plan.bounds.scales import Weighing
from trued.plan.layout.result import Ended
from trued.plan.layout.task import Task
from trued.plan.rng import Rng
from trued.plan.search.decode import Recipe, Trial, decode
from trued.plan.search.objective import Objective, judge


@dataclass(slots=True)
class Best:
    """The best complete trial, the best incomplete one, and how the search ended.

    scales, floor:  what bounds the cost from below.
    told:           hears of every cheaper layout.
    priced:         whether the prices of the linear relaxation are among the scales.
    spent, limit:   of the effort of this round.
    every_way:      the cost in it is the least, or there is no layout, because every way of cutting was tried.
    """

    task: Task
    chance: Rng
    trial: Trial | None = None
    verdict: Objective | None = None
    recipe: Recipe | None = None
    near: Trial | None = None
    near_verdict: Objective | None = None
    tried: int = 0
    ended: Ended = Ended.EFFORT
    scales: tuple[Weighing, ...] = ()
    floor: Floor = field(default_factory=lambda: Floor(0, None))
    every_way: bool = False
    spent: int = 0
    limit: int = 0
    priced: bool = False
    told: Callable[[Objective, Floor], None] | None = None

    def begin(self, effort: int) -> None:
        """A new round of so much effort. It begins with the same chance whatever was tried before it."""
        self.spent, self.limit = 0, effort
        self.chance = Rng(self.task.rules.seed + effort)

    @property
    def left(self) -> int:
        """Layouts that may still be tried."""
        return 0 if self.ended is Ended.TIME else max(0, self.limit - self.spent)

    @property
    def proved(self) -> bool:
        """The best trial costs no more than any layout must."""
        return self.verdict is not None and self.verdict.cost <= self.floor.cost

    def attempt(self, recipe: Recipe, bins: tuple[int, ...]) -> Objective:
        """Try one recipe and keep it if it is the best so far."""
        self.look_at_the_time()
        return self.consider(decode(self.task, recipe, bins), recipe)

    def look_at_the_time(self) -> None:
        """Count one try; a large job counts for more, so that the effort is about the same time."""
        self.tried += 1
        self.spend(1 + self.task.copies**2 // 8000)

    def spend(self, effort: int) -> None:
        """Count effort and look whether the time is up."""
        self.spent += effort
        time_up = self.task.rules.time_up
        if time_up is not None and time_up():
            self.ended = Ended.TIME

    def consider(self, trial: Trial, recipe: Recipe | None) -> Objective:
        """Keep a trial if it is the best so far."""
        verdict = judge(self.task, trial)
        if trial.complete and (self.verdict is None or verdict < self.verdict):
            cheaper = self.verdict is None or verdict.cost < self.verdict.cost
            self.trial, self.verdict, self.recipe = trial, verdict, recipe
            if cheaper and self.told is not None:
                self.told(verdict, self.floor)
        if not trial.complete and (self.near_verdict is None or verdict < self.near_verdict):
            self.near, self.near_verdict = trial, verdict
        return verdict

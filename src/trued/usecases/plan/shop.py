"""The shop that a plan is made for: from its book, from a shop file, or none; and the kerf to lay out with."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from trued.advice.closures import Closed
from trued.equipment.saw import Blade
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.job.job import Job, Method
from trued.plan.stations.reach import Ban, bans_of, reach_of
from trued.plan.stations.station import Reach
from trued.standing.cuts.cut_errors import CutErrors, cut_errors
from trued.standing.feature import named
from trued.standing.feature_status import FeatureStatus
from trued.units import Unit, read_length
from trued.usecases.plan.planned import KerfUsed
from trued.usecases.plan.words import small
from trued.usecases.shop.shop_now import shop_now


@dataclass(frozen=True, slots=True)
class PlanShop:
    """The shop with what is believed of it; `book` is None when it comes from a file alone.

    left_out: runs not understood. closed: what stays closed for rips until a finding shows it right.
    of_book: the shop that the book describes, where a file was named beside it: its bans hold too.
    """

    shop: Shop
    standings: tuple[FeatureStatus, ...] = ()
    book: Path | None = None
    left_out: tuple[str, ...] = ()
    closed: tuple[Closed, ...] = ()
    of_book: Shop | None = None

    def bans(self, kerf_mm: float | None) -> tuple[Ban, ...]:
        """What the plan leaves out of use, and why: by the shop planned for, and by the book named beside it."""
        own = bans_of(self.shop, self.standings, kerf_mm=kerf_mm, closed=self.closed)
        if self.of_book is None:
            return own
        kept = bans_of(self.of_book, self.standings, kerf_mm=kerf_mm, closed=self.closed)
        return own + tuple(Ban(ban.code, f"By the book: {ban.text}") for ban in kept if ban not in own)

    def holds(self, kerf_mm: float | None) -> CutErrors:
        """What the saw holds for cuts made now. `kerf_mm` stands in for a blade whose kerf is not known."""
        return cut_errors(self.shop, self.standings, kerf_mm=kerf_mm)


def stations_of(here: PlanShop | None, job: Job, kerf_mm: float | None = None) -> Reach:
    """What the stations of the shop can take for this job, with what was shown to be out left out of use."""
    rough = job.method is Method.ROUGH
    return reach_of(None, rough=rough) if here is None else reach_now(here, kerf_mm, rough=rough)


def reach_now(here: PlanShop, kerf_mm: float | None, *, rough: bool = False) -> Reach:
    """What the stations of a known shop can take: of shop file and book the narrower."""
    shops = (here.shop,) if here.of_book is None else (here.shop, here.of_book)
    found = [
        reach_of(shop, rough=rough, standings=here.standings, kerf_mm=kerf_mm, closed=here.closed) for shop in shops
    ]
    return replace(
        found[0],
        sled=all(reach.sled for reach in found),
        fence=all(reach.fence for reach in found),
        sled_rips=all(reach.sled_rips for reach in found),
    )


def plan_shop(book: Path | None, file: Path | None, at: datetime) -> PlanShop | None:
    """The shop of the book, else of the file, else none. With both it is that of the file, and what the book has found
    out or its description bans stays closed; with a file alone everything counts as never checked."""
    described = _described(file) if file is not None else None
    if book is None:
        return None if described is None else PlanShop(described)
    now = shop_now(book, at)
    if described is not None:
        return PlanShop(described, now.standings(), book, now.left_out, now.closed, now.shop)
    shop = replace(now.shop, instruments=now.instruments)
    return PlanShop(shop, now.standings(), book, now.left_out, now.closed)


def _described(file: Path) -> Shop:
    from trued.equipment.file.read_shop import read_shop
    from trued.usecases.files.read_file import read_text

    return read_shop(read_text(file))


def kerf_for(here: PlanShop | None, job: Job, given: str | None, unit: Unit) -> KerfUsed:
    """The kerf that was given, else the one found here, else the one marked on the blade, else the job's own.

    One that was found before another blade went on comes last. InputRefused when there is none, with what to give, and
    for one that was typed and is no kerf of this blade.
    """
    blade = here.shop.blade if here is not None else None
    if given is not None:
        kerf = read_length(given, unit, where="--kerf")
        if kerf.exact_mm <= 0:
            raise InputRefused.of("--kerf", given, "A kerf must be above 0.")
        _is_a_kerf(kerf.exact_mm, blade, "--kerf", given, unit)
        return KerfUsed(kerf.exact_mm, GIVEN, assumed=False)
    found = _found(here) if here is not None else None
    if found is not None and not found.stale:
        return KerfUsed(_fraction(found.x.value), "measured here", assumed=False)
    marked = blade.kerf_mm if blade is not None else None
    if marked is not None:
        _is_a_kerf(_fraction(marked), blade, "[blade], kerf", small(marked, unit), unit)
        return KerfUsed(_fraction(marked), "marked on the blade, not measured here", assumed=True)
    if job.kerf is not None:
        _is_a_kerf(job.kerf.exact_mm, blade, "kerf", job.kerf.text, unit)
        return KerfUsed(job.kerf.exact_mm, "written in the job", assumed=True)
    if found is not None:
        return KerfUsed(_fraction(found.x.value), "measured here, before another blade went on", assumed=True)
    text = (
        'How wide the blade cuts is not known: give --kerf, write kerf = "…" in the job, or name a shop with a blade.'
    )
    raise InputRefused.of("--kerf", "", text)


GIVEN = "given with --kerf"
"""Where a kerf comes from that was typed for this plan."""

PLATES = 3
WIDEST_MM = 6.35
"""No blade cuts wider than three times its plate, and a single one none wider than 1/4 in: common practice."""
_SLACK_MM = 1e-4  # rounding, far below what anyone measures


def _is_a_kerf(mm: Fraction, blade: Blade | None, where: str, read: str, unit: Unit) -> None:
    """Refuses what this blade cannot cut: mostly a slip of the decimal point or of the unit."""
    plate = blade.plate_mm if blade is not None else None
    usual = "millimetres" if unit == "mm" else "inches"
    hint = f"A bare number is in {usual}; else write its unit, as in 2.4mm. The check kerf measures it."
    if plate is None and mm > WIDEST_MM:
        text = f"A saw blade cuts {small(WIDEST_MM, unit)} at most. {hint}"
    elif plate is not None and mm < plate - _SLACK_MM:
        text = f"A blade cuts wider than its plate, and the plate here is {small(plate, unit)}. {hint}"
    elif plate is not None and mm > PLATES * plate + _SLACK_MM:
        most = small(PLATES * plate, unit)
        text = f"A blade of a {small(plate, unit)} plate cuts {most} at most, three times its plate. {hint}"
    else:
        return
    raise InputRefused.of(where, read, text)


def _found(here: PlanShop) -> FeatureStatus | None:
    return next((s for s in here.standings if named(s.feature).feature == "kerf" and s.believed), None)


def _fraction(mm: float) -> Fraction:
    return Fraction(str(round(mm, 7)))

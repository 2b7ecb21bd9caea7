"""Mis-cut, or is the stop off? Which measured parts are likelier slips, and what only the person can tell of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from trued.errors import Question
from trued.standing.stop_history import Judged
from trued.standing.stop_model import SLIP, Cuts
from trued.units import Unit
from trued.usecases.shop.measured_parts import LOTS, MIS_CUT, MOVED, RIGHT, WRONG, by_setting, set_parts
from trued.usecases.shop.shop_now import PROOF, ShopNow, opened
from trued.usecases.showing import shown

if TYPE_CHECKING:
    from trued.store.book import Book


@dataclass(frozen=True, slots=True)
class MisCuts:
    """Measured parts by name: likelier slips than not; of which a second copy is wanted; those of one setting that lie
    in two lots. questions: what is asked about them."""

    wrong: tuple[str, ...] = ()
    second: tuple[str, ...] = ()
    lots: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()


NONE = MisCuts()
_SAYS_NOTHING = (WRONG, "Mis-cut or misread: it says nothing of the stop")


def mis_cuts_of(book: Book, now: ShopNow, run: str) -> MisCuts:
    """Of one kept proof."""
    stored = book.run(run)
    judged = [one for log in now.known.stops.values() for one in log.now(now.now).judged if one.run == run]
    if stored is None or stored.run.check != PROOF or not judged:
        return NONE
    names = by_setting(set_parts(stored))
    if len(names) != len(judged):  # some of its settings are too long ago to count
        return NONE
    pairs = list(zip(judged, names, strict=True))
    return MisCuts(
        wrong=tuple(own[n] for one, own in pairs for n in one.slips),
        second=tuple(own[n] for one, own in pairs for n in one.again),
        lots=tuple(name for one, own in pairs if one.moved for name in own),
        questions=tuple(_asked(run, pairs, now.unit)),
    )


def mis_cut_questions(now: ShopNow) -> Iterator[Question]:
    """Of every proof whose parts still count."""
    runs = {entry.run: None for log in now.known.stops.values() for entry in log.entries if entry.run}
    if not runs:
        return
    with opened(now.path) as book:
        for run in runs:
            yield from mis_cuts_of(book, now, run).questions


def _asked(run: str, pairs: Sequence[tuple[Judged, Sequence[str]]], unit: Unit) -> Iterator[Question]:
    for one, own in pairs:
        if one.moved:
            yield _lots(run, one, own)
        elif len(own) == 1 and one.doubted and not one.cuts.wrong:
            yield _lone(run, own[0], one.cuts.off_mm[0], unit)
        elif one.apart:
            yield from (_odd(run, own[n], one.cuts, n, unit) for n in one.apart)


def _lone(run: str, name: str, off_mm: float, unit: Unit) -> Question:
    by, way = shown(abs(off_mm), "mm", unit), "long" if off_mm > 0.0 else "short"
    text = f"{name} came out {by} {way} of what the stop read. Mis-cut or misread? Else cut a second and measure it."
    choices = (_SAYS_NOTHING, (RIGHT, "Measured again, it is right: the stop was off"))
    return Question(f"{MIS_CUT}{name}", run, text, choices)


def _odd(run: str, name: str, cuts: Cuts, copy: int, unit: Unit) -> Question:
    """One copy that none of its mates agrees with."""
    own = cuts.off_mm[copy]
    near = min((off for n, off in enumerate(cuts.off_mm) if n != copy), key=lambda off: abs(off - own))
    by, way = shown(abs(own - near), "mm", unit), "longer" if own > near else "shorter"
    text = f"{name} is {by} {way} than the nearest of its mates. Mis-cut or misread? Else cut another and measure it."
    choices = (_SAYS_NOTHING, (RIGHT, "Measured again, it is right: copies differ so much here"))
    return Question(f"{MIS_CUT}{name}", run, text, choices)


def _lots(run: str, one: Judged, own: Sequence[str]) -> Question:
    far = [own[n] for n, chance in enumerate(one.chances) if chance > SLIP]
    moved = (MOVED, "It moved, or was set again or wrong: they say nothing of the stop")
    if len(far) == len(own):
        text = f"{', '.join(own)} are the same, but far from what the stop read. Was it set to another line?"
        choices = (moved, (RIGHT, "Read and measured again, all is right: the scale is so far off"))
    else:
        text = f"{', '.join(own)} lie in two lots. Did the stop move between them?"
        choices = (moved, (WRONG, f"It stood still: mis-cut or misread is {', '.join(far)}"))
    return Question(f"{LOTS}{','.join(far)}", run, text, choices)

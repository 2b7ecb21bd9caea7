"""A check in plain words for a terminal: how it is done, and what came of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from trued.cli.lines import example, wrapped
from trued.cli.result import question_lines
from trued.cli.text.message import message_lines
from trued.usecases.runs.result_message import ResultFacts, result_message
from trued.usecases.showing import brief, chance_said, found_said, two_sided, within_said
from trued.usecases.standing.action_queue import visits
from trued.usecases.words import feature_said, verdict_said

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.runs.taking import CheckRun
    from trued.usecases.views import Check, Estimate, FeatureStatus, ReadingSpec


def how_to(check: Check, *, whole: bool = False) -> str:
    """What a person needs before the first reading: tools, warnings, steps, and how the readings are typed.

    whole: with what it is for, every reading in words and the sources, as `--help all` has it.
    """
    return "\n".join(_how_to(check, whole=whole))


def _how_to(check: Check, *, whole: bool) -> Iterator[str]:
    yield wrapped(f"{check.title} ({check.minutes:.0f} min)")
    if whole:
        yield wrapped(check.purpose)
    yield ""
    yield wrapped(f"You need: {'; '.join(check.at_hand)}.")
    yield from (wrapped(f"WARNING  {caution}") for caution in check.cautions)
    yield ""
    for number, step in enumerate(check.steps, 1):
        if step.caution:
            yield wrapped(f"WARNING  {step.caution}", "  ")
        yield wrapped(f"{number}. {step.text}", "  ")
    yield ""
    if whole:
        yield "Readings:"
        yield from (wrapped(_asked(ask), "  ") for ask in check.asks)
        yield ""
    yield wrapped(f"Type:  {example(check.id, check.example.words)}")
    if whole:
        yield from (wrapped(f"Source: {source}") for source in check.sources)
        return
    typed = {word.partition("=")[0].partition("@")[0] for word in check.example.given}
    if left := [ask.name for ask in check.asks if ask.optional and ask.name not in typed]:
        yield wrapped(f"Optional: {', '.join(left)}")
    yield "Options: --help all    Drawing: trued open"


def _asked(ask: ReadingSpec) -> str:
    places = f"@{'|'.join(ask.stations)}" if not isinstance(ask.stations, int) and ask.stations else ""
    at_lengths = isinstance(ask.stations, int) and ask.stations > 0
    answers = f" ({', '.join(ask.choices)})" if ask.choices else ""
    may = " (optional)" if ask.optional else ""
    return f"{ask.name}{'@LENGTH' if at_lengths else places}  {ask.text}{answers}{may}"


def told(result: CheckRun, *, more: bool = False) -> str:
    """What came of it: verdict, one thing to do, number, what is not checked. more: and then what lies behind it."""
    facts = ResultFacts(
        result.check,
        result.finding,
        result.verdict,
        result.standings,
        result.unit,
        result.full,
        result.cause,
        result.run,
        result.moved,
    )
    return "\n".join(message_lines(result_message(facts), tuple(_foot(result)), more=more))


def _foot(result: CheckRun) -> Iterator[str]:
    """What was saved, and how it is taken back, confirmed or answered."""
    verdict = result.verdict
    if result.run is None:
        yield "Not saved: no shop book (--book or TRUED_BOOK). Why: --more"
        return
    short = result.run[:8]
    if verdict.read_again:
        yield f"Saved as a bad run. Drop it: trued undo {short}"
        yield wrapped(f"Read and typed right all the same? trued confirm {short}")
        return
    if verdict.question is not None:
        yield from question_lines(verdict.question, f"  trued answer {verdict.question.about[:8]}")[1:]
    yield f"Saved. Why: --more    Undo: trued undo {short}"


def estimate_lines(e: Estimate, unit: Unit, *, decided: bool = True) -> Iterator[str]:
    """Value with its interval, the decision with its chance, and where the doubt comes from.

    decided: False where a book decides by all runs together; two verdicts in one answer would be one too many.
    """
    signed = two_sided(e.limits)
    low, high = (brief(x, e.unit, unit, sign=signed) for x in e.interval95)
    yield wrapped(f"{feature_said(e.feature)}: {found_said(e.value, e.unit, unit, e.limits, e.feature)}")
    yield wrapped(f"95%: {low} to {high}", "  ")
    if decided and e.limits is not None and e.decision is not None and e.chance_in is not None:
        within = f"{within_said(e.limits, e.unit, unit)}: {chance_said(e.chance_in, e.scatter_source)}"
        yield wrapped(f"{verdict_said(e.decision, e.feature, e.side, e.limits)}; the chance that it is {within}", "  ")
        if e.runs_to_decide is not None:
            runs = f"{e.runs_to_decide} runs in all, same setup, would decide it if they agree"
            yield wrapped(runs, "  ")
    parts = [f"{c.label} {brief(c.u, e.unit, unit)}" for c in e.components[:3] if c.u > 0.1 * e.u]
    if parts:
        yield wrapped(f"u {brief(e.u, e.unit, unit)}, from {', '.join(parts)}", "  ")


def standing_lines(standings: Sequence[FeatureStatus], unit: Unit) -> Iterator[str]:
    """What is believed now, then what to do next: one action for a check, with what is done by hand beside it."""
    for standing in standings:
        verdict = verdict_said(standing.decision, standing.feature, standing.side, standing.limits)
        yield wrapped(f"{feature_said(standing.feature)}: {verdict}{_within(standing, unit)}")
    waiting = visits(standings)
    for visit in waiting:
        for number, step in enumerate(visit.steps):
            text = step.first.next.text if step.first.next is not None else ""
            names = ", ".join(feature_said(s.feature) for s in step.serves)
            begins = "Then" if number else "Next"
            yield wrapped(f"{begins}: {text}" if len(standings) == 1 else f"{begins}, {names}: {text}", "  ")
    if not waiting:
        kept = dict.fromkeys(s.next.text for s in standings if s.next is not None)
        yield from (wrapped(f"Next: {text}", "  ") for text in kept)


def _within(s: FeatureStatus, unit: Unit) -> str:
    if s.chance_in is None or s.limits is None or s.decision is None:
        return ""
    return (
        f"; the chance that it is {within_said(s.limits, s.unit, unit)}: {chance_said(s.chance_in, s.scatter_source)}"
    )

"""A check's result in plain words for a terminal."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from trued.units import Unit, as_decimal, as_mm, show_angle
from trued.usecases.words import said

if TYPE_CHECKING:
    from trued.usecases.run_check import CheckRun
    from trued.usecases.views import Check, Estimate, Standing

WIDTH = 100


def how_to(check: Check) -> str:
    """What a person needs before the first reading: at hand, cautions, steps, and what is read."""
    lines = [f"{check.title}: {check.purpose}", "", f"At hand: {'; '.join(check.at_hand)}", ""]
    lines += [wrapped(f"CAUTION  {caution}") for caution in check.cautions]
    for number, step in enumerate(check.steps, 1):
        if step.caution:
            lines.append(wrapped(f"CAUTION  {step.caution}", "    "))
        lines.append(wrapped(f"{number}. {step.text}", "  "))
    lines += ["", "Readings:"]
    for ask in check.asks:
        places = "@LENGTH" if isinstance(ask.stations, int) else f"@{'|'.join(ask.stations)}" if ask.stations else ""
        answers = f" ({', '.join(ask.choices)})" if ask.choices else ""
        may = " (may be left out)" if ask.optional else ""
        lines.append(wrapped(f"{ask.name}{places if places != '@0' else '@LENGTH'}  {ask.text}{answers}{may}", "  "))
    lines += ["", f"Example: trued check {check.id} {' '.join(check.example.given)}"]
    return "\n".join(lines)


def told(result: CheckRun) -> str:
    """The finding: what it is, how sure, what to do, what stands against it."""
    check, finding, unit = result.check, result.finding, result.taken.unit
    lines = [check.title, ""]
    lines += [wrapped(f"CAUTION  {caution}") for caution in check.cautions]
    lines.append("")
    for estimate in finding.estimates:
        lines += estimate_lines(estimate, "mm" if unit == "mm" else "in")
    for move in finding.moves:
        lines.append(wrapped(f"DO  {move.text}"))
    for seen in finding.seen:
        lines.append(wrapped(f"LOOK  {seen.text}" if seen.act != "note" else f"NOTE  {seen.text}"))
    if not finding.moves and any(e.decision for e in finding.estimates):
        lines.append("No move: leave the adjustment as it is.")
    lines.append(f"Kept as run {result.run}." if result.run else "Not kept: no book was named.")
    lines += [standing_line(standing) for standing in result.standings]
    return "\n".join(lines)


def estimate_lines(e: Estimate, unit: Unit) -> list[str]:
    """Value with its interval, the decision with its chance, and where the doubt comes from."""
    low, high = e.interval95
    lines = [
        f"{e.feature}: {shown(e.value, e.unit, unit, sign=True)}",
        f"  95 times in 100 between {shown(low, e.unit, unit, sign=True)} and {shown(high, e.unit, unit, sign=True)}",
    ]
    if e.limits is not None and e.decision is not None and e.chance_in is not None:
        lines.append(
            f"  {said(e.decision)}: tolerance {limits_shown(e, unit)}, chance that it is within {chance(e.chance_in)}"
        )
        if e.runs_to_decide is not None:
            lines.append(f"  {e.runs_to_decide} runs in all, nothing touched between, would decide it if they agree")
    if e.components:
        told = [c for c in e.components[:3] if c.u > 0.1 * e.u]
        parts = ", ".join(f"{c.label} {shown(c.u, e.unit, unit)}" for c in told)
        lines.append(f"  doubt (one standard deviation): {shown(e.u, e.unit, unit)}, from {parts}")
    return lines


def standing_line(standing: Standing) -> str:
    """One standing as a line."""
    state = said(standing.decision) if standing.decision else "nothing to decide"
    next_step = f" Next: {standing.next.text}" if standing.next else ""
    return f"{standing.feature}: {state}.{next_step}"


def shown(value: float, kind: str, unit: Unit, *, sign: bool = False) -> str:
    """A number of a feature in the person's unit: angles as inches per foot, lengths in inches or mm."""
    plus = "+" if sign and value >= 0 else ""
    if kind == "rad":
        return plus + show_angle(value, unit)
    if kind == "mm/mm":
        per = value * 12 if unit == "in" else value * 300
        return f"{plus}{per:.4f} in/ft" if unit == "in" else f"{plus}{per:.3f} mm per 300 mm"
    if kind != "mm":
        return f"{plus}{value:.4g} {kind}"
    return plus + (as_mm(value, 3).text if unit == "mm" else f"{as_decimal(value, 4).text} in")


def limits_shown(e: Estimate | Standing, unit: Unit) -> str:
    """A tolerance in words."""
    if e.limits is None:
        return "none"
    low, high = e.limits.low, e.limits.high
    if low is None and high is not None:
        return f"at most {shown(high, e.unit, unit)}"
    if high is None and low is not None:
        return f"at least {shown(low, e.unit, unit)}"
    if low is not None and high is not None and low == -high:
        return f"±{shown(high, e.unit, unit)}"
    return f"{shown(low or 0.0, e.unit, unit)} to {shown(high or 0.0, e.unit, unit)}"


def chance(p: float) -> str:
    """A chance as a person says it; never 0 or 100 %."""
    if p < 0.01:
        return "under 1 %"
    return "over 99 %" if p > 0.99 else f"about {100 * p:.0f} %"


def wrapped(text: str, indent: str = "") -> str:
    """One paragraph, hanging under its first word."""
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=indent + "    ")

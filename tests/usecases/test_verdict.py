"""One verdict for an answer: a run in doubt is read again, whatever check it is, and nothing is turned by it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from functools import partial
from typing import Any

import pytest

from trued.cli.commands.check import as_json
from trued.cli.text.check import told
from trued.measure.decision import Conformity
from trued.procedure import ONE_RUN, Check, Flag, RunInput, Severity, examine, take
from trued.standing.feature_status import ActionKind, FeatureStatus, NextAction
from trued.usecases.runs.taking import CheckRun
from trued.usecases.runs.verdict import Says, ordered
from trued.usecases.shop.list_checks import list_checks

CHECKS = {check.id: check for check in list_checks()}
NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)
DOUBT = Flag("planted", Severity.DOUBT, "Something speaks against these readings.")
DANGER = Flag("planted-danger", Severity.DANGER, "Someone can get hurt by this.")


def _said(seen: Flag, taken: RunInput) -> Flag:
    assert taken.readings
    return seen


def planted(check: Check, *seen: Flag) -> CheckRun:
    """The check's own worked example, with warnings that its readings do not give by themselves."""
    more = tuple(partial(_said, one) for one in seen)
    spoilt = replace(check, blunders=(*check.blunders, *more))
    facts = {
        name.removeprefix("--"): value for name, value in (g.split("=") for g in check.example.given if g[0] == "-")
    }
    typed = [given for given in check.example.given if given[0] != "-"]
    taken: RunInput = take(spoilt, typed, facts | dict(check.example.facts))
    finding = examine(taken)
    return CheckRun(spoilt, taken, finding, waits=bool(finding.doubts))


@pytest.mark.parametrize("id", CHECKS)
def test_a_doubt_withholds_every_order_of_every_check(id: str) -> None:
    sound, run = planted(CHECKS[id]), planted(CHECKS[id], DOUBT)
    assert (
        run.finding.moves == () and run.verdict.says is Says.READ_AGAIN and run.verdict.do.startswith("Read it again")
    )
    for before, after in zip(sound.finding.estimates, run.finding.estimates, strict=True):
        assert after.value == before.value  # kept as typed
        assert after.decision is not Conformity.PROVEN_IN
        assert after.decision is not Conformity.PROVEN_OUT or (
            after.safety and before.decision is Conformity.PROVEN_OUT
        )
    assert not any(shape.role == "move" for shape in run.drawing.shapes)
    text: str = told(run)
    answer: Any = as_json(run)
    assert "BAD RUN" in text and "DO  " not in text and "No move" not in text and "sure enough" not in text
    assert answer["confirmed"] is False and answer["moves"] == []


@pytest.mark.parametrize("id", CHECKS)
def test_a_danger_comes_first_and_opens_nothing(id: str) -> None:
    run = planted(CHECKS[id], DANGER)
    text = told(run)
    assert run.verdict.dangers[0] == DANGER.text and text.splitlines()[2] == f"WARNING  {DANGER.text}"
    for estimate in run.finding.estimates:
        assert estimate.decision is not Conformity.PROVEN_IN
        assert not estimate.safety or estimate.decision in (Conformity.PROVEN_OUT, None)
    assert {move.feature for move in run.finding.moves} <= {e.feature for e in run.finding.estimates if e.side}
    assert not run.waits or run.finding.doubts  # a danger alone counts at once


def test_nothing_says_to_repeat_beside_an_order_to_turn() -> None:
    """A feature may lie on a known side without being proven out: where it is turned, nothing is repeated first."""
    run = planted(CHECKS["five-cut"], ONE_RUN)
    step = NextAction(ActionKind.MOVE, "Open the fence.", "", "open", 1e-4)
    fence = FeatureStatus("sled.fence-angle@0", "rad", run.finding.founds[0].value, None, None, None, NOW, 1, next=step)
    full = {"fence-angle": fence.feature}
    assert ONE_RUN not in ordered(run.finding, (fence,), full).seen
    measure = replace(fence, next=replace(step, do=ActionKind.MEASURE))
    assert ONE_RUN in ordered(run.finding, (measure,), full).seen
    assert ordered(run.finding, (measure,), full).moves == ()

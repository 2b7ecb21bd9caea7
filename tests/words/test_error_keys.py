"""Errors in `--json` keep the names that they had before the labels changed: those of the first kept plans."""

from __future__ import annotations

from trued.job.geometry.unmeasured_errors import THICKNESS_BOARD, THICKNESS_PIECE
from trued.standing.default_uncertainty import TYPE_B
from trued.words.error_keys import error_key, error_label, keyed, labeled

OLD = {
    "repeat of the stop": TYPE_B["stop-repeat"].label,
    "swing of the bar": TYPE_B["swing"].label,
    "thickness of the board": THICKNESS_BOARD,
    "thickness from place to place": THICKNESS_PIECE,
    "setting the rip fence": TYPE_B["rip-setting"].label,
    "repeat of a rip width": TYPE_B["rip-repeat"].label,
}
"""As plans were kept and printed before."""


def test_every_renamed_label_has_its_old_key() -> None:
    assert {error_key(label): label for label in OLD.values()} == OLD
    assert {key: error_label(key) for key in OLD} == OLD


def test_there_and_back_keeps_order_and_what_has_one_name() -> None:
    shares = {"caliper": 0.5, "stop repeatability": 0.3, "fence angle": 0.2}
    assert list(keyed(shares)) == ["caliper", "repeat of the stop", "fence angle"]
    assert labeled(keyed(shares)) == shares and labeled(shares) == shares  # a plan kept with labels is read too

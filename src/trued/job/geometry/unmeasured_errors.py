"""Errors that no check of the saw teaches: common practice of the trade, until the person knows better."""

from __future__ import annotations

from dataclasses import dataclass

from trued.measure.estimate import ErrorSource


@dataclass(frozen=True, slots=True)
class TypeBError:
    """Standard uncertainties in mm and rad, common practice.

    board:      thickness of another board or sheet than the one that was measured (0.002 in).
    piece:      thickness variation within one (0.001 in).
    guided_saw: a cut with a hand-held saw along a guide that was set to a line (1/64 in).
    crook:      the edge that lay against the fence, to the straight line (hollow of 0.004 in over 48 in: 4 c / length).
    tilt:       the blade to the table, for all cuts (0.05° either way, evenly spread).
    flat:       the work to the table, each cut (0.001 in under a board of 5 in).
    taper:      rip fence toe as a rip taper, all alike (0.003 in over 24 in).
    joint:      width or depth of a dado, rabbet or groove, each setting (0.003 in).
    place:      a part placed by hand and eye against a line (1/64 in).
    askew:      a frame in clamps that nobody measured, racked (1/16 in over 30 in).
    """

    board_mm: float = 0.05
    piece_mm: float = 0.025
    guided_saw_mm: float = 0.4
    crook_rad: float = 3.3e-4
    tilt_rad: float = 5e-4
    flat_rad: float = 2e-4
    taper_rad: float = 1.25e-4
    joint_mm: float = 0.08
    place_mm: float = 0.4
    askew_rad: float = 2e-3


THICKNESS_BOARD = "board thickness"
THICKNESS_PIECE = "thickness variation"
GUIDED = "guided saw"
CROOK = "edge straightness"
TILT = "blade tilt"
FLAT = "work on the table"
TAPER = "rip taper"
JOINT = "joint cut"
PLACE = "hand placement"
ASKEW = "clamp racking"
TAPED = "squaring with a tape"
LIVELY = "board movement"

LABELS = frozenset(
    (THICKNESS_BOARD, THICKNESS_PIECE, GUIDED, CROOK, TILT, FLAT, TAPER, JOINT, PLACE, ASKEW, TAPED, LIVELY)
)
"""Lines of a budget that rest on common practice alone."""


def source(kind: str, scope: str, label: str, u: float) -> ErrorSource:
    """One of these errors; two sizes share it exactly when they share kind and scope."""
    return ErrorSource(f"{kind}:{scope}", label, u)

"""The ready-made fits as a job file writes them: each kind with its own named fields."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import reduce

from trued.errors import InputRefused
from trued.job.expression.tree import Binary, Constant, Node, PartSize, Side
from trued.job.file.fields import Fields, Lacking
from trued.job.geometry.assembly_squaring import Squaring
from trued.job.geometry.fit_geometry import Geometry
from trued.job.geometry.kinds.between import BoardBetween, Drawer, Thickness
from trued.job.geometry.kinds.cover import Cover
from trued.job.geometry.kinds.diagonals import Diagonals
from trued.job.geometry.kinds.door import Door, Season
from trued.job.geometry.kinds.expression import expression_of
from trued.job.geometry.kinds.mitres import Mitres
from trued.job.geometry.kinds.stack import GlueUp, Row
from trued.wood.moisture import MoistureRange
from trued.wood.movement import Grain
from trued.wood.season import Held
from trued.wood.species import species_named

Built = tuple[Geometry, Node]
"""The geometry, and a sum that says what it is meant to come to."""

_SQUARED = tuple(Squaring)
_HELD = {"far": Held.FAR_EDGE, "middle": Held.MIDDLE, "near": Held.GAP_EDGE}
_NOUGHT = Constant(Fraction(0))
_HALF, _TWO = Constant(Fraction(1, 2)), Constant(Fraction(2))


def _clearance(f: Fields) -> Built:
    opening, part = f.size("opening"), f.part("part")
    return BoardBetween(opening, part, PartSize(part.part, Side.WIDTH, part.copy)), _less(opening, part)


def _gap(f: Fields) -> Built:
    node = reduce(_less, f.sizes("parts"), f.size("between"))
    return expression_of(node), node


def _flush(f: Fields) -> Built:
    node = _less(f.size("one"), f.size("other"))
    return expression_of(node), node


def _dado(f: Fields) -> Built:
    dado, part = f.size("dado"), f.part("part")
    thickness = PartSize(part.part, Side.THICKNESS, part.copy)
    return Thickness(dado, thickness), _less(dado, thickness)


def _diagonals(f: Fields) -> Built:
    across, up = f.pair("across"), f.pair("up")
    squared = Squaring(f.word("squared", _SQUARED, Squaring.TAPE))
    flat = f.word("lies", ("flat", "on edge"), "on edge") == "flat"
    for key, (one, other) in (("across", across), ("up", up)):
        if f.sizing.targets.of(_less(one, other), "", f.row.faults) not in (None, 0):
            f.row.fault(key, "Opposite sides are meant to be of one size; diagonals say nothing of any other frame.")
    joints = squared is Squaring.JOINTS
    ends = tuple(f.length_in("across", node) for node in across) if joints else ()
    return Diagonals(across, up, squared, ends, flat), _NOUGHT


def _mitres(f: Fields) -> Built:
    sides = f.parts("sides")
    inside = f.word("at", ("inside", "outside"), "outside") == "inside"
    return Mitres(sides, f.size("width"), inside), _NOUGHT


def _face_frame(f: Fields) -> Built:
    return _cover(f, ("frame", "carcass"), all_round=False)


def _lid(f: Fields) -> Built:
    return _cover(f, ("lid", "box"), all_round=True)


def _cover(f: Fields, keys: tuple[str, str], *, all_round: bool) -> Built:
    over, under = (f.pair(key) for key in keys)
    squared = [Squaring(f.word(f"{key}_squared", _SQUARED, Squaring.TAPE)) for key in keys]
    node = Binary("*", _HALF, _less(over[0], under[0]))
    return Cover(over, under, all_round, *squared), node


def _drawer(f: Fields) -> Built:
    opening, box, slide, deep = f.one_or_two("opening"), f.one_or_two("box"), f.size("slide"), f.size("deep")
    squared = Squaring(f.word("squared", _SQUARED, Squaring.TAPE))
    return Drawer(opening, box, slide, deep, squared), _less(_less(opening[0], box[0]), Binary("*", _TWO, slide))


def _door(f: Fields) -> Built:
    opening, door, hinge = f.one_or_two("opening"), f.size("door"), f.size("hinge_gap")
    leaves = 2 if f.word("leaves", ("one", "pair"), "one") == "pair" else 1
    high = f.size("high") if f.word("hung", ("hinge side", "level"), "hinge side") == "level" else None
    squared = Squaring(f.word("squared", _SQUARED, Squaring.TAPE))
    taken = Binary("*", Constant(Fraction(leaves)), Binary("+", door, hinge))
    return Door(opening, door, hinge, leaves, high, squared, _season(f)), _less(opening[0], taken)


def _season(f: Fields) -> Season | None:
    """The wood that moves; None where no species is named: plywood, or nothing that moves."""
    if not f.row.has("wood"):
        return None
    solid, grain = f.size("solid"), Grain(f.word("grain", tuple(Grain), Grain.UNKNOWN))
    held = _HELD[f.word("held", tuple(_HELD), "far")]
    wood = f.row.text("wood")
    try:
        species_named(wood)
    except InputRefused as refused:
        f.row.fault("wood", refused.faults[0].text, read=wood)
    with f.row.faults.at(f.row.place):
        made_at = MoistureRange(*f.percents("made_at")) if f.row.has("made_at") else None
        return Season(wood, grain, solid, MoistureRange(*f.percents("year")), made_at, held)
    raise Lacking


def _glue_up(f: Fields) -> Built:
    boards, deep = f.sizes("boards"), f.size("deep")
    turned = f.word("laid", ("one way", "end for end"), "one way") == "end for end"
    total = reduce(lambda a, b: Binary("+", a, b), boards)
    wanted = f.size("wanted", "0")
    return GlueUp(boards, deep, wanted, turned), _less(total, wanted)


def _row(f: Fields) -> Built:
    opening, pieces, spacer, deep = f.one_or_two("opening"), f.sizes("pieces"), f.size("spacer"), f.size("deep")
    taken = reduce(lambda left, piece: _less(_less(left, piece), spacer), pieces, opening[0])
    return Row(opening, pieces, spacer, deep), taken


def _less(one: Node, other: Node) -> Node:
    return Binary("-", one, other)


_DOOR = (
    *("opening", "door", "hinge_gap", "leaves", "hung", "high", "squared"),
    *("wood", "grain", "solid", "held", "made_at", "year"),
)

READY: Mapping[str, tuple[tuple[str, ...], Callable[[Fields], Built]]] = {
    "clearance": (("opening", "part"), _clearance),
    "gap": (("between", "parts"), _gap),
    "flush": (("one", "other"), _flush),
    "dado": (("dado", "part"), _dado),
    "diagonals": (("across", "up", "squared", "lies"), _diagonals),
    "mitres": (("sides", "width", "at"), _mitres),
    "face frame": (("frame", "carcass", "frame_squared", "carcass_squared"), _face_frame),
    "lid": (("lid", "box", "lid_squared", "box_squared"), _lid),
    "drawer": (("opening", "box", "slide", "deep", "squared"), _drawer),
    "door": (_DOOR, _door),
    "glue-up": (("boards", "deep", "laid", "wanted"), _glue_up),
    "row": (("opening", "pieces", "spacer", "deep"), _row),
}
"""Kind -> its own fields, and how they become a geometry."""


def build(kind: str, fields: Fields) -> Built | None:
    """The geometry of a kind; None where a fault was noted."""
    try:
        return READY[kind][1](fields)
    except Lacking:
        return None

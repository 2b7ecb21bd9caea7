"""The person's saw from above, as far as it is described: what is known is solid, what is not yet is dashed."""

from __future__ import annotations

from collections.abc import Sequence

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.equipment.fixture_facts import length_text
from trued.equipment.saw import Saw, Table
from trued.equipment.shop import Shop

Shape = Line | Path | Arrow | Label

_USUAL = {"left": 280.0, "right": 560.0, "operator": 290.0, "far": 270.0, "slot": 125.0}
"""Where a size is not known it is drawn about so, dashed (mm): no saw's own, only that there is something to draw."""
_BLADE, _FENCE = 120.0, 40.0


def shop_drawing(shop: Shop, asked: str = "") -> Drawing:
    """`asked`: the question that is open, whose place carries the question mark."""
    saw = shop.saw or Saw("saw")
    edges = {side: mm or _USUAL[side] for side, mm in _edges(saw.table).items()}
    known = all(mm is not None for mm in _edges(saw.table).values())
    left, right, near, far = -edges["left"], edges["right"], -edges["operator"], edges["far"]
    shapes: list[Shape] = [_area(left, near, right, far, "table", known=known)]
    slot = (saw.slot_mm or _USUAL["slot"]) * (1 if saw.slot_side == "right" else -1)
    shapes.append(_area(slot - 10, near, slot + 10, far, "slot", known=saw.slot_mm is not None))
    told = ["Seen from above; you stand at the bottom."]
    shapes += _wing_and_sled(shop, left, near, far)
    shapes.append(Line((0, -_BLADE), (0, _BLADE), "blade", dashed=shop.blade is None))
    shapes += [
        Label(((left + right) / 2, far + 35), "far side"),
        Label(((left + right) / 2, near - 60), "your side"),
        Label((0, _BLADE + 20), "blade"),
    ]
    if saw.slot_mm is not None:
        told.append(f"The slot is {length_text(saw.slot_mm, shop.unit)} from the blade.")
    shapes += _asked(asked, slot, left, right, near, far)
    told.append("Dashed parts are not described yet." if _missing(shop) else "All of it is described.")
    return Drawing("Your saw", " ".join(told), tuple(shapes))


def sled_picture(fence: str, keeper: str) -> Drawing:
    """One of the four ways a sled is built."""
    f, k = (1 if fence == "far" else -1), (-1 if keeper == "left" else 1)
    shapes: tuple[Shape, ...] = (
        rectangle(-200, -150, 400, 300, "sled"),
        rectangle(-200, 110 if f > 0 else -150, 400, 40, "fence"),
        rectangle(min(0, k * 150), 20 if f > 0 else -110, 150, 90, "board"),
        Line((0, -150), (0, 110) if f > 0 else (0, 150), "blade"),
        Label((k * 75, 55 if f > 0 else -75), "kept"),
        Label((0, -200), "you"),
    )
    side = "far side" if f > 0 else "side at you"
    return Drawing("A sled", f"The fence is on the {side}; the kept piece lies {keeper} of the blade.", shapes)


def pivot_picture(pivot: str, screw: str, fence: str, keeper: str) -> Drawing:
    """Where the fence turns and where it is set, on the person's own sled (far fence, keeper left while not known)."""
    f, k = (-1 if fence == "operator" else 1), (1 if keeper == "right" else -1)
    y, at = f * 60.0, k * (30.0 if pivot == "near-blade" else 260.0)
    turned = at + (k if screw == "keeper" else -k) * (200.0 if pivot == "near-blade" else 0.0)
    if pivot != "near-blade":
        turned = at - k * 200.0 if screw == "offcut" else at + k * 60.0
    low, high = sorted((k * 330.0, -k * 200.0))
    shapes: tuple[Shape, ...] = (
        rectangle(low, y - 20, high - low, 40, "fence"),
        Line((0, -120), (0, 120), "blade"),
        rectangle(at - 12, y - 12, 24, 24, "stop"),
        Label((at, y + 45 if f > 0 else y - 70), "pivot"),
        Arrow((turned, y - f * 70), (turned, y - f * 22), "move"),
        Label((turned, y - f * 100 - 12), "screw"),
        Label((k * 180, -f * 80), "kept side"),
    )
    return Drawing("Pivot and screw", f"The pivot is {pivot.replace('-', ' ')}, the screw on the {screw} side.", shapes)


def _edges(table: Table) -> dict[str, float | None]:
    return {"left": table.left_mm, "right": table.right_mm, "operator": table.operator_mm, "far": table.far_mm}


def _missing(shop: Shop) -> bool:
    saw = shop.saw
    return saw is None or saw.slot_mm is None or shop.blade is None or None in _edges(saw.table).values()


def _area(x: float, y: float, to_x: float, to_y: float, role: str, *, known: bool) -> Shape | Path:
    """Solid where it is known; a dashed outline where not."""
    return rectangle(x, y, to_x - x, to_y - y, role if known else "hidden")


def _wing_and_sled(shop: Shop, left: float, near: float, far: float) -> list[Shape]:
    shapes: list[Shape] = []
    if any(fixture.kind == "wing" for fixture in shop.in_use):
        shapes += [rectangle(left - 150, near + 60, 140, far - near - 120, "wing"), Label((left - 80, 0), "wing")]
    sled = shop.sled
    if sled is not None:
        k, f = (1 if sled.keeper == "right" else -1), (-1 if sled.word("fence") == "operator" else 1)
        known = bool(sled.word("fence") and sled.keeper)
        low, high = sorted((k * 260.0, -k * 60.0))
        y = f * 90.0
        shapes.append(_area(low, y - _FENCE / 2, high, y + _FENCE / 2, "fence", known=known))
        shapes.append(Label((k * 150, y + (32 if f > 0 else -52)), "sled fence"))
    return shapes


def _asked(asked: str, slot: float, left: float, right: float, near: float, far: float) -> list[Shape]:
    """The place that is asked for."""
    spans: dict[str, Sequence[tuple[tuple[float, float], tuple[float, float]]]] = {
        "slot": [((slot, -40), (0, -40))],
        "table": [
            ((left, near + 40), (0, near + 40)),
            ((0, near + 40), (right, near + 40)),
            ((60, near), (60, 0)),
            ((60, 0), (60, far)),
        ],
        "blade": [((-30, 0), (30, 0))],
        "knife": [((-30, _BLADE), (30, _BLADE))],
        "heights": [((0, 0), (right, 0))],
    }
    shapes: list[Shape] = []
    for start, end in spans.get(asked, ()):
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        shapes += [Arrow(start, end, "gap", both_ends=True), Label((middle[0] + 14, middle[1] + 14), "?", "move")]
    return shapes

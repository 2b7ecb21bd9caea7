"""The tickets of a plan made one after another on pieces of wood: each must take a piece that is there. Millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field

Plan = dict[str, object]
NEAR = 0.01


@dataclass
class Wood:
    """What lies there of every stock piece, as (length, width)."""

    pieces: dict[str, list[tuple[float, float]]] = field(default_factory=dict)

    def take(self, stock: str, length: float, width: float) -> bool:
        """Whether a piece of that size lay there; it is gone then."""
        lying = self.pieces.setdefault(stock, [])
        for n, (one, two) in enumerate(lying):
            if abs(one - length) < NEAR and abs(two - width) < NEAR:
                del lying[n]
                return True
        return False


def replayed(plan: Plan) -> tuple[list[str], Wood]:
    """What cannot be done as it is told, and what lies there in the end."""
    wood, faults = Wood(), []
    for stock in plan["layout"]["stock"]:  # type: ignore[index]
        wood.pieces.setdefault(f"{stock['id']}/{stock['copy']}", []).append((stock["length"], stock["width"]))
    kerf = plan["kerf"]["mm"]  # type: ignore[index]
    for ticket in plan["order"]:  # type: ignore[attr-defined]
        work, stock = ticket["work"], ticket["piece"]
        length, width = work["length_mm"], work["width_mm"]
        if not wood.take(stock, length, width):
            faults.append(f"{ticket['id']}: no piece of {length:.2f} × {width:.2f} mm lies there of {stock}")
            continue
        across = work["run"] == "across"
        span, low = (length if across else width), work["at_mm"]
        high = span - low - kerf
        for size in (low, high):
            if size > NEAR:
                wood.pieces[stock].append((size, width) if across else (length, size))
    return faults, wood


def missing(plan: Plan, wood: Wood) -> list[str]:
    """Parts that the plan promises and that do not lie there in the end."""
    left = {part["part"] for part in plan["not_made"]}  # type: ignore[attr-defined]
    faults = []
    sizes = {part["id"]: (part["length_mm"], part["width_mm"]) for part in plan["parts"]}  # type: ignore[attr-defined]
    for stock in plan["layout"]["stock"]:  # type: ignore[index]
        for placed in stock["placements"]:
            name = f"{placed['part']}@{placed['copy']}"
            length, width = sizes[placed["part"]]
            if name in left or length is None or width is None:
                continue
            lies = f"{stock['id']}/{stock['copy']}"
            if not (wood.take(lies, length, width) or wood.take(lies, width, length)):
                faults.append(f"{name}: no piece of its size lies there in the end")
    return faults

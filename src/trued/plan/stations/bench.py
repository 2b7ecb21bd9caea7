"""What of a shop decides whether a cut is carried and cut through: heights, table, sled, supports. A fact not known is
None, and what needs it waits for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from trued.equipment.fixture import Fixture, Wing
from trued.equipment.saw import Saw
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.plan.support.sled_cut import Extension, Side, Sled
from trued.plan.support.statics import Ground

KNIFE_BEHIND_MM = 50.8
"""How far the knife stands behind the last teeth where nobody has said: 2 in, common practice."""
_HELD = ("table-drilled", "rail-clamped")


@dataclass(frozen=True, slots=True)
class Bench:
    """Lengths in mm, from the blade's plane and the arbor.

    highest_mm: highest cut, upright. lacks: the facts that the sums on the sled need and that are not known, in words.
    on_table: a gauge without a platform: the work itself lies on table and wings.
    far_mm, operator_mm: to the ends of what carries a board behind and before the saw, supports counted.
    """

    radius_mm: float | None = None
    highest_mm: float | None = None
    base_mm: float | None = None
    knife_behind_mm: float = KNIFE_BEHIND_MM
    table: Ground | None = None
    far_mm: float | None = None
    operator_mm: float | None = None
    sled: Sled | None = None
    extensions: tuple[Extension, ...] = ()
    forbids: frozenset[str] = frozenset()
    lacks: str = ""
    guarded: bool = False
    on_table: bool = False

    @property
    def fence_lacks(self) -> str:
        """The facts that a rip at the fence needs and that are not known, in words."""
        facts = {
            "blade: diameter": self.radius_mm,
            "saw: table to the far side": self.far_mm,
            "saw: table to the operator side": self.operator_mm,
        }
        return _not_known([name for name, value in facts.items() if value is None])


def bench_of(shop: Shop) -> Bench:
    """The bench of a shop."""
    saw, sled, blade = shop.saw, shop.sled, shop.blade
    wings = tuple(wing for wing in shop.wings if saw is None or not _wrongly_held(wing, saw))
    far, operator = (_edge(shop, side, wings) for side in ("far", "operator"))
    edges = [shop.table_edge(side) for side in ("keeper", "offcut", "operator", "far")]
    known = [mm for mm in edges if mm is not None]
    table = Ground(*known) if len(known) == len(edges) else None
    on_table = sled is not None and sled.kind == "mitre-gauge" and sled.number("base") is None
    on_sled, lacks = (None, _table_lacks(shop)) if on_table else _sled_of(shop)
    diameter = blade.diameter_mm if blade is not None else None
    behind = saw.knife_behind_mm if saw is not None else None
    return Bench(
        radius_mm=None if diameter is None else diameter / 2,
        highest_mm=saw.max_cut_mm.get(90) if saw is not None else None,
        base_mm=0.0 if on_table else sled.number("base") if sled is not None else None,
        knife_behind_mm=KNIFE_BEHIND_MM if behind is None else behind,
        table=table,
        far_mm=far,
        operator_mm=operator,
        sled=on_sled,
        extensions=() if table is None else tuple(_extension(wing, table) for wing in wings),
        forbids=frozenset({"wing"} if saw is not None and saw.forbids("wing") else ()),
        lacks=lacks,
        guarded=saw is not None and saw.forbids("sled-without-guard"),
        on_table=on_table,
    )


def wings_left_out(shop: Shop) -> tuple[str, ...]:
    """Ids of wings that are not counted for how they are held: the maker forbids it, or nobody has said."""
    saw = shop.saw
    return tuple(wing.id for wing in shop.wings if saw is not None and _wrongly_held(wing, saw))


def _wrongly_held(wing: Wing, saw: Saw) -> bool:
    """Where the maker forbids a way of fastening, a wing counts only if it is known to be held in another."""
    banned = {way for way in _HELD if saw.forbids(way)}
    return bool(banned) and (not wing.held or wing.held in banned)


def _edge(shop: Shop, side: str, wings: tuple[Wing, ...]) -> float | None:
    """To the end of the table on that side, or of a support that counts there."""
    edge = shop.table_edge("far" if side == "far" else "operator")
    if edge is None:
        return None
    beyond = (wing.out_mm for wing in wings if wing.side == side and (wing.load_tested or wing.counted_because))
    return edge + max(beyond, default=0.0)


def _table_lacks(shop: Shop) -> str:
    """The facts that the work on the bare table needs and that are not known."""
    facts: dict[str, float | None] = {
        f"saw: table to the {side} side": shop.table_edge(side) for side in ("keeper", "offcut", "operator", "far")
    }
    facts["blade: diameter"] = shop.blade.diameter_mm if shop.blade is not None else None
    return _not_known([name for name, value in facts.items() if value is None])


def _sled_of(shop: Shop) -> tuple[Sled | None, str]:
    """The sled for the sums, or the sentence that says which facts lack."""
    saw, sled, blade = shop.saw, shop.sled, shop.blade
    if saw is None or sled is None:
        return None, "The shop has no saw or no sled."
    facts: dict[str, float | None] = {
        f"saw: table to the {side} side": shop.table_edge(side) for side in ("keeper", "offcut", "operator", "far")
    }
    facts["blade: diameter"] = blade.diameter_mm if blade is not None else None
    facts |= {f"{sled.id}: {name}": sled.number(name) for name in _SLED_FACTS}
    lacking = [name for name, value in facts.items() if value is None]
    lacking += [f"{sled.id}: fence"] if not sled.word("fence") else []
    if lacking:
        return None, _not_known(lacking)
    try:
        known = {name: value for name in _SLED_FACTS if (value := sled.number(name)) is not None}
        return _sled(sled, known), ""
    except InputRefused as refused:
        return None, f"The facts of {sled.id} do not go together: {refused}"


_SLED_FACTS = ("weight", "size_across", "size_along", "base", "centre", "crosscut")


def _sled(sled: Fixture, known: Mapping[str, float]) -> Sled:
    return Sled(
        mass_kg=known["weight"],
        keeper_mm=known["size_across"],
        depth_mm=known["size_along"],
        base_mm=known["base"],
        centre_mm=known["centre"],
        crosscut_mm=known["crosscut"],
        fence=Side.FAR if sled.word("fence") == "far" else Side.OPERATOR,
    )


_SIDES = {"keeper": Side.KEEPER, "offcut": Side.OFFCUT, "operator": Side.OPERATOR, "far": Side.FAR}


def _extension(wing: Wing, table: Ground) -> Extension:
    """A wing lies middle on middle beside the table: nothing else is known of its place."""
    beside = wing.side in ("keeper", "offcut")
    ends = (table.operator_mm - table.far_mm) if beside else (table.keeper_mm - table.offcut_mm)
    along = (ends - wing.along_mm) / 2, (ends + wing.along_mm) / 2
    return Extension(_SIDES[wing.side], wing.out_mm, along, wing.load_tested, wing.counted_because)


def _not_known(names: list[str]) -> str:
    return f"Not known: {'; '.join(names)}." if names else ""

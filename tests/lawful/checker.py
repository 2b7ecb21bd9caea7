"""Does a plan hold the hard rules? A second reading of its JSON and of the shop file, with no code of the product.

The rules (common practice where no figure is a fact of the shop): the blade stands 1/8 in or more above the work and no
higher than the saw can; work never tips at any place of its way; a knife thinner than the kerf and thicker than the
plate; a blade that suits the saw; what the maker forbids is not done; metal keeps 3/16 in from the middle of the blade;
a rip is as long as the saw wants and no shorter than wide; nothing under 6 in beside the kerf is held by hand; the end
of a rip is held down by 3 lb at most, its start by 15 lb.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tests.lawful.balance import Box, OnSled, chord, inside_ring, ring
from tests.lawful.replay import missing, replayed
from tests.lawful.shopfile import MM, Bench, read_bench

ABOVE, MOST_ABOVE = 1 / 8, 1 / 4
METAL, KEEPER, TAIL = 3 / 16, 6.0, 6.0
LEAST_MARGIN = 1.0  # half the 2 in that are kept in reserve: the two may differ in what wood weighs
PUSH, CARRY = 3.0, 15.0
THICK_ON_FLOOR = 2.0
DENSITY = {"pine": 26, "oak": 44, "maple": 44, "ply": 40, "plywood": 40, "walnut": 38, "mdf": 48}  # lb/ft³
HAIR = 1e-3
RIPS_REST_ON = ("blade-parallel", "knife", "knife-over-plate", "knife-under-kerf")
FENCE_RESTS_ON = ("rip-toe", "rip-fence-angle")
KNIFE = ("knife", "knife-over-plate", "knife-under-kerf")

Plan = dict[str, Any]


def broken(plan: Plan, shop: str | None, known: Mapping[str, str] | None = None, kerf_in: float = 0.0) -> list[str]:
    """Every hard rule that a plan breaks, in words; empty where it holds them all.

    known: bare safety features to `in`, `out` or `doubt`; `after-blade` where a blade event came later than the knife
    was looked at. kerf_in: the kerf measured here, 0 where it was not.
    """
    if shop is None:
        return ["tickets though no shop is known"] if plan["order"] else []
    faults = list(_Checker(plan, read_bench(shop), known or {}, kerf_in).faults())
    if plan["layout"] is not None and all("work" in ticket for ticket in plan["order"]):
        impossible, wood = replayed(plan)
        faults += impossible + missing(plan, wood)
    return faults


class _Checker:
    def __init__(self, plan: Plan, bench: Bench, known: Mapping[str, str], kerf_in: float) -> None:
        self.plan, self.bench, self.known = plan, bench, known
        marked = kerf_in or bench.kerf
        used = plan["kerf"]["mm"] / MM
        self.kerf = min(used, marked) if marked else used
        self.woods = {f"{s['id']}/{s['copy']}": s["material"] for s in (plan["layout"] or {"stock": []})["stock"]}

    def faults(self) -> Iterator[str]:
        seen_unchecked = False
        for ticket in self.plan["order"]:
            for fault in self._of(ticket):
                yield f"{ticket['id']} ({ticket['station']}): {fault}"
            seen_unchecked |= bool(ticket.get("unchecked"))
            if self._is_rip(ticket) and not seen_unchecked and self._unchecked_rip(ticket):
                yield f"{ticket['id']}: never checked, and no word before the first rip"
        if seen_unchecked and not any(p["code"] in ("never-checked", "not-shown") for p in self.plan["problems"]):
            yield "what was never checked is not among the problems"
        for part in self.plan.get("not_made", ()):
            if any(part["part"] in ticket["parts"] for ticket in self.plan["order"]):
                yield f"{part['part']} cannot be made, and has a ticket"

    @staticmethod
    def _is_rip(ticket: Plan) -> bool:
        return bool(ticket["station"] == "rip fence" or (ticket["station"] == "sled" and _run(ticket) == "along"))

    def _unchecked_rip(self, ticket: Plan) -> bool:
        rests = RIPS_REST_ON + (FENCE_RESTS_ON if ticket["station"] == "rip fence" else ())
        return any(self.known.get(feature) != "in" for feature in rests)

    def _of(self, ticket: Plan) -> Iterator[str]:
        station = ticket["station"]
        if ticket.get("waits") and (ticket["setting_mm"] is not None or ticket["scale_text"]):
            yield "waits for a fact, and has its number"
        if station in ("sled", "rip fence"):
            yield from self._blade(ticket)
            yield from self._height(ticket)
        if station == "sled":
            yield from self._sled(ticket)
        if self._is_rip(ticket):
            yield from self._rip(ticket)
        if station == "rip fence":
            yield from self._fence(ticket)
        if station == "guided saw" and ticket["work"]["thickness_mm"] / MM > THICK_ON_FLOOR + HAIR:
            yield "thicker than a guided saw cuts"

    def _blade(self, _ticket: Plan) -> Iterator[str]:
        b = self.bench
        if b.diameter and b.largest and b.diameter > b.largest + HAIR:
            yield "the blade is larger than the saw takes"
        if b.speed and b.most_speed and b.speed > b.most_speed:
            yield "the saw turns faster than the blade may"
        if b.bore and b.arbor and abs(b.bore - b.arbor) > 0.008:
            yield "the bore is not that of the arbor"

    def _height(self, ticket: Plan) -> Iterator[str]:
        base = self._base() if ticket["station"] == "sled" else 0.0
        thick, highest = ticket["work"]["thickness_mm"] / MM, self.bench.highest
        if highest is None or base is None:
            if not ticket.get("waits"):
                yield "how high the blade reaches is not known, and it does not wait for it"
            return
        if base + thick + ABOVE > highest + HAIR:
            yield f"too thick: {base + thick + ABOVE:.3f} in wanted, {highest:.3f} there"
        ordered = ticket.get("blade_mm")
        if ordered is None or not base + thick + ABOVE - HAIR <= ordered / MM <= base + thick + MOST_ABOVE + HAIR:
            yield f"the blade height is not ordered, or wrong: {ordered}"
        elif not any("blade" in said.lower() for said in ticket["before"]):
            yield "no first word on the height of the blade"

    def _sled(self, ticket: Plan) -> Iterator[str]:
        bench, before = self.bench, " ".join(ticket.get("before", ()))
        if not bench.sled_kind:
            yield "there is no sled"
            return
        if bench.sled_kind in bench.forbids:
            yield "the maker forbids the sled"
        if "sled-without-guard" in bench.forbids and bench.sled.get("guard") is not True:
            yield "the maker forbids a sled without a guard, and no guard is known"
        beside, end = self._number("pivot_beside"), self._number("metal_end")
        if beside is not None and end is not None and end - beside > -METAL:
            yield "metal stands in the blade's way"
        work = ticket["work"]
        length, wide = work["length_mm"] / MM, work["width_mm"] / MM
        span, run = (length, wide) if _run(ticket) == "across" else (wide, length)
        deep = self._number("crosscut")
        if deep is not None and run > deep + HAIR:
            yield "deeper than the sled takes"
        low = work["at_mm"] / MM
        high = max(0.0, span - low - self.plan["kerf"]["mm"] / MM)
        wanted = ticket["wanted_mm"]
        keepers = (low, high) if wanted is None else tuple(k for k in (low, high) if abs(k - wanted / MM) < 0.02)
        best = max(keepers, default=0.0)
        clamped = "Clamp" in before
        if best < KEEPER and not clamped:
            yield f"a keeper of {best:.2f} in held by hand"
        yield from self._balance(ticket, best, span, run, clamped=clamped, tail_held="under the tail" in before)

    def _balance(
        self, ticket: Plan, keeper: float, span: float, run: float, *, clamped: bool, tail_held: bool
    ) -> Iterator[str]:
        b = self.bench
        if b.sled_kind == "mitre-gauge" and self._number("base") is None:
            yield from self._on_the_table(ticket, keeper, span, run)
            return
        facts = [self._number(name) for name in ("across", "along", "base", "crosscut", "weight", "centre")]
        facts += [*b.table.values(), b.diameter, self._density(ticket)]
        if any(fact is None for fact in facts) or b.sled.get("fence") not in ("far", "operator"):
            if not ticket.get("waits"):
                yield "what carries it is not known, and it does not wait for it"
            return
        if ticket.get("waits"):
            return
        across, along, base, crosscut, weight, centre, *rest = (float(fact or 0) for fact in facts)
        keeps, offcut, operator, far, diameter, density = rest
        thick, ordered = ticket["work"]["thickness_mm"] / MM, ticket.get("blade_mm") or 0.0
        height = min(ordered / MM or base + thick + MOST_ABOVE, 0.499 * diameter)
        tail = span - keeper
        if tail > TAIL + HAIR and not tail_held:
            yield f"a tail of {tail:.1f} in hangs with nothing under it"
        work = OnSled(
            self._grounds(keeps, offcut, operator, far), across, along, base, crosscut, weight, centre,
            b.sled["fence"] == "far", diameter / 2, height, keeper, tail, run, thick, density,
        )  # fmt: skip
        held, lies = (min(side) for side in zip(*work.margins(), strict=True))
        if held < LEAST_MARGIN:
            yield f"sled and work tip: {held:.2f} in from the edge"
        if not clamped and lies < LEAST_MARGIN:
            yield f"the work tips off the sled: {lies:.2f} in from its edge"

    def _on_the_table(self, ticket: Plan, keeper: float, span: float, run: float) -> Iterator[str]:
        """Against a gauge the work itself lies on the table."""
        b = self.bench
        edges = [b.table.get(side) for side in ("keeper", "offcut", "operator", "far")]
        if None in edges or b.diameter is None:
            if not ticket.get("waits"):
                yield "what carries it is not known, and it does not wait for it"
            return
        if ticket.get("waits"):
            return
        keeps, offcut, operator, far = (float(edge or 0) for edge in edges)
        corners = [corner for box in self._grounds(keeps, offcut, operator, far) for corner in box.corners()]
        height = (ticket.get("blade_mm") or 0.0) / MM
        begin, thick = chord(b.diameter / 2, height, 0.0), ticket["work"]["thickness_mm"] / MM
        finish = chord(b.diameter / 2, height, thick) - run
        for length in (span, keeper):
            for step in range(9):
                edge = begin + (finish - begin) * step / 8
                if inside_ring(ring(corners), (keeper - length / 2, edge + run / 2)) < LEAST_MARGIN:
                    yield "the work tips off the table"
                    return

    def _base(self) -> float | None:
        base = self._number("base")
        return 0.0 if base is None and self.bench.sled_kind == "mitre-gauge" else base

    def _grounds(self, keeps: float, offcut: float, operator: float, far: float) -> list[Box]:
        found = [Box(-offcut, keeps, -far, operator)]
        forbidden = {w for w in ("table-drilled", "rail-clamped") if w in self.bench.forbids}
        for wing in self.bench.wings:
            side, out, along = str(wing["side"]), float(str(wing["out"])), float(str(wing["along"]))
            if not wing["counts"] or (side in ("keeper", "offcut") and "wing" in self.bench.forbids):
                continue
            if forbidden and wing["held"] not in ("floor", "bolted", *({"table-drilled", "rail-clamped"} - forbidden)):
                continue
            middle = (operator - far) / 2 if side in ("keeper", "offcut") else (keeps - offcut) / 2
            a, z = middle - along / 2, middle + along / 2
            found.append(
                {
                    "keeper": Box(keeps, keeps + out, a, z),
                    "offcut": Box(-offcut - out, -offcut, a, z),
                    "operator": Box(a, z, operator, operator + out),
                    "far": Box(a, z, -far - out, -far),
                }[side]
            )
        return found

    def _rip(self, ticket: Plan) -> Iterator[str]:
        b = self.bench
        if b.knife is not None and b.knife <= 0:
            yield "there is no riving knife"
        elif b.knife is not None and b.knife >= self.kerf - 1e-9:
            yield f"the knife ({b.knife:.4f}) is as thick as the kerf ({self.kerf:.4f})"
        elif b.knife is not None and b.plate is not None and b.knife <= b.plate:
            yield "the knife is no thicker than the plate"
        if self.known.get("after-blade"):
            yield "a blade event, and the knife was not looked at since"
        for feature in RIPS_REST_ON + (FENCE_RESTS_ON if ticket["station"] == "rip fence" else ()):
            if self.known.get(feature) == "out":
                yield f"{feature} is out"

    def _fence(self, ticket: Plan) -> Iterator[str]:
        b, work = self.bench, ticket["work"]
        long, wide = work["length_mm"] / MM, work["width_mm"] / MM
        run, span = (long, wide) if _run(ticket) == "along" else (wide, long)
        if run < b.least_rip - HAIR:
            yield f"a rip of {run:.2f} in, the least is {b.least_rip:.2f}"
        if span > run + HAIR:
            yield "wider than long against the fence"
        if ticket["wanted_mm"] is not None and b.rip is not None and ticket["wanted_mm"] / MM > b.rip + HAIR:
            yield "wider than the fence opens"
        yield from self._ends(ticket, run, span)

    def _ends(self, ticket: Plan, run: float, span: float) -> Iterator[str]:
        """The last end pushed past the knife, the first end at the teeth: moments about the edges of what carries."""
        b, density = self.bench, self._density(ticket)
        far, near, diameter = b.table.get("far"), b.table.get("operator"), b.diameter
        if far is None or near is None or diameter is None or density is None:
            if not ticket.get("waits"):
                yield "what carries the rip is not known, and it does not wait for it"
            return
        if ticket.get("waits"):
            return
        for wing in self.bench.wings:
            if wing["counts"] and wing["side"] == "far":
                far = max(far, (b.table["far"] or 0.0) + float(str(wing["out"])))
            if wing["counts"] and wing["side"] == "operator":
                near = max(near, (b.table["operator"] or 0.0) + float(str(wing["out"])))
        thick = ticket["work"]["thickness_mm"] / MM
        teeth = chord(diameter / 2, (ticket.get("blade_mm") or (thick + MOST_ABOVE) * MM) / MM, 0.0)
        weight = run * span * thick / 1728 * density
        last = teeth + b.knife_behind
        over = last + run / 2 - far
        push = weight * over / (far - last) if far > last else float("inf")
        if over > 0 and push > PUSH * 1.05:
            yield f"the end of the rip tips off: {push:.1f} lb to hold it down"
        elif over > 0.05 and "push block" not in " ".join(ticket["before"]).lower():
            yield "the end of the rip wants a push block, and no first word says so"
        lift = weight * (teeth + run / 2 - near) / (teeth + run - near)
        if teeth + run / 2 > near and lift > CARRY * 1.05:
            yield f"the start of the rip is held up with {lift:.1f} lb"

    def _density(self, ticket: Plan) -> float | None:
        words = str(self.woods.get(ticket["piece"], "")).lower().split()
        return next((float(DENSITY[word]) for word in reversed(words) if word in DENSITY), None)

    def _number(self, name: str) -> float | None:
        value = self.bench.sled.get(name)
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def _run(ticket: Plan) -> str:
    return str(ticket["work"]["run"])

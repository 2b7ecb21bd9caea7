"""The checker: cuts every stock piece of a layout again, cut by cut from the raw piece, and believes nothing.

It shares no code with the search. What it holds, for every layout:

- every cut goes edge to edge through the piece that lies there, and the kerf is paid once a cut;
- what the tree says of a piece's place and size is what the cuts give; nothing overlaps or leaves its stock;
- parts keep clear of trims and defects, keep their grain and wood, have their exact size, and are cut exactly once;
- a part's size is set by a cut, or is the stock's own: never what other cuts leave over (unless the rules allow it);
- no more pieces of a stock are cut than there are; cost, offcuts, settings and parted mates are as stated.
"""

from collections import Counter
from dataclasses import dataclass, field

from trued.plan.layout.cut_tree import Axis, Cut, Node, Offcut, Part, Sized, Used
from trued.plan.layout.pieces import Rect, Rules, Stock, Want
from trued.plan.layout.result import Layout


def violations_of(layout: Layout, stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules) -> tuple[str, ...]:
    """Everything that is wrong with a layout, one sentence each; empty when it can be cut as stated."""
    replay = _Replay({want.id: want for want in wants}, rules)
    _check_stock(layout, stocks, replay.faults)
    for used in layout.used:
        replay.piece(used)
    _check_copies(replay, wants)
    _check_sums(layout, wants, replay)
    return tuple(replay.faults)


@dataclass(slots=True)
class _Lying:
    """A piece as it lies after some cuts. `fit_*`: whether a part may take its whole size along that axis."""

    rect: Rect
    fit_x: bool
    fit_y: bool


@dataclass(slots=True)
class _Replay:
    wants: dict[str, Want]
    rules: Rules
    faults: list[str] = field(default_factory=list)
    found: list[tuple[str, int, str, int]] = field(default_factory=list)  # want, copy, stock, its copy
    settings: set[tuple[Axis, int]] = field(default_factory=set)
    worth: float = 0.0

    def say(self, used: Used, text: str) -> None:
        self.faults.append(f"{used.stock.id}/{used.copy}: {text}")

    def piece(self, used: Used) -> None:
        """Replay one stock piece."""
        whole = Rect(0, 0, used.stock.length, used.stock.width)
        waiting: list[tuple[Node, _Lying]] = [(used.tree, _Lying(whole, fit_x=True, fit_y=True))]
        while waiting:
            node, lying = waiting.pop()
            if node.piece != lying.rect:
                self.say(used, f"a piece is said to lie at {node.piece}, but the cuts leave {lying.rect}.")
                continue
            if isinstance(node, Cut):
                waiting.extend(self.cut(used, node, lying))
            elif isinstance(node, Part):
                self.part(used, node, lying)
            elif isinstance(node, Offcut):
                self.offcut(used, lying.rect)

    def cut(self, used: Used, cut: Cut, lying: _Lying) -> list[tuple[Node, _Lying]]:
        """The two pieces that this cut leaves, with the nodes that claim them."""
        rect, across = lying.rect, cut.axis is Axis.ACROSS
        span = rect.length if across else rect.width
        left = span - cut.position - cut.kerf
        if cut.position < 0 or left < 0 or (cut.position == 0 and left == 0) or cut.kerf < 0:
            self.say(used, f"a cut at {cut.position} with kerf {cut.kerf} does not lie on a piece of {span}.")
            return []
        beside = cut.position == 0 or left == 0
        if cut.kerf != self.rules.kerf and not (beside and cut.kerf < self.rules.kerf):
            self.say(used, f"a cut takes {cut.kerf}, the kerf is {self.rules.kerf}.")
        if cut.kerf == 0 and beside:
            self.say(used, "a cut takes no wood and parts nothing.")
        if cut.sized is not Sized.NONE:
            self.settings.add((cut.axis, cut.position if cut.sized is Sized.LOW else left))
        free = self.rules.remainder
        sides = (
            (cut.low, 0, cut.position, cut.sized is Sized.LOW or free),
            (cut.high, cut.position + cut.kerf, left, cut.sized is Sized.HIGH or free),
        )
        pieces: list[tuple[Node, _Lying]] = []
        for child, start, size, fit in sides:
            if (child is None) != (size == 0):
                self.say(
                    used, f"a cut leaves {size} on one side, and the tree has {'no' if size else 'a'} piece there."
                )
            elif child is not None:
                pieces.append((child, _child(lying, start, size, across=across, fit=fit)))
        return pieces

    def part(self, used: Used, part: Part, lying: _Lying) -> None:
        """A part lies here: is it the right one, the right way round, in sound wood?"""
        stock, rect = used.stock, lying.rect
        want = self.wants.get(part.want)
        if want is None:
            self.say(used, f"{part.want} is not a wanted part.")
            return
        name = f"{part.want}@{part.copy}"
        self.found.append((part.want, part.copy, stock.id, used.copy))
        size = (want.width, want.length) if part.turned else (want.length, want.width)
        if (rect.length, rect.width) != size:
            self.say(used, f"{name} is {rect.length} × {rect.width}, wanted {size[0]} × {size[1]}.")
        if not (lying.fit_x and lying.fit_y):
            self.say(used, f"{name} gets its size from what other cuts leave over.")
        grains = (want.grain.value, stock.grain.value)
        if grains[0] != "any" and grains[1] != "none" and (grains[0] == grains[1]) == part.turned:
            self.say(used, f"{name} lies with its grain the wrong way.")
        if (want.material, want.thickness) != (stock.material, stock.thickness):
            self.say(used, f"{name} is wanted of another material or thickness.")
        (start, end), (low, high) = stock.trim_ends, stock.trim_edges
        if rect.x < start or rect.end_x > stock.length - end or rect.y < low or rect.end_y > stock.width - high:
            self.say(used, f"{name} lies in a trim.")
        if any(rect.overlaps(mark) for mark in stock.defects):
            self.say(used, f"{name} holds a defect.")

    def offcut(self, used: Used, rect: Rect) -> None:
        """An offcut is kept here: count what it is worth, without the trims that it still has."""
        stock, least = used.stock, self.rules.least_offcut
        far_x, far_y = (trims[1] + self.rules.kerf if trims[1] else 0 for trims in (stock.trim_ends, stock.trim_edges))
        length = min(rect.end_x, stock.length - far_x) - rect.x
        width = min(rect.end_y, stock.width - far_y) - rect.y
        if length < min(least, stock.length) or width < min(least, stock.width):
            self.say(used, f"an offcut of {length} × {width} is too small to be useful.")
            return
        self.worth += (length * width / 10**20) ** 1.5


def _child(lying: _Lying, start: int, size: int, *, across: bool, fit: bool) -> _Lying:
    rect = lying.rect
    if across:
        return _Lying(Rect(rect.x + start, rect.y, size, rect.width), fit, lying.fit_y)
    return _Lying(Rect(rect.x, rect.y + start, rect.length, size), lying.fit_x, fit)


def _check_stock(layout: Layout, stocks: tuple[Stock, ...], faults: list[str]) -> None:
    pieces = Counter((used.stock.id, used.copy) for used in layout.used)
    faults.extend(
        f"{stock}/{copy}: it is cut up {count} times." for (stock, copy), count in pieces.items() if count > 1
    )
    given = {stock.id: stock for stock in stocks}
    for used in layout.used:
        stock = given.get(used.stock.id)
        if stock != used.stock:
            faults.append(f"{used.stock.id}: it is not one of the stock pieces given.")
        elif stock.have is not None and not 1 <= used.copy <= stock.have:
            faults.append(f"{stock.id}/{used.copy}: there are only {stock.have}.")
        if not any(isinstance(node, Part) for node in _nodes(used.tree)):
            faults.append(f"{used.stock.id}/{used.copy}: it is cut for nothing.")


def _nodes(tree: Node) -> list[Node]:
    nodes = [tree]
    for node in nodes:
        if isinstance(node, Cut):
            nodes.extend(child for child in (node.low, node.high) if child is not None)
    return nodes


def _check_copies(replay: _Replay, wants: tuple[Want, ...]) -> None:
    count = Counter((want, copy) for want, copy, _, _ in replay.found)
    for want in wants:
        for copy in range(1, want.copies + 1):
            times = count.pop((want.id, copy), 0)
            if times != 1:
                replay.faults.append(f"{want.id}@{copy} is cut {times} times.")
    replay.faults.extend(f"{want}@{copy} is one too many." for want, copy in count)


def _check_sums(layout: Layout, wants: tuple[Want, ...], replay: _Replay) -> None:
    bought = [used.stock for used in layout.used if not used.stock.offcut]
    if layout.unit == "price":
        cost = sum(stock.price or 0.0 for stock in bought)
        priced = all(stock.price is not None for stock in bought)
    else:
        cost, priced = sum(stock.length * stock.width for stock in bought) / 10**20, True
    if not priced or abs(cost - layout.cost) > 1e-6 * max(1.0, cost):
        replay.faults.append(f"the cost is {cost}, not {layout.cost}.")
    if layout.bound > layout.cost * (1 + 1e-9) + 1e-9:
        replay.faults.append(f"the bound {layout.bound} is above the cost {layout.cost}.")
    if len(replay.settings) != layout.settings:
        replay.faults.append(f"there are {len(replay.settings)} settings, not {layout.settings}.")
    if abs(replay.worth - layout.offcut_value) > 1e-6 * max(1.0, replay.worth):
        replay.faults.append(f"the offcuts are worth {replay.worth}, not {layout.offcut_value}.")
    homes: dict[str, set[tuple[str, int]]] = {}
    words = {want.id: want.together for want in wants if want.together}
    for want, _, stock, copy in replay.found:
        if want in words:
            homes.setdefault(words[want], set()).add((stock, copy))
    parted = tuple(sorted(word for word, places in homes.items() if len(places) > 1))
    if parted != layout.split:
        replay.faults.append(f"the mates parted are {parted}, not {layout.split}.")

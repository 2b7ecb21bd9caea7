"""Drawings and sheets to test with; the workshop and its parts are invented."""

from datetime import UTC, datetime

from trued.drawing.shapes import Arrow, Drawing, Label, Line, Path, rectangle
from trued.plan.document import PlanBoard
from trued.plan.layout.cut_tree import Axis, Cut, Node, Offcut, Part, Used, Waste, cuts
from trued.plan.layout.pieces import Rect, Stock
from trued.render.board import board_drawing, board_key, letters
from trued.render.values import BoardSheet, FitLine, FitSheet, Head, TicketGroup, TicketLine, TicketSheet
from trued.usecases.plan.document import board_document

IN = 254_000_000
"""One inch in the units of a layout."""

HEAD = Head("Rack between two studs", datetime(2026, 5, 7, 14, 5, tzinfo=UTC), "v3", "v2")

HOSTILE = (
    '#panic("x")',
    "$x^2$ [b] \\ \"q\" 'a' #{",
    "<b>&amp;</b> ]] */ //",
    "line\nbreak\ttab\x00\ud800",
    "`raw` @ref *b* _i_ = h",
)


def show(mm: float) -> str:
    """Inches to 1/64, as a person reads them."""
    whole, rest = divmod(round(mm / 25.4 * 64), 64)
    under = 64
    while rest and rest % 2 == 0:
        rest, under = rest // 2, under // 2
    return f"{whole} {rest}/{under}" if rest and whole else f"{rest}/{under}" if rest else str(whole)


def sled() -> Drawing:
    """A sled seen from above with a fence that is out, as a check may draw it."""
    shapes = (
        rectangle(-300, -300, 600, 600, "table"),
        rectangle(-250, -200, 500, 420, "sled"),
        Line((0, -300), (0, 300), "blade"),
        Path(((-240, 150), (240, 165), (240, 195), (-240, 180)), "fence"),
        Line((-240, 150), (240, 150), "true", dashed=True),
        rectangle(-210, 60, 200, 90, "board"),
        Arrow((-210, 30), (-10, 30), "measure", both_ends=True),
        Arrow((220, 140), (220, 110), "move"),
        Label((-110, 10), "15 in", "measure"),
        Label((200, 90), "open 0.0054 at the screw", "move"),
        Label((-250, 200), "fence, far side", "note", "start"),
        Label((-240, -240), "operator's side", "note", "start"),
        Label((0, 240), "blade", "note", "start"),
        Label((10, 245), "free end", "note", "start"),
        Label((15, 235), "fence end", "note", "start"),
    )
    return Drawing("The fence of the sled", "The free end of the fence lies too far from the operator.", shapes)


def crowd() -> Drawing:
    """Far more words than there is room for."""
    words = tuple(Label((n % 3, 0), f"reading number {n} at one and the same place", "note") for n in range(14))
    return Drawing("A crowd", "Many labels at nearly one place.", (Line((0, 0), (2, 0), "measure"), *words))


def tall() -> Drawing:
    """A tall thin thing with long words on both sides."""
    shapes = (
        rectangle(0, 0, 10, 900, "fence"),
        Label((0, 450), "the end by the fence, read twice without touching anything", anchor="end"),
        Label((10, 450), "a-single-word-that-is-wider-than-anything-has-a-right-to-be-on-a-telephone", anchor="start"),
    )
    return Drawing("Tall", "A fence standing up.", shapes)


def board() -> Used:
    """One board with crosscuts only: trim, side, three shelves, offcut."""
    kerf = round(0.094 * IN)
    stock = Stock("B1", 72 * IN, round(7.25 * IN), trim_ends=(IN // 2, IN // 2))
    lengths = [("side", 30.0), ("shelf", 13.375), ("shelf", 13.375)]
    leaves: list[tuple[int, Node | None]] = []
    at, copies = IN // 2, {"side": 0, "shelf": 0}
    for name, length in lengths:
        copies[name] += 1
        leaves.append((at, Part(Rect(at, 0, round(length * IN), stock.width), name, copies[name])))
        at += round(length * IN) + kerf
    node: Node = Offcut(Rect(at, 0, stock.length - at, stock.width))
    for start, leaf in reversed(leaves):
        assert isinstance(leaf, Part)
        whole = Rect(start, 0, stock.length - start, stock.width)
        node = Cut(whole, Axis.ACROSS, leaf.piece.length, kerf, leaf, node)
    trim = Rect(0, 0, IN // 2 - kerf, stock.width)
    return Used(stock, 1, Cut(Rect(0, 0, stock.length, stock.width), Axis.ACROSS, trim.length, kerf, Waste(trim), node))


def sheet() -> Used:
    """A sheet that is ripped into two strips, each crosscut, with a defect and waste."""
    kerf = round(0.125 * IN)
    stock = Stock("P2", 60 * IN, 30 * IN, defects=(Rect(50 * IN, 20 * IN, 3 * IN, 2 * IN),))
    rip = Cut(
        Rect(0, 0, stock.length, stock.width),
        Axis.ALONG,
        15 * IN,
        kerf,
        _strip(Rect(0, 0, stock.length, 15 * IN), 24 * IN, kerf, "side", 1),
        _strip(Rect(0, 15 * IN + kerf, stock.length, 15 * IN - kerf), 22 * IN, kerf, "bottom", 2),
    )
    return Used(stock, 1, rip)


def _strip(piece: Rect, length: int, kerf: int, name: str, copy: int) -> Node:
    first = Rect(piece.x, piece.y, length, piece.width)
    rest = Rect(piece.x + length + kerf, piece.y, piece.length - length - kerf, piece.width)
    second = Rect(rest.x, rest.y, 18 * IN, rest.width)
    last = Rect(second.end_x + kerf, rest.y, rest.length - second.length - kerf, rest.width)
    low = Rect(second.x, second.y, second.length, 11 * IN)
    high = Rect(second.x, low.end_y + kerf, second.length, second.width - low.width - kerf)
    ripped = Cut(second, Axis.ALONG, low.width, kerf, Part(low, "shelf", copy), Waste(high))
    crossed = Cut(rest, Axis.ACROSS, second.length, kerf, ripped, Waste(last))
    return Cut(piece, Axis.ACROSS, length, kerf, Part(first, name, 1), crossed)


def told(used: Used, *, ordered: bool = True) -> PlanBoard:
    """The stock piece as a plan tells it, its cuts in the order of the tree."""
    numbers = {cut: f"T{number}" for number, cut in enumerate(cuts(used.tree), 1)} if ordered else {}
    return board_document(used, "pine", numbers)


def drawn(used: Used) -> Drawing:
    """The stock piece with its cuts numbered."""
    return board_drawing(told(used), show=show, letters=letters([told(used)]))


def board_sheet(used: Used) -> BoardSheet:
    """The sheet of that piece."""
    return BoardSheet(
        f"Board {used.stock.id}",
        drawn(used),
        board_key(told(used), show=show, letters=letters([told(used)])),
        ("Square the end again after each cut; do not mark all lines at once.",),
    )


def tickets(count: int = 3) -> TicketSheet:
    """Tickets with everything that a ticket can have."""
    cut = TicketLine(1, "A1 side", "face down, trued edge to the fence", "from B1, first piece", 2)
    hold = ("The piece is short: use the hold-down, hands off the sled's base.",)
    more = tuple(
        TicketLine(number, f"B{number - 1} shelf", "face down", "from B1", 4, hold if number == 3 else ())
        for number in range(2, count + 2)
    )
    return TicketSheet(
        "Order of cuts",
        (
            TicketGroup(
                "Sled stop",
                "29 63/64",
                (cut,),
                ("for a true 30 in; the scale reads 1/64 short here", "Cut a scrap first and measure it."),
            ),
            TicketGroup("Sled stop", "13 3/8", more, cautions=("Unplug the saw before you move the stop.",)),
        ),
        ("The maker's manual goes before this sheet. Riving knife and guard are on.",),
        ("Two settings, four cuts.",),
    )


def fits() -> FitSheet:
    """Two fits, one with everything."""
    return FitSheet(
        "Does it go together?",
        (
            FitLine(
                "shelf in dado",
                "0.002 to 0.006 in",
                "0.004 in",
                "±0.0012 in (95 %)",
                "very likely: 98 in 100",
                "mostly the stop",
            ),
            FitLine("rack in bay", "0 to 1/16 in", "3/64 in", "±0.004 in", "almost certain"),
        ),
        ("Worked out from what the saw holds today.",),
    )

"""A straightedge along the edges and the diagonals: how flat is the saw's table, or the sled's platform?"""

from __future__ import annotations

from collections.abc import Sequence

from trued.drawing.shapes import Arrow, Drawing, Label, Line, rectangle
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue, linear
from trued.measure.fitting.flatness import plane_zone
from trued.procedure import (
    AddedUncertainty,
    Check,
    Example,
    Feature,
    FeatureResult,
    Flag,
    IntermediatePrecision,
    Kind,
    Move,
    ReadingSpec,
    RunInput,
    Severity,
    Step,
)
from trued.procedure.quantities import MIL, inches, size
from trued.procedure.shared.feeler import gap
from trued.procedure.shared.fence_turn import KEEPER_FACT
from trued.procedure.shared.straightedge import LIMIT_TEXT, PROVE, own_error
from trued.procedure.sketch.pieces import Shape

AT_BLADE = "table-at-blade"
FLAT = {"table": "table-flat", "platform": "platform-flat"}
FLAT_TOLERANCE = ToleranceLimits(None, inches(0.010))  # common practice
BLADE_TOLERANCE = ToleranceLimits.within(inches(0.005))  # common practice
EDGES = ("operator", "far", "keeper", "offcut")
DIAGONALS = ("diagonal-keeper", "diagonal-offcut")
MIDDLES = ("middle-across", "middle-along")
LINES = (*EDGES, *DIAGONALS, *MIDDLES, "blade")
PROVEN = ("across", "along", "diagonal")
CLOSES = inches(0.004)  # common practice
STEP = 0.02  # mm: over so much the flatness's slope by each line is taken, about what one gap is known to
CORNERS = ("operator's keeper corner", "operator's offcut corner", "far offcut corner", "far keeper corner")


def evaluate(taken: RunInput) -> tuple[FeatureResult, ...]:
    """Flatness by minimum zone of the nine places that the lines join, and the straightness beside the blade."""
    lines = {line: sag(taken, line) for line in (*EDGES, *DIAGONALS)}
    surface = taken.choice("surface")
    found = FeatureResult(
        FLAT[surface],
        "mm",
        _zone(list(lines.values())) + taken.between_runs(),
        taken.tolerance(FLAT[surface]),
    )
    if not _read(taken, "blade"):
        return (found,)
    beside = sag(taken, "blade") + taken.between_runs()
    return found, FeatureResult(AT_BLADE, "mm", beside, taken.tolerance(AT_BLADE))


def sag(taken: RunInput, line: str) -> UncertainValue:
    """How far the middle of a line lies below its ends, after the straightedge's own hollow; crowned below 0."""
    shown = gap(taken, "hollow", line) if _hollow(taken, line) else -gap(taken, "crown", line)
    if not taken.has("scribed"):
        return shown + own_error(taken)
    return shown - 0.5 * taken.mean("scribed", _length_of(line))


def _read(taken: RunInput, line: str) -> bool:
    return taken.has("hollow", line) or taken.has("crown", line)


def _hollow(taken: RunInput, line: str) -> bool:
    return any(taken.all("hollow", line)) or not taken.has("crown", line)


def _length_of(line: str) -> str:
    if line in DIAGONALS:
        return "diagonal"
    return "across" if line in ("operator", "far", "middle-across") else "along"


def heights(sags: Sequence[float]) -> list[tuple[float, float, float]]:
    """Nine places (column, row, height) from the sags of the four edges and the two diagonals, in that order.

    The plane through them is free: it is laid so that opposite corners stand equally high. Columns run from the
    keeper's side to the offcut's, rows from the operator to the far side.
    """
    operator, far, keeper, offcut, one, other = sags
    twist = 0.5 * (one - other)
    corners = [(0.0, 0.0, twist), (2.0, 0.0, -twist), (2.0, 2.0, twist), (0.0, 2.0, -twist)]
    edges = [(1.0, 0.0, -operator), (1.0, 2.0, -far), (0.0, 1.0, -keeper), (2.0, 1.0, -offcut)]
    return [*corners, *edges, (1.0, 1.0, -0.5 * (one + other))]


def _zone(sags: Sequence[UncertainValue]) -> UncertainValue:
    """Minimum zone with its slope by each line, taken over about what a line is known to: it has kinks."""
    values = [s.value for s in sags]
    slopes = []
    for n in range(len(values)):
        up, down = ([v + (by if i == n else 0.0) for i, v in enumerate(values)] for by in (STEP, -STEP))
        slopes.append((plane_zone(heights(up)) - plane_zone(heights(down))) / (2.0 * STEP))
    return linear(plane_zone(heights(values)), *zip(slopes, sags, strict=True))


def twist_of(taken: RunInput) -> float:
    """How far one corner stands off the plane of the three others, mm; above 0 the operator's keeper corner is high."""
    one, other = (sag(taken, line).value for line in DIAGONALS)
    return 2.0 * (one - other)


def moves(taken: RunInput, founds: tuple[FeatureResult, ...]) -> tuple[Move, ...]:
    """A twist is taken out at the feet; a bow cannot be turned out."""
    table, twist = taken.choice("surface") == "table", twist_of(taken)
    made = [Move(founds[0].feature, _twist_text(taken, twist, table), "stand" if table else "platform", "up", None)]
    if len(founds) > 1:
        sags = founds[1].value.value
        text = (
            f"Check the insert first: beside the blade the table is {size(sags, taken.unit)} "
            f"{'hollow' if sags > 0 else 'crowned'}. A proud insert shows like that. A cast top that is so is for its "
            "maker."
        )
        made.append(Move(AT_BLADE, text, "table", "up" if sags > 0 else "down", None))
    return tuple(made)


def _twist_text(taken: RunInput, twist: float, table: bool) -> str:
    low = f"{CORNERS[1]} or the {CORNERS[3]}" if twist > 0.0 else f"{CORNERS[0]} or the {CORNERS[2]}"
    words = f"One corner is {size(twist, taken.unit)} off the plane of the others."
    if table:
        return (
            f"Level the stand first. {words} A light saw on an uneven floor twists its table. Shim the foot below the "
            f"{low} until both diagonals read the same. Measure all lines again. A bow that is left cannot be "
            "adjusted: work where it is flat, or ask the maker."
        )
    return (
        f"Lay the sled on a flat table: does it rock there? {words} Loosen and refit fence, bar or stiffeners, with "
        f"shim under the {low}. Change a board that cupped with the season."
    )


def lines_missing(taken: RunInput) -> Flag | None:
    """A line was left out."""
    lone = [line for line in (*EDGES, *DIAGONALS) if not _read(taken, line)]
    text = f"{', '.join(lone)}: type hollow@ or crown@ for each of the four edges and the two diagonals."
    return Flag("lines-missing", Severity.REFUSE, text) if lone else None


def hollow_and_crown(taken: RunInput) -> Flag | None:
    """A line that is hollow and crowned at once."""
    both = [line for line in LINES if any(taken.all("hollow", line)) and any(taken.all("crown", line))]
    text = (
        f"{', '.join(both)}: hollow and crowned at once. Hollow touches at both ends with the gap in the middle; "
        "crowned touches in the middle with a gap at both ends."
    )
    return Flag("hollow-and-crown", Severity.REFUSE, text) if both else None


def does_not_close(taken: RunInput) -> Flag | None:
    """The lines through the middle do not fit the edges and diagonals."""
    if lines_missing(taken):
        return None
    sags = {line: sag(taken, line) for line in LINES if _read(taken, line)}
    centre = -0.5 * (sags[DIAGONALS[0]] + sags[DIAGONALS[1]])
    for line, ends in zip(MIDDLES, (("keeper", "offcut"), ("operator", "far")), strict=True):
        if line not in sags:
            continue
        expected = -0.5 * (sags[ends[0]] + sags[ends[1]]) - centre
        off = sags[line] - expected
        if abs(off.value) > max(CLOSES, 4.0 * off.u):
            text = (
                f"{line} does not fit the other lines by {size(off.value, taken.unit)}. Is the straightedge a rule "
                "that lies on its flat and bends? Or was a hollow line typed as crowned? Read these lines again."
            )
            return Flag("does-not-close", Severity.DOUBT, text)
    return None


def bends(taken: RunInput) -> Flag | None:
    """No gap anywhere: a rule on its flat follows any table."""
    if any(v > 0.0 for name in ("hollow", "crown") for v in taken.all(name)):
        return None
    text = (
        "No line shows a gap. A thin rule on its flat bends and follows any table: use a straightedge that stands on "
        "its edge, and try it across a sheet of paper laid under one end."
    )
    return Flag("straightedge-bends", Severity.NOTE, text)


def not_proven_straightedge(taken: RunInput) -> Flag | None:
    """Nothing is known of the straightedge: its bow is in every line, whole; a twist is found all the same."""
    if taken.has("scribed") or taken.has("edge_limit"):
        return None
    text = f"The straightedge is not proven: its own bow is in every line, only the twist is free of it. {PROVE}"
    return Flag("straightedge-not-proven", Severity.NOTE, text)


def draw(taken: RunInput, founds: tuple[FeatureResult, ...]) -> Drawing:
    """The surface from above with its lines; afterwards which corners stand high and which low."""
    k = 1 if taken.word("keeper") == "right" else -1
    name = "sled's platform" if taken.choice("surface") == "platform" else "saw's table"
    seen = f"The {name} seen from above, the keeper's side {'right' if k > 0 else 'left'}."
    shapes: list[Shape] = [
        rectangle(-11, -8, 22, 16, "table"),
        Label((0, 8.8), "far"),
        Label((0, -9.6), "operator"),
        Label((k * 11.3, 0.8), "keeper", anchor="start" if k > 0 else "end"),
        Label((-k * 11.3, 0.8), "offcut", anchor="end" if k > 0 else "start"),
    ]
    if not founds:
        corners = [(k * 10, -7.0), (-k * 10, -7.0), (-k * 10, 7.0), (k * 10, 7.0)]
        ways = ((0, 1), (3, 2), (0, 3), (1, 2), (0, 2), (1, 3))
        shapes += [Arrow(corners[a], corners[b], "measure", both_ends=True) for a, b in ways]
        shapes += [Label((k * 5.6, -3.0), "diagonal keeper"), Label((-k * 5.6, -3.0), "diagonal offcut")]
        shapes += [Line((-0.5 * k, -5), (-0.5 * k, 5), "blade")]
        told = (
            f"{seen} Lay the straightedge along the operator's and the far edge, along the keeper's and the offcut "
            "edge, and along both diagonals. At each say how hollow the middle is, or how crowned."
        )
        return Drawing("Flatness: the lines to read", told, tuple(shapes))
    twist, zone = twist_of(taken), founds[0].value.value
    places = heights([sag(taken, line).value for line in (*EDGES, *DIAGONALS)])
    for n, (x, y) in enumerate(((k, -1), (-k, -1), (-k, 1), (k, 1))):
        high = (twist > 0.0) == (n % 2 == 0)
        text = f"{'high' if high else 'low'} {_signed(places[n][2], taken.unit)}"
        shapes += [Label((x * 6.8, y * 6.6), text, "found")]
        if not high:
            shapes += [Arrow((x * 8.5, y * 12.0 if y < 0 else 12.0), (x * 8.5, y * 8.4), "move")]
    shapes += [Label((0, -12.5), "shim under a low corner", "move")]
    shapes += [Label((-k * (x - 1) * 7.0, (y - 1) * 4.5), _signed(z, taken.unit)) for x, y, z in places[4:]]
    low = (CORNERS[1], CORNERS[3]) if twist > 0.0 else (CORNERS[0], CORNERS[2])
    mend = "To mend it shim goes under a low corner."
    told = (
        f"{seen} All nine places lie between two planes {size(zone, taken.unit)} apart. One corner stands "
        f"{size(twist, taken.unit)} off the plane of the others: low are the {low[0]} and the {low[1]}. {mend}"
    )
    return Drawing("Flatness: what was found", told, tuple(shapes), mend)


def _signed(mm: float, unit: str) -> str:
    text = size(mm, unit, 4 if unit == "mm" else 3).removesuffix(" in").removesuffix(" mm")
    sign = "" if not text.strip("0.") else "-" if mm < 0.0 else "+"
    return f"{sign}{text}"


CHECK = Check(
    id="table",
    version=1,
    title="Flatness: saw table or sled base",
    purpose="Finds how far a table or platform is from a plane, and whether it is twisted by the floor it stands on.",
    minutes=15.0,
    features=(
        Feature(FLAT["table"], "mm", "table flatness", limits=FLAT_TOLERANCE, owner="saw", turn=330),
        Feature(
            FLAT["platform"],
            "mm",
            "sled base flatness",
            limits=FLAT_TOLERANCE,
            doubts=(AddedUncertainty("sled-stored", 10 * MIL), AddedUncertainty("humidity-swing", 8 * MIL)),
            turn=410,
        ),
        Feature(
            AT_BLADE,
            "mm",
            "table flatness at the blade",
            limits=BLADE_TOLERANCE,
            sides=("hollow", "crowned"),
            owner="saw",
            turn=340,
        ),
    ),
    at_hand=(
        "a straightedge as long as the diagonal, proven, or with its maker's limit of error",
        "feelers",
        "a brush, and a rag for the table",
    ),
    cautions=(
        "Saw unplugged, battery out; the blade lowered below the table.",
        "The edge of a straightedge and the corners of a table are sharp: carry it flat.",
        "Lifting the saw to shim a foot: two persons, or a lever; never reach under it while it is held up.",
    ),
    asks=(
        ReadingSpec("surface", "what is read", Kind.CHOICE, choices=tuple(FLAT), need=(1, 1)),
        ReadingSpec(
            "scribed",
            "distance between the two lines that the straightedge scribed, in the middle of that length; minus where "
            "it bulges",
            Kind.GAP,
            stations=PROVEN,
            optional=True,
            expect=(-2.0, 2.0),
        ),
        ReadingSpec("edge_limit", LIMIT_TEXT, instrument="gauge", need=(1, 1), optional=True, expect=(0.0, 0.5)),
        ReadingSpec(
            "hollow",
            "gap in the middle of that line, the straightedge touching at both ends",
            instrument="feelers",
            stations=LINES,
            least=1,
            optional=True,
            expect=(0.0, 3.0),
        ),
        ReadingSpec(
            "crown",
            "gap at both ends of that line alike, the straightedge touching in the middle",
            instrument="feelers",
            stations=LINES,
            least=1,
            optional=True,
            expect=(0.0, 3.0),
        ),
    ),
    facts=(KEEPER_FACT,),
    steps=(
        Step(
            "Level the stand first: all feet bear, none can be turned by hand. Wipe the table, brush out the slot. "
            "Say whether you read the saw's table or the sled's platform (which then lies on the table).",
            asks=("surface",),
        ),
        Step(
            f"{PROVE} Do it over the length across, the length along, and the diagonal, and measure between the "
            "lines in the middle. A line that lies toward the straightedge that drew it: hollow, type it plain.",
            asks=("scribed", "edge_limit"),
        ),
        Step(
            "Stand the straightedge on its edge along the four edges of the surface, 1/2 in inside. It touches at "
            "both ends: type the gap in the middle as hollow. It rocks on the middle: hold it so that both ends "
            "stand off alike, and type that gap as crown. No feeler goes in: hollow 0.",
            asks=("hollow", "crown"),
            caution="A rule laid on its flat bends and follows the table; it shows nothing.",
        ),
        Step(
            "The same along both diagonals; then through the middle, across and along, which shows whether the lines "
            "fit together; and on the table close beside the insert (blade).",
            asks=("hollow", "crown"),
        ),
    ),
    evaluate=evaluate,
    moves=moves,
    blunders=(lines_missing, hollow_and_crown, does_not_close, bends, not_proven_straightedge),
    draw=draw,
    example=Example(
        (
            "surface=table",
            *(f"hollow@{line}=0" for line in EDGES),
            "hollow@diagonal-keeper=0.010",
            "crown@diagonal-offcut=0.010",
            "edge_limit=0.001",
        ),
        (("table-flat", inches(0.020)),),
        "worked by hand: corners 0.010 up and down in turn, so 0.020 between two planes: a saddle",
    ),
    sources=(
        "common practice: 0.010 in over all, 0.005 beside the blade",
        "flatness by minimum zone (ISO 230-1) of the nine places that the lines join",
        "turned end for end a straightedge keeps its bow; in the twist, from the two diagonals, it cancels",
        "scatter of 0.015 mm from run to run to start with: common practice",
    ),
    between_runs=IntermediatePrecision("laying the straightedge", EstimatedSd(0.015, 4), "common practice"),
)

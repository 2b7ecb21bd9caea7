"""The words of a ticket: what is cut, how the piece lies, what is measured first, and the cautions of the step."""

from __future__ import annotations

from collections import Counter

from trued.plan.layout.cut_tree import Axis, Cut, Node, Part, Sized, Waste, parts
from trued.plan.layout.pieces import UNITS_PER_MM, to_mm
from trued.plan.stations.station import NARROW_STRIP, Station, is_rough, needs_holding
from trued.units import Unit, as_decimal, as_fraction, as_mm

_LONG_RIP = 457 * UNITS_PER_MM  # 18 in: twice the table behind the blade of a light saw, common practice


def scale_text(mm: float | None, unit: Unit) -> str:
    """A size as a scale is marked; finer than 1/64 in comes as a decimal beside the nearest. "" for None."""
    if mm is None:
        return ""
    if unit == "mm":
        return as_mm(mm, 1).text
    shown = as_fraction(mm, 64)
    return shown.text if abs(shown.remainder.mm) < 1e-6 else f"{as_decimal(mm, 4).text} (nearest 1/64: {shown.text})"


def set_text(mm: float | None, scale: Unit, unit: Unit) -> str:
    """The same where a scale is marked in another unit than the job is told in: then always with its unit."""
    number, bracket, rest = scale_text(mm, scale).partition(" (")
    return f"{number} in{bracket}{rest}" if number and scale == "in" and unit == "mm" else f"{number}{bracket}{rest}"


def wanted_text(cut: Cut, station: Station, size: int | None, unit: Unit) -> str:
    """The size to come out; of a blank that is sawn to a line and cut to its length later, to 1/64 in. "" for None."""
    if size is not None and station in (Station.FLOOR, Station.HAND) and is_rough(cut):
        return near(size, unit)
    return scale_text(None if size is None else to_mm(size), unit)


def near(units: int, unit: Unit) -> str:
    """A place that no part gets its size from, to 1/64 in or a tenth of a millimetre."""
    return as_mm(to_mm(units), 1).text if unit == "mm" else as_fraction(to_mm(units), 64).text


def told(cut: Cut, station: Station, made: tuple[str, ...], unit: Unit) -> str:
    """What is cut, in one sentence; with its measure where no stop or fence holds it."""
    verb = "Crosscut" if cut.axis is Axis.ACROSS else "Rip"
    how = {Station.FLOOR: ", on the floor along a guide", Station.HAND: ", by hand along a line"}.get(station, "")
    if cut.sized is not Sized.NONE:
        finished = isinstance(cut.low if cut.sized is Sized.LOW else cut.high, Part)
        size = wanted_text(cut, station, cut.setting, unit)
        at = f" at {size} from the {_measured_from(cut)}" if how else ""
        return f"{verb} {'' if finished else 'the blank for '}{', '.join(made)}{at}{how}"
    if (off := _trimmed(cut)) is not None:
        return f"{verb} the {_side(cut)} of {_piece(cut)} clean: {near(off, unit)} off, kerf counted{how}"
    at = f"at {near(cut.position, unit)} from the {_measured_from(cut)}"
    return f"{verb} {_freed(cut)} free, over size, {at}{how}"


def _measured_from(cut: Cut) -> str:
    """Where the size of a cut begins."""
    what = "end" if cut.axis is Axis.ACROSS else "edge"
    return f"far {what}" if cut.sized is Sized.HIGH else f"reference {what}"


def _side(cut: Cut) -> str:
    """Which end or edge a trim takes off."""
    what = "end" if cut.axis is Axis.ACROSS else "edge"
    return f"reference {what}" if cut.low is None or isinstance(cut.low, Waste) else f"far {what}"


_FEW = 3
"""So many parts name a piece; one that holds more is the board, or told by how many of each."""


def _piece(cut: Cut) -> str:
    """The piece that is trimmed, by what will come out of it."""
    names = _names(cut)
    finished = isinstance(cut.low, Part) or isinstance(cut.high, Part)
    if not names or len(names) > _FEW:
        return "the board"
    return f"{'' if finished else 'the blank for '}{', '.join(names)}"


def _freed(cut: Cut) -> str:
    """The piece at the reference side of a cut that frees it, by what will come out of it."""
    if cut.low is None or not (names := _names(cut.low)):
        return "the offcut at the " + _measured_from(cut)
    if len(names) > _FEW:
        count = Counter(name.partition("@")[0] for name in names)
        names = [f"{many} × {want}" if many > 1 else want for want, many in count.items()]
    return f"the piece for {', '.join(names)}"


def _names(node: Node) -> list[str]:
    return [f"{part.want}@{part.copy}" for part in parts(node)]


def face(station: Station) -> str:
    """Which way the show face lies: a blade tears where its teeth come out of the wood."""
    return "down" if station is Station.FLOOR else "up"


def edge(cut: Cut, station: Station) -> str:
    """What the piece lies against."""
    if station in (Station.FLOOR, Station.HAND):
        return f"mark from the {_measured_from(cut)}; saw on the waste side of the line"
    if station is Station.RIP:
        riding = "reference edge" if cut.axis is Axis.ALONG else "squared end"
        return f"{riding} along the rip fence, flat on the table"
    return _on_the_fence_of_the_sled(cut)


def _on_the_fence_of_the_sled(cut: Cut) -> str:
    """The blade runs square to the sled's fence: a crosscut has the edge there and an end at the stop, a rip the end
    there and an edge at the stop."""
    across = cut.axis is Axis.ACROSS
    riding = "reference edge" if across else "squared end"
    if cut.sized is Sized.NONE:
        return f"{riding} against the sled's fence, the longer piece on the keeper side, the stop out of the way"
    low, high = ("squared end", "far end") if across else ("reference edge", "far edge")
    return f"{riding} against the sled's fence, {low if cut.sized is Sized.LOW else high} against the stop"


def first(cut: Cut, station: Station) -> str:
    """What to measure at the first cut of a setting."""
    if station in (Station.FLOOR, Station.HAND):
        return "Measure every line twice before the saw starts."
    if cut.sized is Sized.NONE:
        return ""
    return "Cut a scrap first and measure it; then the first piece, every fifth, and the last."


def cautions(cut: Cut, station: Station) -> tuple[str, ...]:
    """The usual cautions of the trade for one cut; the saw maker's manual goes before them."""
    return tuple(_CAUTIONS[station](cut))


_RIP_ON_SLED = (
    "Rip on the sled, with the grain: only the end bears on the fence, so it stays clamped; riving knife on. "
    "If the kerf closes, saw off; wedge it once the blade is still."
)  # common practice


def _at_the_fence(cut: Cut) -> list[str]:
    said = ["Riving knife and guard on; push block for the last foot; stand out of the line of the board."]
    if cut.axis is Axis.ACROSS:
        said.append("Only because the edge along the fence is the longer one: never a narrow end against the fence.")
    if cut.setting is not None and cut.setting < NARROW_STRIP:
        said.append("Narrow strip: a push block that passes over it, or cut it on the offcut side of the blade.")
    if cut.run > _LONG_RIP:
        said.append("Long piece: outfeed support behind the saw before you start.")
    return said


def _on_the_sled(cut: Cut) -> list[str]:
    said = ["Hands 6 in or more from the kerf; saw off and blade still before the offcut is taken away."]
    if cut.axis is Axis.ALONG:
        said.append(_RIP_ON_SLED)
    if needs_holding(cut):
        said.append("Short keeper: no hand holds it.")
    return said


def _on_the_floor(_cut: Cut) -> list[str]:
    return ["Piece flat on foam and clamped, blade just through it, both hands on the saw; lift with a second person."]


def _by_hand(_cut: Cut) -> list[str]:
    return ["Too small for the machines of this shop: clamp it, saw by hand on the waste side, plane to the line."]


_CAUTIONS = {
    Station.RIP: _at_the_fence,
    Station.SLED: _on_the_sled,
    Station.FLOOR: _on_the_floor,
    Station.HAND: _by_hand,
}


def _trimmed(cut: Cut) -> int | None:
    """How much a trim takes off, its kerf counted; None where both sides are kept."""
    if cut.low is None or isinstance(cut.low, Waste):
        return cut.position + cut.kerf
    if cut.high is None or isinstance(cut.high, Waste):
        return cut.span - cut.position
    return None

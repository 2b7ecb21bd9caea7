"""The kinds of assembly: box, carcass, frame, door, drawer, shelf rack."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from trued.job.assembly.joint import Joint, Jointed, between, enters, outside_from
from trued.job.assembly.made import Making

_COMMON = (
    *("id", "kind", "outside", "inside", "thickness", "joint", "joint_depth"),
    *("material", "grain", "tolerance", "alike", "show", "squared", "diagonals"),
)


def _box(making: Making) -> None:
    t, deep = making.size("thickness"), making.size("depth")
    across, up = _outside(making, t)
    _four_sides(making, across, up, t, deep, "end")


def _carcass(making: Making) -> None:
    row, t, deep = making.row, making.size("thickness"), making.size("depth")
    across, up = _outside(making, t)
    _four_sides(making, across, up, t, deep, "top")
    inside = making.name("inside", f"{across} - 2*{t}")
    if shelves := row.whole("shelves", 0):
        room, back = making.size("shelf_clearance", "1/8in"), making.size("shelf_setback", "3/4in")
        making.part("shelf", shelves, f"{inside} - {room}", f"{deep} - {back}", t)
        making.said.append(f"{making.id}_shelf: on pins between the sides, less its clearance.")
    if row.has("back_thickness"):
        groove, play = making.size("back_groove", "3/8in"), making.size("back_clearance", "1/16in")
        _panel(making, "back", f"{up} - 2*{t} + 2*{groove} - {play}", f"{inside} + 2*{groove} - {play}")
        making.said.append(f"{making.id}_back: groove: inside, the groove's depth added all round, less its clearance.")


def _frame(making: Making) -> None:
    stuff, t = making.size("width"), making.size("thickness")
    across, up = _outside(making, stuff)
    joint = _joint(making, Joint.BUTT)
    upright = up if joint in (Joint.BUTT, *_entered()) else between(joint, up, stuff, "0")
    depth = making.size("joint_depth") if enters(joint) else "0"
    stile = making.part("stile", 2, upright, stuff, t, {"together": f"{making.id} stiles"})
    rail = making.part("rail", 2, between(joint, across, stuff, depth), stuff, t, {"together": f"{making.id} rails"})
    if joint is Joint.MITRE:
        making.angled += [rail, stile]
        sides = [f"{rail}@1", f"{stile}@1", f"{rail}@2", f"{stile}@2"]
        limit = making.row.text("gap", "1/64in")
        making.fit("mitres closed", "mitres", f"-({limit})", limit, {"sides": sides, "width": stuff})
    taken = "" if joint in (Joint.MITRE, Joint.HALF_LAP) else f" + 2*{stuff} - 2*{depth}"
    _square(making, [f"{rail}@{n}.length{taken}" for n in (1, 2)], [f"{stile}@{n}.length" for n in (1, 2)], "flat")


def _door(making: Making) -> None:
    """A frame whose rails' tongues fill the groove that its panel lies in."""
    stuff, t = making.size("width"), making.size("thickness")
    across, up = _outside(making, stuff)
    groove = making.size("joint_depth", "3/8in")
    stile = making.part("stile", 2, up, stuff, t, {"together": f"{making.id} stiles"})
    rail = making.part(
        "rail", 2, between(Joint.GROOVE, across, stuff, groove), stuff, t, {"together": f"{making.id} rails"}
    )
    if making.row.has("panel_thickness"):
        play = making.size("panel_clearance", "1/8in")
        high, wide = (f"{size} - 2*{stuff} + 2*{groove} - {play}" for size in (up, across))
        _panel(making, "panel", high, wide)
        making.said.append(f"{making.id}_panel: groove: between stiles and rails, the depth added, less its clearance.")
    lengths = [f"{rail}@{n}.length + 2*{stuff} - 2*{groove}" for n in (1, 2)]
    _square(making, lengths, [f"{stile}@{n}.length" for n in (1, 2)], "flat")


def _drawer(making: Making) -> None:
    """A box between two slides; `opening` and `slide` in place of an outside size across."""
    row, t = making.row, making.size("thickness")
    deep, high = making.size("deep"), making.size("height")
    slide = making.size("slide", "1/2in")
    opening = making.size("opening")
    least, most = row.text("room_least", "0"), row.text("room_most", "1/32in")
    wide = making.size("across", f"{opening} - 2*{slide} - (({least}) + ({most}))/2")  # in the middle of its room
    joint = _joint(making, Joint.RABBET)
    depth = making.size("joint_depth", f"{t}/2") if enters(joint) else "0"
    side = making.part("side", 2, deep, high, t, {"together": f"{making.id} sides"})
    end = making.part("end", 2, between(joint, wide, t, depth), high, t, {"together": f"{making.id} ends"})
    if row.has("bottom_thickness"):
        groove, play = making.size("groove", f"{t}/2"), making.size("bottom_clearance", "1/16in")
        length, across = (f"{size} - 2*{t} + 2*{groove} - {play}" for size in (deep, wide))
        _panel(making, "bottom", length, across)
        making.said.append(
            f"{making.id}_bottom: groove: inside, the groove's depth added all round, less its clearance."
        )
    added = f" + 2*{side}@1.thickness - 2*{depth}"
    box = [f"{end}@{n}.length{added}" for n in (1, 2)]
    squared = row.text("squared", "tape")
    fields = {"opening": opening, "box": box, "slide": slide, "deep": deep, "squared": squared}
    making.fit("between its slides", "drawer", least, most, fields)
    _square(making, box, [f"{side}@{n}.length" for n in (1, 2)], "on edge")


def _rack(making: Making) -> None:
    """Two sides, rails between them that set the width, shelves that float in dados."""
    row, t, deep = making.row, making.size("thickness"), making.size("depth")
    across, up = _outside(making, t)
    depth = making.size("joint_depth", "1/4in")
    play = making.size("shelf_clearance", "1/64in")
    side = making.part("side", 2, up, deep, t, {"together": f"{making.id} sides"})
    dado = between(Joint.DADO, across, t, depth)
    shelf = making.part(
        "shelf", row.whole("shelves", 1) or 1, Jointed(f"{dado.length} - {play}", f"{dado.said}, less its clearance"),
        deep, t, {"together": f"{making.id} shelves"},
    )  # fmt: skip
    rail = making.part(
        "rail", row.whole("rails", 2) or 2, between(Joint.BUTT, across, t, "0"), making.size("rail_width", deep), t,
        {"together": f"{making.id} rails"},
    )  # fmt: skip
    of = {"of": f"{rail}.length + 2*{depth} - {shelf}.length"}
    making.fit(
        "shelf in its dados", "clearance", row.text("room_least", "0.004in"), row.text("room_most", "1/32in"), of
    )
    _square(
        making, [f"{rail}@{n}.length + 2*{side}@1.thickness" for n in (1, 2)], [f"{side}@{n}.length" for n in (1, 2)]
    )


def _four_sides(making: Making, across: str, up: str, t: str, deep: str, word: str) -> None:
    """Two sides of the whole height and two parts between them."""
    joint = _joint(making, Joint.BUTT)
    if joint is Joint.HALF_LAP or joint is Joint.GROOVE:
        making.row.fault("joint", "A box is joined by butt, rabbet, dado or mitre; write one of these.", read=joint)
    depth = making.size("joint_depth") if enters(joint) else "0"
    side = making.part("side", 2, up, deep, t, {"together": f"{making.id} sides"})
    part = making.part(word, 2, between(joint, across, t, depth), deep, t, {"together": f"{making.id} {word}s"})
    if joint is Joint.MITRE:
        making.angled += [side, part]
    taken = "" if joint is Joint.MITRE else f" + 2*{side}@1.thickness - 2*{depth}"
    _square(making, [f"{part}@{n}.length{taken}" for n in (1, 2)], [f"{side}@{n}.length" for n in (1, 2)])


def _square(making: Making, across: list[str], up: list[str], lies: str = "on edge") -> None:
    """The diagonals, within 1/16 in of each other (common practice) unless the row says otherwise."""
    limit, squared = making.row.text("diagonals", "1/16in"), making.row.text("squared", "tape")
    fields = {"across": across, "up": up, "squared": squared, "lies": lies}
    making.fit("diagonals alike", "diagonals", f"-({limit})", limit, fields)


def _outside(making: Making, neighbour: str) -> tuple[str, str]:
    """The outside sizes across and up, as given or from the clear sizes inside."""
    row = making.row
    if row.has("outside") == row.has("inside"):
        row.fault("outside", 'Say its size once: outside = ["24", "30"], or inside = [...].')
        return making.name("across", "1in"), making.name("up", "1in")
    key = "outside" if row.has("outside") else "inside"
    texts = row.texts(key, 2, '["24", "30"]') or ("1in", "1in")
    sizes = texts if key == "outside" else tuple(outside_from(f"({text})", neighbour) for text in texts)
    return making.name("across", sizes[0]), making.name("up", sizes[1])


def _joint(making: Making, usual: Joint) -> Joint:
    word = making.row.word("joint", tuple(Joint), usual)
    return Joint(word) if word in tuple(Joint) else usual


def _entered() -> tuple[Joint, ...]:
    return tuple(joint for joint in Joint if enters(joint))


def _panel(making: Making, word: str, length: str, width: str) -> None:
    """A thin part of its own material that lies in grooves."""
    more = {"material": making.row.text(f"{word}_material")} if making.row.has(f"{word}_material") else {}
    making.part(word, 1, length, width, making.size(f"{word}_thickness"), more)


KINDS: Mapping[str, tuple[tuple[str, ...], Callable[[Making], None]]] = {
    "box": ((*_COMMON, "depth"), _box),
    "carcass": (
        (
            *(*_COMMON, "depth", "shelves", "shelf_clearance", "shelf_setback"),
            *("back_thickness", "back_material", "back_groove", "back_clearance"),
        ),
        _carcass,
    ),
    "frame": ((*_COMMON, "width", "gap"), _frame),
    "door": ((*_COMMON, "width", "panel_thickness", "panel_material", "panel_clearance"), _door),
    "drawer": (
        (
            *(key for key in _COMMON if key not in ("outside", "inside")),
            *("opening", "across", "slide", "deep", "height", "groove", "room_least", "room_most"),
            *("bottom_thickness", "bottom_material", "bottom_clearance"),
        ),
        _drawer,
    ),
    "shelf rack": (
        (*_COMMON, "depth", "shelves", "rails", "rail_width", "shelf_clearance", "room_least", "room_most"),
        _rack,
    ),
}
"""Kind -> its fields, and how it is taken apart."""

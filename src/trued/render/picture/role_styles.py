"""What each role looks like: on the page by a class and variables of the style sheet, in print black on white.

One table serves both. Colour never says something alone: a cut is also dashed, a move also thick, waste also crossed.
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Look:
    """Looks of one role.

    ink, fill:  names of the variables `--drawing-…` of the page; fill "" is none.
    width:      of its lines, in px of a picture 360 px wide; pt in print.
    dash:       pattern of its lines, "" for a line without gaps.
    bold:       for its words.
    """

    ink: str = "ink"
    fill: str = ""
    width: float = 1.5
    dash: str = ""
    bold: bool = False


OTHER = Look()
LOOKS = {
    "table": Look("soft", "metal", 1.0),
    "saw": Look("soft", "metal", 1.0),
    "wing": Look("soft", "metal", 1.0),
    "slot": Look("soft", "paper", 1.0),
    "bar": Look("soft", "metal", 1.5),
    "sled": Look("ink", "wood", 1.0),
    "fixture": Look("ink", "wood", 1.0),
    "fence": Look("ink", "wood", 2.0),
    "keeper": Look("ink", "wood", 1.5),
    "stop": Look("ink", "ink", 1.5),
    "board": Look("ink", "wood", 1.5),
    "stock": Look("ink", "paper", 2.0),
    "part": Look("ink", "wood", 1.5),
    "strip": Look("ink", "wood", 1.5),
    "offcut": Look("ink", "paper", 1.5),
    "waste": Look("soft", "paper", 1.0),
    "defect": Look("ink", "metal", 2.0),
    "blade": Look("cut", "", 2.5),
    "cut": Look("cut", "", 1.5, "6 3"),
    "kerf": Look("cut", "", 1.0),
    "measure": Look("ink", "", 1.0),
    "read": Look("ink", "", 1.5),
    "scale": Look("ink", "", 1.0),
    "cursor": Look("ink", "", 1.5),
    "gap": Look("accent", "", 1.5),
    "error": Look("accent", "", 2.0),
    "found": Look("accent", "", 2.0),
    "move": Look("accent", "", 3.0, bold=True),
    "feed": Look("soft", "", 2.0),
    "person": Look("soft", "", 1.0),
    "place": Look("soft", "", 1.0),
    "axis": Look("soft", "", 1.0),
    "limit": Look("ink", "", 1.0, "4 3"),
    "band": Look("soft", "paper", 0.5),
    "true": Look("soft", "", 1.0, "4 3"),
    "wanted": Look("soft", "", 1.0, "4 3"),
    "before": Look("soft", "", 1.0, "4 3"),
    "hidden": Look("soft", "", 1.0, "4 3"),
    "letter": Look(bold=True),
    "number": Look("cut", bold=True),
    "title": Look(bold=True),
    "warning": Look("cut", bold=True),
    "note": Look(),
}
DASHED = "5 3"
"""The gaps of a line that a drawing calls dashed."""

PRINT = {
    "ink": "#000",
    "soft": "#000",
    "accent": "#000",
    "cut": "#000",
    "paper": "#fff",
    "wood": "#fff",
    "metal": "#f0f0f0",
}


def look_of(role: str) -> Look:
    """The looks of a role; a role that is not known, or a hatch, is drawn as plain ink."""
    return LOOKS.get(role, OTHER)


@cache
def page_css() -> str:
    """The style sheet of every drawing on the page, for light and dark; nothing else needs to be served."""
    frame = files("trued.render").joinpath("style.css").read_text(encoding="utf-8")
    return frame + "".join(_rules(role, look) for role, look in sorted(LOOKS.items()))


def _rules(role: str, look: Look) -> str:
    dash = f" stroke-dasharray: {look.dash};" if look.dash else ""
    fill = f"var(--drawing-{look.fill})" if look.fill else "none"
    rules = f".drawing .d-{role} {{ stroke: var(--drawing-{look.ink}); stroke-width: {look.width}px;{dash} }}\n"
    rules += f".drawing .d-area.d-{role} {{ fill: {fill}; }}\n"
    rules += f".drawing .d-tip.d-{role} {{ fill: var(--drawing-{look.ink}); stroke: none; }}\n"
    weight = " font-weight: 700;" if look.bold else ""
    return rules + f".drawing text.d-{role} {{ fill: var(--drawing-{look.ink});{weight} }}\n"

"""What each role looks like: on the page by a class and variables of the style sheet, in print black on white.

One table serves both. Colour never says something alone: a cut is also dashed, a move also thick, waste also crossed.
"""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class RoleStyle:
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


OTHER = RoleStyle()
LOOKS = {
    "table": RoleStyle("soft", "metal", 1.0),
    "saw": RoleStyle("soft", "metal", 1.0),
    "wing": RoleStyle("soft", "metal", 1.0),
    "slot": RoleStyle("soft", "paper", 1.0),
    "bar": RoleStyle("soft", "metal", 1.5),
    "sled": RoleStyle("ink", "wood", 1.0),
    "fixture": RoleStyle("ink", "wood", 1.0),
    "fence": RoleStyle("ink", "wood", 2.0),
    "keeper": RoleStyle("ink", "wood", 1.5),
    "stop": RoleStyle("ink", "ink", 1.5),
    "board": RoleStyle("ink", "wood", 1.5),
    "stock": RoleStyle("ink", "paper", 2.0),
    "part": RoleStyle("ink", "wood", 1.5),
    "strip": RoleStyle("ink", "wood", 1.5),
    "offcut": RoleStyle("ink", "paper", 1.5),
    "waste": RoleStyle("soft", "paper", 1.0),
    "defect": RoleStyle("ink", "metal", 2.0),
    "blade": RoleStyle("cut", "", 2.5),
    "cut": RoleStyle("cut", "", 1.5, "6 3"),
    "kerf": RoleStyle("cut", "", 1.0),
    "measure": RoleStyle("ink", "", 1.0),
    "read": RoleStyle("ink", "", 1.5),
    "scale": RoleStyle("ink", "", 1.0),
    "cursor": RoleStyle("ink", "", 1.5),
    "gap": RoleStyle("accent", "", 1.5),
    "error": RoleStyle("accent", "", 2.0),
    "found": RoleStyle("accent", "", 2.0),
    "move": RoleStyle("accent", "", 3.0, bold=True),
    "feed": RoleStyle("soft", "", 2.0),
    "person": RoleStyle("soft", "", 1.0),
    "place": RoleStyle("soft", "", 1.0),
    "axis": RoleStyle("soft", "", 1.0),
    "limit": RoleStyle("ink", "", 1.0, "4 3"),
    "band": RoleStyle("soft", "paper", 0.5),
    "true": RoleStyle("soft", "", 1.0, "4 3"),
    "wanted": RoleStyle("soft", "", 1.0, "4 3"),
    "before": RoleStyle("soft", "", 1.0, "4 3"),
    "hidden": RoleStyle("soft", "", 1.0, "4 3"),
    "letter": RoleStyle(bold=True),
    "number": RoleStyle("cut", bold=True),
    "title": RoleStyle(bold=True),
    "warning": RoleStyle("cut", bold=True),
    "note": RoleStyle(),
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


def look_of(role: str) -> RoleStyle:
    """The looks of a role; a role that is not known, or a hatch, is drawn as plain ink."""
    return LOOKS.get(role, OTHER)


@cache
def page_css() -> str:
    """The style sheet of every drawing on the page, for light and dark; nothing else needs to be served."""
    frame = files("trued.render").joinpath("style.css").read_text(encoding="utf-8")
    return frame + "".join(_rules(role, look) for role, look in sorted(LOOKS.items()))


def _rules(role: str, look: RoleStyle) -> str:
    dash = f" stroke-dasharray: {look.dash};" if look.dash else ""
    fill = f"var(--drawing-{look.fill})" if look.fill else "none"
    rules = f".drawing .d-{role} {{ stroke: var(--drawing-{look.ink}); stroke-width: {look.width}px;{dash} }}\n"
    rules += f".drawing .d-area.d-{role} {{ fill: {fill}; }}\n"
    rules += f".drawing .d-tip.d-{role} {{ fill: var(--drawing-{look.ink}); stroke: none; }}\n"
    weight = " font-weight: 700;" if look.bold else ""
    return rules + f".drawing text.d-{role} {{ fill: var(--drawing-{look.ink});{weight} }}\n"

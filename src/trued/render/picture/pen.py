"""How a shape gets its looks: by class on the page, by its own attributes in print."""

import re
from dataclasses import dataclass
from typing import Literal

from trued.render.picture.hatch import HATCHES
from trued.render.picture.role_styles import DASHED, PRINT, look_of

Palette = Literal["page", "print"]
PRINT_FONT = "Source Sans Pro"


@dataclass(frozen=True, slots=True)
class Pen:
    """Writes the looks of shapes of one picture. `name` makes the ids of this picture its own."""

    palette: Palette
    size: float
    name: str

    def hatched(self, role: str) -> str:
        """The name of the hatching that the role asks for, or nothing."""
        return role if role in HATCHES else ""

    def line(self, role: str, *, dashed: bool = False) -> str:
        """Attributes of a line."""
        if self.palette == "page":
            return f'class="d-line d-{_name(role)}{" d-dashed" if dashed else ""}"'
        return f'fill="none" {self._stroke(role, dashed=dashed)}'

    def area(self, role: str) -> str:
        """Attributes of an area with its outline."""
        if self.palette == "page":
            return f'class="d-area d-{_name(role)}"'
        fill = look_of(role).fill
        return f'fill="{PRINT[fill] if fill else "none"}" {self._stroke(role)}'

    def tip(self, role: str) -> str:
        """Attributes of an arrow's head."""
        if self.palette == "page":
            return f'class="d-tip d-{_name(role)}"'
        return f'fill="{PRINT[look_of(role).ink]}"'

    def hatching(self) -> str:
        """Attributes of the lines of a hatching."""
        return 'class="d-hatching"' if self.palette == "page" else 'fill="none" stroke="#000" stroke-width="0.5"'

    def leader(self) -> str:
        """Attributes of the line from words to their place."""
        return 'class="d-leader"' if self.palette == "page" else 'fill="none" stroke="#000" stroke-width="0.5"'

    def words(self, role: str) -> str:
        """Attributes of words; in print a white rim keeps lines off them, on the page the style sheet does."""
        if self.palette == "page":
            return f'class="d-{_name(role)}"'
        weight = ' font-weight="700"' if look_of(role).bold else ""
        font = f'font-family="{PRINT_FONT}" font-size="{self.size:g}"{weight}'
        return f'{font} fill="#000" stroke="#fff" stroke-width="2.5" paint-order="stroke" stroke-linejoin="round"'

    def _stroke(self, role: str, *, dashed: bool = False) -> str:
        look = look_of(role)
        dash = look.dash or (DASHED if dashed else "")
        line = f'stroke="{PRINT[look.ink]}" stroke-width="{look.width * 0.7:g}" stroke-linejoin="round"'
        return f'{line} stroke-dasharray="{dash}"' if dash else line


def _name(role: str) -> str:
    return re.sub(r"[^a-z0-9-]+", "-", role.lower())

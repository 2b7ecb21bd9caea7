"""Hatchings: eight ways to fill an area with thin lines, so that kinds of parts differ without colour."""

HATCHES = {
    "hatch-1": (9, 9, 45, "M 0 4.5 H 9"),
    "hatch-2": (9, 9, -45, "M 0 4.5 H 9"),
    "hatch-3": (8, 8, 0, "M 0 4 H 8"),
    "hatch-4": (8, 8, 90, "M 0 4 H 8"),
    "hatch-5": (11, 11, 45, "M 0 5.5 H 11 M 5.5 0 V 11"),
    "hatch-6": (8, 8, 0, "M 3.5 4 H 4.5 M 4 3.5 V 4.5"),
    "hatch-7": (11, 11, 0, "M 0 5.5 H 11 M 5.5 0 V 11"),
    "hatch-8": (14, 14, 45, "M 0 5 H 14 M 0 8 H 14"),
}
"""Width and height of one tile, how far it is turned in degrees, and its lines."""


def pattern(hatch: str, name: str, looks: str) -> str:
    """The SVG pattern of a hatching, under the id `name`."""
    width, height, turn, lines = HATCHES[hatch]
    size = f'width="{width}" height="{height}" patternUnits="userSpaceOnUse" patternTransform="rotate({turn})"'
    return f'<pattern id="{name}" {size}><path d="{lines}" {looks}/></pattern>'


def hatch_of(kind: int) -> str:
    """The hatching of the n-th kind, from 0; after eight kinds they come again, and only the letter tells."""
    return f"hatch-{kind % len(HATCHES) + 1}"

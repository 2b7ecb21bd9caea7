"""At which fence angle a feature's check is to be run: in the form of the page, and as it is typed."""

from __future__ import annotations

from trued.equipment.fence_swing import plain_degrees
from trued.standing.feature import find_feature, named


def asked_with(feature: str) -> dict[str, str]:
    """What the form of a feature's check begins with: the angle and side that its name ends in, as facts of the run."""
    turned = named(feature).turned if find_feature(feature) is not None else None
    known = find_feature(feature)
    if turned is None or known is None or known.angles != "swing" or turned.degrees is None:
        return {}
    return {"angle": plain_degrees(turned.degrees)} | ({"swing": turned.swing} if turned.swing else {})


def at_angle(feature: str) -> str:
    """The same as options of the check's command: ` --angle 45 --swing closed`; "" where it asks for no angle."""
    return "".join(f" --{name} {text}" for name, text in asked_with(feature).items())

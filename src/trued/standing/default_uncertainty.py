"""What is taken for each error of a cut while this shop has not shown its own: common practice of the trade."""

from __future__ import annotations

from dataclasses import dataclass

from trued.measure.estimate import Source, Uncertain

MIL_MM = 0.0254  # a thousandth of an inch
ASSUMED_DOF = 10.0  # how well a size that is only common practice is known: to about a fifth of itself


@dataclass(frozen=True, slots=True)
class Prior:
    """An error nobody has measured here: its standard uncertainty in mm, rad or mm/mm, and where that comes from."""

    label: str
    u: float
    source: str


PRIORS: dict[str, Prior] = {
    "kerf": Prior("kerf", 4 * MIL_MM, "a kerf is the marked one to 0.010 in wider: common practice"),
    "stop-offset": Prior("stop scale", 15 * MIL_MM, "a scale zero set by eye is good to 1/64 in: common practice"),
    "stop-slope": Prior("stop scale", 3e-4, "a tape is true to 0.0003 in an inch: common practice"),
    "setting": Prior("setting the stop", 5 * MIL_MM, "the eye sets a line to about 0.010 in: common practice"),
    "stop-repeat": Prior("repeat of the stop", 3.4 * MIL_MM, "five parts within 0.008 in: common practice"),
    "fence-angle": Prior("fence angle", 4e-4, "a shop fixture is square to 0.005 in a foot: common practice"),
    "swing": Prior("swing of the bar", 1.2e-4, "a play of 0.004 in on a bar of 20 in: common practice"),
    "rip-offset": Prior("rip scale", 15 * MIL_MM, "a rip scale set by eye is good to 1/64 in: common practice"),
    "rip-setting": Prior("setting the rip fence", 5 * MIL_MM, "a fence locks again within 0.005 in: common practice"),
    "rip-repeat": Prior("repeat of a rip width", 2 * MIL_MM, "a good feed keeps a width to 0.005 in: common practice"),
}
"""By bare feature, or by the name of an error that is drawn anew."""

SCALE_STEP_MM = {"in": 25.4 / 64, "mm": 0.5}
"""What a scale can be set to where the shop does not say: 1/64 in, or half a millimetre. Common practice."""


def prior(name: str, value: float = 0.0) -> Uncertain:
    """`value` with the error that is assumed for it."""
    known = PRIORS[name]
    key = "stop scale, slope" if name == "stop-slope" else known.label
    return Uncertain.of(value, Source(f"assumed:{key}", known.label, known.u, ASSUMED_DOF))

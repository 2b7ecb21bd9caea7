"""What is taken for each error of a cut while this shop has not shown its own: common practice of the trade."""

from __future__ import annotations

from dataclasses import dataclass

from trued.measure.estimate import ErrorSource, UncertainValue

MIL_MM = 0.0254  # a thousandth of an inch
ASSUMED_DOF = 10.0  # how well a size that is only common practice is known: to about a fifth of itself


@dataclass(frozen=True, slots=True)
class TypeB:
    """An error nobody has measured here: its standard uncertainty in mm, rad or mm/mm, and where that comes from."""

    label: str
    u: float
    source: str


TYPE_B: dict[str, TypeB] = {
    "kerf": TypeB("kerf", 4 * MIL_MM, "a kerf is the marked one to 0.010 in wider: common practice"),
    "stop-offset": TypeB("stop scale", 15 * MIL_MM, "a scale zero set by eye is good to 1/64 in: common practice"),
    "stop-slope": TypeB("stop scale", 3e-4, "a tape is true to 0.0003 in an inch: common practice"),
    "setting": TypeB("setting the stop", 5 * MIL_MM, "the eye sets a line to about 0.010 in: common practice"),
    "stop-repeat": TypeB("stop repeatability", 3.4 * MIL_MM, "five parts within 0.008 in: common practice"),
    "fence-angle": TypeB("fence angle", 4e-4, "a shop fixture is square to 0.005 in a foot: common practice"),
    "swing": TypeB("bar swing", 1.2e-4, "a play of 0.004 in on a bar of 20 in: common practice"),
    "rip-offset": TypeB("rip scale", 15 * MIL_MM, "a rip scale set by eye is good to 1/64 in: common practice"),
    "rip-setting": TypeB(
        "rip setting repeatability", 5 * MIL_MM, "a fence locks again within 0.005 in: common practice"
    ),
    "rip-repeat": TypeB(
        "rip width repeatability", 2 * MIL_MM, "a good feed keeps a width to 0.005 in: common practice"
    ),
}
"""By bare feature, or by the name of an error that is drawn anew."""

SCALE_STEP_MM = {"in": 25.4 / 64, "mm": 0.5}
"""What a scale can be set to where the shop does not say: 1/64 in, or half a millimetre. Common practice."""


def prior(name: str, value: float = 0.0) -> UncertainValue:
    """`value` with the error that is assumed for it."""
    known = TYPE_B[name]
    key = "stop scale slope" if name == "stop-slope" else known.label
    return UncertainValue.of(value, ErrorSource(f"assumed:{key}", known.label, known.u, ASSUMED_DOF))

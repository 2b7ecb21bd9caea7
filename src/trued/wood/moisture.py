"""Equilibrium moisture content of wood: what a board tends to in air of a temperature and relative humidity.

Wood Handbook (FPL-GTR-282, 2021; FPL-GTR-190, 2010), equation 4-5:

    EMC = 1800/W · [ Kh/(1 − Kh) + (K1·Kh + 2·K1·K2·K²h²)/(1 + K1·Kh + K1·K2·K²h²) ]      (% of dry weight)

with h the relative humidity as a fraction and W, K, K1, K2 quadratics of the temperature.
Fahrenheit parameters: seen in two public copies of the Handbook's equation, which also give its Table 4-2 back.
Celsius parameters: from memory; they give Table 4-2 and the Fahrenheit form back (tests/wood/test_moisture.py).

The equation is far sharper than the knowledge behind it. The Handbook says of its own table that 0.1 % is not
meaningful: it was drawn up mainly for one species (Sitka spruce) and lies midway between wood that is wetting and
wood that is drying. Show `emc_range`, or whole per cent, never tenths.
"""

from dataclasses import dataclass
from math import isfinite

from trued.errors import Faults

# Where the equation has been held against published table cells, and no further.
TEMPERATURE_C = (-1.2, 54.5)
TEMPERATURE_F = (30.0, 130.0)
HUMIDITY_PERCENT = (5.0, 95.0)

# Wood that is wetting rests at about 0.85 of the moisture of wood that is drying (Wood Handbook ch. 4, from memory).
# The table lies midway: 1 ± (1 − 0.85)/(1 + 0.85) = 1 ± 0.081.
HYSTERESIS_SHARE = (1 - 0.85) / (1 + 0.85)

_Quadratic = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Parameters:
    w: _Quadratic
    k: _Quadratic
    k1: _Quadratic
    k2: _Quadratic


_FAHRENHEIT = _Parameters(
    w=(330.0, 0.452, 0.00415),
    k=(0.791, 0.000463, -0.000000844),
    k1=(6.34, 0.000775, -0.0000935),
    k2=(1.09, 0.0284, -0.0000904),
)
_CELSIUS = _Parameters(
    w=(349.0, 1.29, 0.0135),
    k=(0.805, 0.000736, -0.00000273),
    k1=(6.27, -0.00938, -0.000303),
    k2=(1.91, 0.0407, -0.000293),
)


@dataclass(frozen=True, slots=True)
class MoistureRange:
    """A moisture content known only as a range, in per cent of the dry weight (0 ≤ low ≤ high)."""

    low_percent: float
    high_percent: float

    def __post_init__(self) -> None:
        faults = Faults()
        for name in ("low_percent", "high_percent"):
            value = getattr(self, name)
            if not (isfinite(value) and 0 <= value <= 200):  # green sapwood can hold more water than wood
                faults.add("moisture", f"{value}", "A moisture content is between 0 and 200 % of the dry weight.")
        faults.raise_if_any()
        if self.low_percent > self.high_percent:
            read = f"{self.low_percent} to {self.high_percent}"
            faults.add("moisture", read, "Give the drier end of the range first.")
        faults.raise_if_any()

    def __str__(self) -> str:
        low, high = round(self.low_percent), round(self.high_percent)
        return f"about {low} %" if low == high else f"{low} to {high} %"


def emc_percent_c(temperature_c: float, humidity_percent: float) -> float:
    """Equilibrium moisture content in % of dry weight, from °C and % relative humidity.

    Refused outside −1.2…54.5 °C and 5…95 %. For further sums, not for show: see `emc_range`.
    """
    _refuse_outside(temperature_c, TEMPERATURE_C, "°C", humidity_percent)
    return _equation_4_5(temperature_c, humidity_percent / 100, _CELSIUS)


def emc_percent_f(temperature_f: float, humidity_percent: float) -> float:
    """Equilibrium moisture content in % of dry weight, from °F (30…130) and % relative humidity (5…95)."""
    _refuse_outside(temperature_f, TEMPERATURE_F, "°F", humidity_percent)
    return _equation_4_5(temperature_f, humidity_percent / 100, _FAHRENHEIT)


def emc_range(temperature_c: float, humidity_percent: tuple[float, float]) -> MoistureRange:
    """The moisture that boards may have in air between two humidities: the wetting end to the drying end.

    temperature_c: °C; humidity_percent: lowest and highest of the year, in %.
    """
    driest, dampest = sorted(humidity_percent)
    low = emc_percent_c(temperature_c, driest) * (1 - HYSTERESIS_SHARE)
    high = emc_percent_c(temperature_c, dampest) * (1 + HYSTERESIS_SHARE)
    return MoistureRange(low, high)


def _equation_4_5(temperature: float, h: float, p: _Parameters) -> float:
    w, k, k1, k2 = (a + b * temperature + c * temperature**2 for a, b, c in (p.w, p.k, p.k1, p.k2))
    kh = k * h
    dissolved = kh / (1 - kh)
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (dissolved + bound)


def _refuse_outside(temperature: float, allowed: tuple[float, float], unit: str, humidity_percent: float) -> None:
    faults = Faults()
    low, high = allowed
    if not low <= temperature <= high:  # also true of NaN
        text = f"The temperature must be between {low:g} and {high:g} {unit}; beyond it the table is not known here."
        faults.add("temperature", f"{temperature:g} {unit}", text)
    driest, dampest = HUMIDITY_PERCENT
    if not driest <= humidity_percent <= dampest:
        text = f"The relative humidity must be between {driest:g} and {dampest:g} %; measure it with a hygrometer."
        faults.add("humidity", f"{humidity_percent:g} %", text)
    faults.raise_if_any()

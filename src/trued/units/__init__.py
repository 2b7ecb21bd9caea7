"""Lengths, angles and the other readings: what people type, exact inside, and shown with one rounding."""

from trued.units.angle import read_angle, read_degrees, show_angle
from trued.units.length import MM_PER_INCH, Length, Unit, in_inches, in_mm
from trued.units.quantity import read_count, read_force, read_mass, read_percent, read_temperature, read_turns
from trued.units.reading import read_length
from trued.units.showing import Rounding, Shown, as_decimal, as_fraction, as_mm, show_length
from trued.units.tenths import from_tenths_nm, tenths_nm, tenths_nm_down, tenths_nm_up
from trued.units.thread import read_thread

__all__ = [
    "MM_PER_INCH",
    "Length",
    "Rounding",
    "Shown",
    "Unit",
    "as_decimal",
    "as_fraction",
    "as_mm",
    "from_tenths_nm",
    "in_inches",
    "in_mm",
    "read_angle",
    "read_count",
    "read_degrees",
    "read_force",
    "read_length",
    "read_mass",
    "read_percent",
    "read_temperature",
    "read_thread",
    "read_turns",
    "show_angle",
    "show_length",
    "tenths_nm",
    "tenths_nm_down",
    "tenths_nm_up",
]

"""Quantities as a report shows them."""

from __future__ import annotations

import math


def _trim(value: float, decimals: int) -> str:
    """The figure rounded to so many decimals, without idle zeros and without a minus before zero."""
    shown = f"{value:.{decimals}f}"
    if "." in shown:
        shown = shown.rstrip("0").rstrip(".")
    return "0" if shown in {"-0", ""} else shown


def show_length(mm: float) -> str:
    """A size: "2800 mm", "0.15 mm"; to 0.001 mm."""
    return f"{_trim(mm, 3)} mm"


def show_deflection(mm: float) -> str:
    """A deflection, gap or shift, always to 0.001 mm: "0.120 mm"."""
    return f"{round(mm, 3) + 0.0:.3f} mm"


def show_point(x: float, y: float) -> str:
    """A place in mm, whole: "x = −675 mm, y = 0 mm"."""
    return f"x = {_trim(x, 0)} mm, y = {_trim(y, 0)} mm".replace("-", "−")


def show_micrometres(mm: float) -> str:
    """A small movement given in mm, in µm to 0.1: "1.5 µm"."""
    return f"{_trim(mm * 1e3, 1)} µm"


def show_area(mm2: float) -> str:
    """An area in m²: "0.82 m²"."""
    return f"{_trim(mm2 / 1e6, 2)} m²"


def show_force(newton: float) -> str:
    """A force in N, kN or MN by its size: "437.5 kN", "12.5 MN"."""
    size = abs(newton)
    if size >= 1e6:
        return f"{_trim(newton / 1e6, 3)} MN"
    return f"{_trim(newton / 1e3, 1)} kN" if size >= 1e3 else f"{_trim(newton, 0)} N"


def show_mass(kg: float) -> str:
    """A mass in kg, from one tonne on in t: "850 kg", "12.4 t"."""
    return f"{_trim(kg / 1e3, 2)} t" if abs(kg) >= 1e3 else f"{_trim(kg, 1)} kg"


def show_stress(mpa: float) -> str:
    """A stress in MPa, from 10 GPa on in GPa: "120 MPa", "210 GPa"."""
    return f"{_trim(mpa / 1e3, 1)} GPa" if abs(mpa) >= 1e4 else f"{_trim(mpa, 1)} MPa"


def show_angle(rad: float) -> str:
    """An angle in degrees: "90 degree"."""
    return f"{_trim(math.degrees(rad), 3)} degree"


def show_slope(rad: float) -> str:
    """A slope or deflection per length in mm/m: "0.167 mm/m"."""
    return f"{_trim(rad * 1e3, 3)} mm/m"


def show_share(share: float) -> str:
    """A share in per cent: "12.5 %"."""
    return f"{_trim(share * 100, 2)} %"


def show_density(kg_per_mm3: float) -> str:
    """A density: "7850 kg/m³"."""
    return f"{_trim(kg_per_mm3 * 1e9, 0)} kg/m³"


def show_land_stiffness(n_per_mm3: float) -> str:
    """The bed's stiffness per area of land: "40 N/mm³"."""
    return f"{_trim(n_per_mm3, 2)} N/mm³"


def show_spring_stiffness(n_per_mm: float) -> str:
    """A spring's stiffness: "1500 kN/mm"."""
    return f"{_trim(n_per_mm / 1e3, 3)} kN/mm"

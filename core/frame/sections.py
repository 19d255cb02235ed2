"""The figures of a round steel tube by outside diameter and wall."""

from dataclasses import dataclass
from math import hypot, isfinite, pi

STEEL_KG_M3 = 7850.0
"""Density of steel, EN 1993-1-1, 3.2.6 (from memory)."""

_M3_PER_MM2_M = 1e-6


@dataclass(frozen=True, slots=True)
class TubeSection:
    """A round tube's cross-section.

    Attributes:
        outside: outside diameter, mm.
        wall: mm.
        area: mm2.
        mass_kg_per_m: kg/m.
        second_moment: I about any diameter, mm4.
        elastic_modulus: Wel, mm3.
        plastic_modulus: Wpl, mm3.
        torsion_constant: J, mm4.
        radius_of_gyration: i, mm.
    """

    outside: float
    wall: float
    area: float
    mass_kg_per_m: float
    second_moment: float
    elastic_modulus: float
    plastic_modulus: float
    torsion_constant: float
    radius_of_gyration: float


def round_tube(outside: float, wall: float, density_kg_m3: float = STEEL_KG_M3) -> TubeSection:
    """The figures of a round tube of nominal size; a thin wall at its tolerance has less.

    Args:
        outside: outside diameter, mm.
        wall: mm.
        density_kg_m3: kg/m3.

    Raises:
        ValueError: if a figure is not above zero, or twice the wall leaves no bore.

    Source:
        EN 10219-2, annex on circular hollow sections (from memory): A = pi/4 (D2 - d2),
        I = pi/64 (D4 - d4), J = 2 I, Wel = 2 I/D, Wpl = (D3 - d3)/6, i = sqrt(I/A).
    """
    if not (isfinite(outside + wall + density_kg_m3) and min(outside, wall, density_kg_m3) > 0.0):
        raise ValueError("a tube needs a diameter, a wall and a density above zero")
    bore = outside - 2.0 * wall
    if bore <= 0.0:
        raise ValueError(f"twice the wall of {wall:g} leaves no bore in {outside:g}")
    # Differences of powers as products: a thin wall keeps its digits.
    area = pi * (outside - wall) * wall
    second_moment = area * (outside**2 + bore**2) / 16.0
    return TubeSection(
        outside=outside,
        wall=wall,
        area=area,
        mass_kg_per_m=area * density_kg_m3 * _M3_PER_MM2_M,
        second_moment=second_moment,
        elastic_modulus=2.0 * second_moment / outside,
        plastic_modulus=2.0 * wall * (outside**2 + outside * bore + bore**2) / 6.0,
        torsion_constant=2.0 * second_moment,
        radius_of_gyration=hypot(outside, bore) / 4.0,
    )

"""Magnetisation (A/m) of an alnico magnet in a field (A/m): its demagnetisation curve along z, recoil across."""

from dataclasses import dataclass

import numpy as np

MU0 = 1.25663706212e-6


@dataclass(frozen=True)
class Alnico:
    remanence: float  # T
    coercivity: float  # A/m
    energy_product: float  # J/m3
    recoil: float  # relative permeability across, and along above the remanence

    def along(self, field, charge=1.0):
        """M and dM/dH along the easy axis; the curve goes on along its tangent below -Hc. charge shrinks B and H alike."""
        fullness = self.energy_product / (self.remanence * self.coercivity)
        a = (2 * np.sqrt(fullness) - 1) / fullness
        remanence, coercivity = charge * self.remanence, charge * self.coercivity
        h = -field / coercivity
        on_curve = np.clip(h, 0, 1)
        flux = remanence * (1 - on_curve) / (1 - a * on_curve)
        slope = remanence * (1 - a) / (1 - a * on_curve) ** 2 / coercivity
        slope = np.where(h < 0, MU0 * self.recoil, slope)
        flux = flux + slope * (field + coercivity * on_curve)
        return flux / MU0 - field, slope / MU0 - 1


# The grades' catalogue figures; the recoil permeabilities are those of the lone rods in ../finite-element/alnico-rod.json.
GRADES = {
    "alnico 5": Alnico(1.28, 50.9e3, 43.8e3, 3.0),
    "alnico 2": Alnico(0.75, 44.6e3, 13.5e3, 6.0),
}

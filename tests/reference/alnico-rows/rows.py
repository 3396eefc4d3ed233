"""Writes rows.json: rows of alnico rods. python3 rows.py [case ...]"""

import json
import sys
from pathlib import Path

import numpy as np

from alnico import GRADES
from cells import Rods

OUT = Path(__file__).with_name("rows.json")
SIZES = (12, 16, 24)  # cells across a rod
AXIS = (1, 2, 3, 4)  # mm above the tip
DIAMETER, LENGTH = 4.85, 17


def row(grade, pitch, charge=1.0, alternating=False):
    return {"grade": grade, "pitch": pitch, "charge": charge, "alternating": alternating}


CASES = {
    "lone_alnico5": row("alnico 5", None),
    "lone_alnico2": row("alnico 2", None),
    "alnico5_pitch_10.2": row("alnico 5", 10.2),
    "alnico2_pitch_10.2": row("alnico 2", 10.2),
    "alnico5_pitch_9.5": row("alnico 5", 9.5),
    "alnico2_pitch_9.5": row("alnico 2", 9.5),
    "alnico5_pitch_12": row("alnico 5", 12),
    "alnico2_pitch_12": row("alnico 2", 12),
    "alnico5_pitch_10.2_charge_0.7": row("alnico 5", 10.2, charge=0.7),
    "alnico5_pitch_10.2_alternating": row("alnico 5", 10.2, alternating=True),
}


def measure(case, across):
    """Field over every rod of one half (rods x heights) and the rods' mean B, T; north up."""
    pitch = case["pitch"]
    y = [0.0] if pitch is None else [pitch / 2, 1.5 * pitch, 2.5 * pitch]
    mirror = 0 if pitch is None else -1 if case["alternating"] else 1
    polarity = [(-1) ** i if case["alternating"] else 1 for i in range(len(y))]
    rods = Rods(GRADES[case["grade"]], DIAMETER, LENGTH, y, polarity, mirror, case["charge"], across)
    rods.solve()
    axis = [[rods.flux_density_at(0, place, z)[2] for z in AXIS] for place in y]
    return y, np.array(axis), rods.mean_flux_density().astype(float)


def extrapolate(values):
    """To cells of no size, by the parabola through three sizes; and how far the straight line of the finer two ends from it."""
    h = [1 / n for n in SIZES]
    weights = [np.prod([h[j] / (h[j] - h[i]) for j in range(3) if j != i]) for i in range(3)]
    limit = sum(w * v for w, v in zip(weights, values))
    line = (h[1] * values[2] - h[2] * values[1]) / (h[1] - h[2])
    return limit, float(np.max(np.abs(line / limit - 1)))


def main(names):
    for name in names:
        case = CASES[name]
        found = []
        for across in SIZES:
            y, axis, mean = measure(case, across)
            found.append((axis, mean))
            print(name, across, axis.round(5).tolist(), mean.round(4).tolist(), flush=True)
        axis, axis_change = extrapolate([a for a, _ in found])
        mean, mean_change = extrapolate([m for _, m in found])
        result = {
            **case,
            "y_mm": y,
            "axis_z_mm": AXIS,
            "axis_Bz_T": axis.round(6).tolist(),
            "mean_B_in_rods_T": mean.round(5).tolist(),
            "change_line_to_parabola": {"axis": round(axis_change, 5), "mean": round(mean_change, 5)},
            "by_cells_across": {
                str(n): {"axis_Bz_T": a.round(6).tolist(), "mean_B_in_rods_T": m.round(5).tolist()}
                for n, (a, m) in zip(SIZES, found)
            },
        }
        stored = json.loads(OUT.read_text()) if OUT.exists() else {"cases": {}}
        stored["cases"][name] = result
        OUT.write_text(json.dumps(stored, indent=1) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:] or CASES)

"""Writes singles.json: rows of six alnico rods of which some are unlike the others. python3 singles.py [case ...]

The cells, the curves and the extrapolation are those of ../alnico-rows; here every rod has its own grade, charge, polarity,
diameter and length, and no mirror is used. A shorter or thinner rod leaves cells of its grid empty.
"""

import json
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "alnico-rows"))
from alnico import GRADES  # noqa: E402
from cells import Rods, share_inside  # noqa: E402
from rows import AXIS, DIAMETER, LENGTH, SIZES, extrapolate  # noqa: E402

OUT = Path(__file__).with_name("singles.json")
PITCH = 10.2
Y = [(2.5 - k) * PITCH for k in range(6)]
ROD = {"grade": "alnico 5", "charge": 1.0, "up": 1, "diameter": DIAMETER, "length": LENGTH}

# By pole, from the treble end (largest y), from 0: what it has of its own.
CASES = {
    "inner_turned_over": {2: {"up": -1}},
    "outer_turned_over": {0: {"up": -1}},
    "two_grades": {1: {"grade": "alnico 2"}, 4: {"grade": "alnico 2", "charge": 0.7}},
    # Whole cells at every size: a cut layer would spoil the extrapolation.
    "shorter_thinner_turned": {0: {"length": LENGTH * 6 / 7}, 3: {"diameter": DIAMETER / 2, "up": -1}},
}


class UnlikeRods(Rods):
    """Rods in one row, each of its own kind."""

    def __init__(self, rods, across):
        super().__init__(None, DIAMETER, LENGTH, Y, [rod["up"] for rod in rods], 0, 1.0, across)
        self.rods = rods
        share = []
        for rod in rods:
            # The round outline of a thinner rod over the same grid, and no layers below a shorter one.
            disc = share_of_circle(rod["diameter"] / 2, DIAMETER / 2, across)
            low = -LENGTH + self.cell[2] * np.arange(self.grid[2])
            layer = np.clip((low + self.cell[2] + rod["length"]) / self.cell[2], 0, 1)
            share.append(disc[:, :, None] * layer)
        self.share = np.array(share, np.float32)[:, None]

    def law(self, field):
        parts = []
        for rod, h, share in zip(self.rods, field, self.share):
            material = GRADES[rod["grade"]]
            along, slope = material.along(rod["up"] * h[2], rod["charge"])
            across = material.recoil - 1
            m = np.stack((across * h[0], across * h[1], rod["up"] * along))
            parts.append((share * m, share * np.stack((np.full_like(slope, across),) * 2 + (slope,))))
        return tuple(np.array(part, np.float32) for part in zip(*parts))

    def solve(self, *arguments):
        self.field = np.zeros_like(self.applied)
        for rod, h in zip(self.rods, self.field):
            h[2] = -rod["charge"] * GRADES[rod["grade"]].coercivity * rod["up"]
        self.charge, self.material = 1.0, GRADES["alnico 5"]
        return super().solve(*arguments)


def share_of_circle(radius, half, count, lines=400):
    """As share_inside, of a circle smaller than the grid."""
    if radius == half:
        return share_inside(radius, count, lines)
    side = 2 * half / count
    x = -half + side / lines * (np.arange(count * lines) + 0.5)
    chord = np.sqrt(np.clip(radius**2 - x**2, 0, None))
    low = -half + side * np.arange(count)
    overlap = np.minimum(low + side, chord[:, None]) - np.maximum(low, -chord[:, None])
    return (np.clip(overlap, 0, None) / side).reshape(count, lines, count).mean(axis=1)


def measure(rods, across):
    row = UnlikeRods(rods, across).solve()
    return np.array([[row.flux_density_at(0, y, z)[2] for z in AXIS] for y in Y])


def main(names):
    for name in names:
        rods = [{**ROD, **CASES[name].get(k, {})} for k in range(6)]
        found = []
        for across in SIZES:
            found.append(measure(rods, across))
            print(name, across, found[-1].round(5).tolist(), flush=True)
        axis, change = extrapolate(found)
        stored = json.loads(OUT.read_text()) if OUT.exists() else {"cases": {}}
        stored["cases"][name] = {
            "rods": rods,
            "axis_z_mm": AXIS,
            "axis_Bz_T": axis.round(6).tolist(),
            "change_line_to_parabola": round(change, 5),
            "by_cells_across": {str(n): a.round(6).tolist() for n, a in zip(SIZES, found)},
        }
        OUT.write_text(json.dumps(stored, indent=1) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:] or CASES)

"""Parallel rods as cells of uniform magnetisation: H = H_applied - N M, M = M(H), by Newton's method. Lengths in mm.

Every rod has a grid of its own in its bounding box, so that rods may stand at any pitch; the grids are alike, hence every
pair of rods is one convolution. A cell that the round outline cuts carries its magnetisation times the share inside.
The row may be a mirror image of itself in y = 0; then the rods at y > 0 stand for all.
"""

import numpy as np
from scipy import fft

from alnico import MU0
from demagnetising import COMPONENTS, apply, cell_tensor, point_tensor

THREADS = 1


def share_inside(radius, count, lines=400):
    """Share of every cell of a count x count grid over the circle's bounding square that lies in the circle."""
    side = 2 * radius / count
    x = -radius + side / lines * (np.arange(count * lines) + 0.5)
    chord = np.sqrt(radius**2 - x**2)
    low = -radius + side * np.arange(count)
    overlap = np.minimum(low + side, chord[:, None]) - np.maximum(low, -chord[:, None])
    return (np.clip(overlap, 0, None) / side).reshape(count, lines, count).mean(axis=1)


class Rods:
    """Equal rods, z -length to 0, standing at x = 0 and the given y, magnetised along +z or -z.

    mirror: 1 or -1 if every rod at y has a fellow at -y of equal or opposite polarity, which is not listed; else 0.
    """

    def __init__(self, material, diameter, length, y, polarity=None, mirror=0, charge=1.0, across=16, applied=None):
        self.material, self.charge, self.mirror = material, charge, mirror
        self.y = np.asarray(y, float)
        self.polarity = np.asarray(np.ones(len(y)) if polarity is None else polarity, np.float32)
        side = diameter / across
        layers = round(length / side)
        self.cell = (side, side, length / layers)
        self.grid = (across, across, layers)
        self.centre = [(np.arange(n) + 0.5) * c for n, c in zip(self.grid, self.cell)]
        self.centre = [self.centre[0] - diameter / 2, self.centre[1] - diameter / 2, self.centre[2] - length]
        self.share = share_inside(diameter / 2, across)[:, :, None].astype(np.float32) * np.ones(layers, np.float32)
        self.padded = [fft.next_fast_len(2 * n, True) for n in self.grid]
        self.kernels = {}
        self.applied = np.zeros((len(y), 3, *self.grid), np.float32) if applied is None else applied
        self.field = None
        # Spectrum of an array reversed in y within its box: the spectrum at -ky times this phase.
        ky = np.arange(self.padded[1])
        self.phase = np.exp(-2j * np.pi * ky * (across - 1) / self.padded[1])[:, None].astype(np.complex64)

    def _kernel(self, distance):
        """Spectrum of the tensor between two rods, the target at y higher by distance."""
        key = round(distance, 6)
        if key not in self.kernels:
            offset = []
            for n, length, size in zip(self.grid, self.padded, self.cell):
                index = np.arange(length)
                offset.append(np.where(index < length - n + 1, index, index - length) * size)
            x, y, z = np.meshgrid(*offset, indexing="ij")
            tensor = cell_tensor(x, y + distance, z, self.cell)
            # Single precision: 1e-6 of the field, a thousandth of what the cells' size costs.
            self.kernels[key] = {
                name: fft.rfftn(tensor[name], workers=THREADS).astype(np.complex64) for name in COMPONENTS
            }
        return self.kernels[key]

    def demagnetise(self, m):
        """N m, m of shape (rods, 3, grid): magnetisation times share."""
        spectra = fft.rfftn(m, s=self.padded, axes=(2, 3, 4), workers=THREADS)
        sources = list(zip(self.y, spectra))
        if self.mirror:
            flipped = np.roll(spectra[:, :, :, ::-1], 1, axis=3) * self.phase * self.mirror
            flipped[:, 1] *= -1
            sources += list(zip(-self.y, flipped))
        result = np.empty_like(m)
        for target, y in enumerate(self.y):
            total = sum(apply(self._kernel(y - place), spectrum) for place, spectrum in sources)
            inverse = fft.irfftn(total, s=self.padded, axes=(1, 2, 3), workers=THREADS)
            result[target] = inverse[:, : self.grid[0], : self.grid[1], : self.grid[2]]
        return result

    def law(self, field):
        """Magnetisation times share, and its derivative, of cells in a field."""
        sign = self.polarity[:, None, None, None]
        along, slope = self.material.along(sign * field[:, 2], self.charge)
        across = self.material.recoil - 1
        m = np.stack((across * field[:, 0], across * field[:, 1], sign * along), axis=1)
        derivative = np.stack((np.full_like(slope, across), np.full_like(slope, across), slope), axis=1)
        return self.share * m, self.share * derivative

    def solve(self, tolerance=1e-5, report=None):
        """Newton's method for H, each step by conjugate gradients on the symmetric form 1 + S N S, S = sqrt(dM/dH).

        It starts where the curve is steepest, at -Hc: from there on the steps need no damping.
        """
        if self.field is None:
            self.field = np.zeros_like(self.applied)
            self.field[:, 2] = -self.charge * self.material.coercivity * self.polarity[:, None, None, None]
        scale = self.charge * self.material.coercivity * np.sqrt(self.field.size / 3)
        for step in range(30):
            m, derivative = self.law(self.field)
            rest = self.field - self.applied + self.demagnetise(m)
            size = np.linalg.norm(rest) / scale
            if report:
                report(f"  step {step}: residual {size:.1e}")
            if size < tolerance:
                return self
            root = np.sqrt(np.maximum(derivative, 0))
            # A cell's own factor is about 1/3: it preconditions.
            y = _conjugate_gradients(
                lambda v: v + root * self.demagnetise(root * v), -root * rest, 1 / (1 + root * root / 3), 1e-3
            )
            self.field = self.field - rest - self.demagnetise(root * y)
        raise RuntimeError(f"no convergence: residual {size}")

    def flux_density_at(self, x, y, z):
        """B (T) of the rods at a point outside of them."""
        m, _ = self.law(self.field)
        total = np.zeros(3)
        images = [(place, m[i], 1) for i, place in enumerate(self.y)]
        if self.mirror:
            images += [(-place, m[i], self.mirror) for i, place in enumerate(self.y)]
        for index, (place, magnetisation, sign) in enumerate(images):
            if index >= len(self.y):
                magnetisation = sign * magnetisation[:, :, ::-1] * np.array([1, -1, 1])[:, None, None, None]
            offset = np.meshgrid(x - self.centre[0], y - place - self.centre[1], z - self.centre[2], indexing="ij")
            total -= apply(point_tensor(*offset, self.cell), magnetisation).sum(axis=(1, 2, 3))
        return MU0 * total

    def mean_flux_density(self):
        """Mean axial B (T) of every listed rod."""
        m, _ = self.law(self.field)
        flux = self.share * self.field[:, 2] + m[:, 2]
        return MU0 * flux.sum(axis=(1, 2, 3)) / self.share.sum()


def _conjugate_gradients(operator, right, preconditioner, tolerance, limit=300):
    x = np.zeros_like(right)
    rest = right.copy()
    direction = preconditioner * rest
    energy = np.vdot(rest, direction)
    goal = tolerance * np.linalg.norm(right)
    for _ in range(limit):
        image = operator(direction)
        step = energy / np.vdot(direction, image)
        x += step * direction
        rest -= step * image
        if np.linalg.norm(rest) <= goal:
            break
        scaled = preconditioner * rest
        previous, energy = energy, np.vdot(rest, scaled)
        direction = scaled + energy / previous * direction
    return x

"""Demagnetising tensors of prisms (H = -N M) and the field of a magnetised prism at a point. Any one unit of length."""

import numpy as np

COMPONENTS = ("xx", "yy", "zz", "xy", "xz", "yz")
# Beyond this many cells the closed form cancels and the quadrature below is exact to 1e-6.
NEAR = 8


def _asinh_ratio(weight, numerator, squared):
    """weight * asinh(numerator / sqrt(squared)), with its limit 0 where the quotient is 0/0."""
    safe = np.where(squared > 0, squared, 1.0)
    return np.where(squared > 0, weight * np.arcsinh(numerator / np.sqrt(safe)), 0.0)


def _atan_ratio(weight, numerator, denominator):
    safe = np.where(denominator != 0, denominator, 1.0)
    return np.where(denominator != 0, weight * np.arctan(numerator / safe), 0.0)


def _newell_f(x, y, z):
    r = np.sqrt(x * x + y * y + z * z)
    return (
        _asinh_ratio(y / 2 * (z * z - x * x), y, x * x + z * z)
        + _asinh_ratio(z / 2 * (y * y - x * x), z, x * x + y * y)
        - _atan_ratio(x * y * z, y * z, x * r)
        + (2 * x * x - y * y - z * z) * r / 6
    )


def _newell_g(x, y, z):
    r = np.sqrt(x * x + y * y + z * z)
    return (
        _asinh_ratio(x * y * z, z, x * x + y * y)
        + _asinh_ratio(y / 6 * (3 * z * z - y * y), x, y * y + z * z)
        + _asinh_ratio(x / 6 * (3 * z * z - x * x), y, x * x + z * z)
        - _atan_ratio(z**3 / 6, x * y, z * r)
        - _atan_ratio(z * y * y / 2, x * z, y * r)
        - _atan_ratio(z * x * x / 2, y * z, x * r)
        - x * y * r / 3
    )


def _closed_form(x, y, z, cell):
    """Cell-to-cell tensor by A. J. Newell, W. Williams, D. J. Dunlop, J. Geophys. Res. 98, 9551 (1993)."""
    dx, dy, dz = cell
    permutations = {
        "xx": (_newell_f, (0, 1, 2)),
        "yy": (_newell_f, (1, 0, 2)),
        "zz": (_newell_f, (2, 1, 0)),
        "xy": (_newell_g, (0, 1, 2)),
        "xz": (_newell_g, (0, 2, 1)),
        "yz": (_newell_g, (1, 2, 0)),
    }
    tensor = {name: np.zeros_like(x) for name in COMPONENTS}
    second_difference = ((-1, -1.0), (0, 2.0), (1, -1.0))
    for i, wi in second_difference:
        for j, wj in second_difference:
            for k, wk in second_difference:
                corner = (x + i * dx, y + j * dy, z + k * dz)
                weight = wi * wj * wk / (4 * np.pi * dx * dy * dz)
                for name, (function, order) in permutations.items():
                    tensor[name] += weight * function(*(corner[axis] for axis in order))
    return tensor


def _dipole(x, y, z, volume):
    r2 = x * x + y * y + z * z
    scale = volume / (4 * np.pi * r2 * r2 * np.sqrt(r2))
    return {
        "xx": scale * (r2 - 3 * x * x),
        "yy": scale * (r2 - 3 * y * y),
        "zz": scale * (r2 - 3 * z * z),
        "xy": -3 * scale * x * y,
        "xz": -3 * scale * x * z,
        "yz": -3 * scale * y * z,
    }


def _quadrature(x, y, z, cell):
    """Dipole kernel averaged over both cells: their separation has a triangular density, integrated by three points an axis."""
    dx, dy, dz = cell
    node = np.sqrt(0.4)
    rule = ((-node, 5 / 24), (0.0, 7 / 12), (node, 5 / 24))
    tensor = {name: np.zeros_like(x) for name in COMPONENTS}
    for i, wi in rule:
        for j, wj in rule:
            for k, wk in rule:
                part = _dipole(x + i * dx, y + j * dy, z + k * dz, dx * dy * dz)
                for name in COMPONENTS:
                    tensor[name] += wi * wj * wk * part[name]
    return tensor


def cell_tensor(x, y, z, cell):
    """Mean over a cell of -H per M of an equal cell whose centre lies at minus (x, y, z); arrays of one shape."""
    near = (np.abs(x) < NEAR * cell[0]) & (np.abs(y) < NEAR * cell[1]) & (np.abs(z) < NEAR * cell[2])
    far = ~near
    tensor = {name: np.empty_like(x) for name in COMPONENTS}
    for mask, method in ((near, _closed_form), (far, _quadrature)):
        if mask.any():
            part = method(x[mask], y[mask], z[mask], cell)
            for name in COMPONENTS:
                tensor[name][mask] = part[name]
    return tensor


def point_tensor(x, y, z, size):
    """-H per M at a point of a prism whose centre lies at minus (x, y, z), at least 3 of its sizes away: 1e-5."""
    node = np.sqrt(0.6)
    rule = ((-node, 5 / 18), (0.0, 4 / 9), (node, 5 / 18))
    tensor = {name: 0.0 for name in COMPONENTS}
    for i, wi in rule:
        for j, wj in rule:
            for k, wk in rule:
                offsets = (x + i * size[0] / 2, y + j * size[1] / 2, z + k * size[2] / 2)
                part = _dipole(*offsets, size[0] * size[1] * size[2])
                for name in COMPONENTS:
                    tensor[name] = tensor[name] + wi * wj * wk * part[name]
    return tensor


def apply(tensor, m):
    """N m for m of shape (3, ...)."""
    return np.stack(
        (
            tensor["xx"] * m[0] + tensor["xy"] * m[1] + tensor["xz"] * m[2],
            tensor["xy"] * m[0] + tensor["yy"] * m[1] + tensor["yz"] * m[2],
            tensor["xz"] * m[0] + tensor["yz"] * m[1] + tensor["zz"] * m[2],
        )
    )

"""Compression at which a tensioned plate buckles into troughs, by Ritz' method, for ten random films.

Rectangular plate 0 <= x <= L, 0 <= y <= W, deflection w = 0 on all four edges, slopes free (simply supported). Tensile stress
along x, unknown compression s along y. Energies (bending with all of its terms, then tension, then compression):

    U = 1/2 int D ((w_xx + w_yy)^2 - 2 (1 - nu) (w_xx w_yy - w_xy^2)) + sigma_x h w_x^2,   V = s/2 int h w_y^2

Trial functions are products of Hermite cubics on even grids, so no wave is put in by hand; the least s of K w = s G w is the
answer. No formula for the buckling stress is used. First the method is held against the exact stress of a square plate
without tension under compression along y: 4 pi^2 D/(W^2 h).

Needs: apt-get install python3-scipy. Writes troughs.json.
"""

import json
from pathlib import Path

import numpy as np
from scipy.sparse import csr_matrix, kron, lil_matrix
from scipy.sparse.linalg import eigsh

SEED = 20090217
GAUSS, WEIGHT = np.polynomial.legendre.leggauss(5)


def hermite(length):
    """Values, slopes and curvatures of the four cubics at the Gauss points of an element."""
    t = (GAUSS + 1) / 2
    value = np.array([1 - 3 * t**2 + 2 * t**3, length * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, length * (t**3 - t**2)])
    slope = np.array([-6 * t + 6 * t**2, length * (1 - 4 * t + 3 * t**2), 6 * t - 6 * t**2, length * (3 * t**2 - 2 * t)]) / length
    bend = np.array([-6 + 12 * t, length * (-4 + 6 * t), 6 - 12 * t, length * (6 * t - 2)]) / length**2
    return value, slope, bend


def products(extent, elements):
    """Integrals of products of trial functions and derivatives: {(i, j): matrix}, the ends held at 0."""
    length = extent / elements
    parts = hermite(length)
    size = 2 * (elements + 1)
    kept = [k for k in range(size) if k not in (0, size - 2)]
    out = {}
    for i in range(3):
        for j in range(3):
            local = (parts[i] * (WEIGHT * length / 2)) @ parts[j].T
            whole = lil_matrix((size, size))
            for e in range(elements):
                at = slice(2 * e, 2 * e + 4)
                whole[at, at] += local
            out[i, j] = csr_matrix(whole)[kept][:, kept]
    return out


def least_compression(h, length, width, modulus, nu, stress, along, across):
    """Pa, and half waves across."""
    d = modulus * h**3 / 12 / (1 - nu**2)
    x, y = products(length, along), products(width, across)
    bending = kron(x[2, 2], y[0, 0]) + kron(x[0, 0], y[2, 2])
    bending += nu * (kron(x[2, 0], y[0, 2]) + kron(x[0, 2], y[2, 0])) + 2 * (1 - nu) * kron(x[1, 1], y[1, 1])
    stiffness = d * bending + stress * h * kron(x[1, 1], y[0, 0])
    load = h * kron(x[0, 0], y[1, 1])
    values, vectors = eigsh(stiffness.tocsc(), k=4, M=load.tocsc(), sigma=0, which="LM")
    first = np.argmin(values)
    # deflection at the nodes of the middle line in x (a node of an even grid): count the changes of sign
    field = vectors[:, first].reshape(x[0, 0].shape[0], y[0, 0].shape[0])
    middle = field[along - 1]
    deflections = middle[1:-1:2]
    signs = np.sign(deflections[np.abs(deflections) > 1e-3 * np.abs(deflections).max()])
    return float(values[first]), int(np.count_nonzero(np.diff(signs))) + 1


def random_film(draw):
    modulus = float(np.exp(draw.uniform(np.log(0.2e9), np.log(70e9))))
    return {
        "thickness": float(draw.uniform(12e-6, 125e-6)),
        "length": float(draw.uniform(0.2, 2)),
        "width": float(draw.uniform(0.8, 1.6)),
        "modulus": modulus,
        "poisson": float(draw.uniform(0.3, 0.45)),
        "stress": modulus * float(draw.uniform(2e-4, 3e-3)),
    }


def main():
    square, _ = least_compression(1e-3, 1, 1, 1e9, 0.3, 0, 8, 8)
    exact = 4 * np.pi**2 * (1e9 * 1e-9 / 12 / 0.91) / 1e-3
    assert abs(square / exact - 1) < 1e-4, (square, exact)
    draw = np.random.default_rng(SEED)
    films = []
    for _ in range(10):
        film = random_film(draw)
        size = [film[key] for key in ("thickness", "length", "width", "modulus", "poisson", "stress")]
        coarse, half_waves = least_compression(*size, along=6, across=150)
        fine, _ = least_compression(*size, along=8, across=260)
        assert abs(coarse / fine - 1) < 2e-3, (coarse, fine)
        films.append({**film, "compression": fine, "halfWaves": half_waves, "gridError": abs(coarse / fine - 1)})
        print(f"{fine:12.2f} Pa, {half_waves} half waves, grids differ by {abs(coarse / fine - 1):.1e}", flush=True)
    out = {"about": "Ritz with Hermite cubics, see troughs.py; SI", "squarePlateError": float(square / exact - 1), "films": films}
    Path(__file__).with_suffix(".json").write_text(json.dumps(out, indent=2) + "\n")


main()

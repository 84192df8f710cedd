#!/usr/bin/python3
"""Reference numbers for the smoothing spline, by scipy.interpolate.make_smoothing_spline.

It solves the same problem, min sum w (y - f)^2 + lam * int f''^2, by another road (natural B-splines
and a banded solver of its own). lam=None asks for its generalised cross-validation. The data are made
here, with numpy's PCG64 generator, and stored beside the answers, so that the test needs no Python.

    /usr/bin/python3 scipy_splines.py > scipy_splines.json
"""
import json
from fractions import Fraction as F
import numpy as np
import scipy
from scipy.interpolate import make_smoothing_spline



def exact(x, y, lam):
    """Values at the stations of the same spline in exact rational arithmetic: Reinsch's form,
    f = y - lam Q g, (R + lam Q'Q) g = Q'y. Used where lam is so large that floating point matters."""
    n, m = len(x), len(x) - 2
    X, Y, L = [F(v) for v in x], [F(v) for v in y], F(lam)
    h = [X[i + 1] - X[i] for i in range(n - 1)]
    q = [(1 / h[j], -1 / h[j] - 1 / h[j + 1], 1 / h[j + 1]) for j in range(m)]  # rows j, j+1, j+2 of column j
    a = [[F(0)] * m for _ in range(m)]
    for j in range(m):
        a[j][j] += (h[j] + h[j + 1]) / 3
        if j + 1 < m:
            a[j][j + 1] += h[j + 1] / 6
            a[j + 1][j] += h[j + 1] / 6
        for i in range(max(0, j - 2), min(m, j + 3)):
            a[j][i] += L * sum(q[j][k - j] * q[i][k - i] for k in range(max(i, j), min(i, j) + 3))
    b = [sum(q[j][k] * Y[j + k] for k in range(3)) for j in range(m)]
    for i in range(m):
        for r in range(i + 1, min(m, i + 3)):
            f = a[r][i] / a[i][i]
            for c in range(i, min(m, i + 3)):
                a[r][c] -= f * a[i][c]
            b[r] -= f * b[i]
    g = [F(0)] * m
    for i in range(m - 1, -1, -1):
        g[i] = (b[i] - sum(a[i][c] * g[c] for c in range(i + 1, min(m, i + 3)))) / a[i][i]
    return [float(Y[k] - L * sum(q[j][k - j] * g[j] for j in range(max(0, k - 2), min(m, k + 1)))) for k in range(n)]


rng = np.random.default_rng(20)
cases = []
for name, n, even, noise, lam, weighted in [
    ("even stations, given stiffness", 40, True, 0.5, 2.0e5, False),
    ("uneven stations, weighted", 60, False, 0.8, 4.0e4, True),
    ("nearly through the readings", 50, False, 0.8, 1.0, True),
    ("cross-validated", 120, True, 0.5, None, False),
    ("cross-validated, uneven", 90, False, 1.0, None, False),
]:
    x = np.linspace(0, 3000, n) if even else np.sort(rng.uniform(0, 3000, n))
    y = 300 + 120 * np.sin(x / 500) + x * x / 5e4 + noise * rng.normal(size=n)
    w = rng.uniform(0.2, 3, n) if weighted else np.ones(n)
    # Its own search for lam goes from 0 to n, which at stations in mm ends far too low: give it stations
    # in units of 200 mm. The curve is the same.
    unit = 200.0 if lam is None else 1.0
    f = make_smoothing_spline(x / unit, y, w=w, lam=lam)
    at = np.linspace(x[0], x[-1], 25)
    cases.append(dict(name=name, x=x.tolist(), y=y.tolist(), w=w.tolist(), stiffness=lam or 0,
                      at=at.tolist(), value=f(at / unit).tolist(), slope=(f.derivative()(at / unit) / unit).tolist()))
x = np.sort(rng.uniform(0, 3000, 30))
y = 300 + 120 * np.sin(x / 500) + x * x / 5e4
stiff = dict(x=x.tolist(), y=y.tolist(), stiffness=1e11, value=exact(x, y, 1e11))
print(json.dumps(dict(exact=stiff, source="scipy %s, make_smoothing_spline" % scipy.__version__, cases=cases), indent=0))

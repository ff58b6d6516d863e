"""Each value of a series beside what all the others expect of it: deleted residuals about a polynomial."""

from __future__ import annotations

import numpy as np

from waywright.evaluate.arrays import FloatArray


def deleted(x: FloatArray, y: FloatArray, degree: int, least: float) -> tuple[FloatArray, FloatArray]:
    """What all other stations expect at each station (n,), and the standard error of its difference from that (n,)."""
    place = (x - x.mean()) / max(float(np.ptp(x)), 1e-12)
    basis = np.linalg.qr(np.vander(place, degree + 1))[0]
    residual, left = y - basis @ (basis.T @ y), 1.0 - (basis**2).sum(axis=1).clip(max=1.0 - 1e-9)
    squares = float(residual @ residual) - residual**2 / left
    variance = (squares / (y.size - degree - 2)).clip(min=least)
    return y - residual / left, np.sqrt(variance / left)

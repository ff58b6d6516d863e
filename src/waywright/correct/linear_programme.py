"""A linear or mixed-integer programme that is solved, changed a little and solved again from where it stood.

HiGHS (Q. Huangfu and J. A. J. Hall, Mathematical Programming Computation 10 (2018) 119) by its own interface: rows
and columns are added to the model that it holds, and the dual simplex goes on from the last basis. One thread and no
clock in the simplex: the same question has the same answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.errors import BadInput

_DANTZIG, _DUAL_SIMPLEX = 0, 1


@dataclass(frozen=True, slots=True)
class Branched:
    """What branch and bound found in its time: the best values (None if none), and the proven lower bound."""

    x: FloatArray | None
    bound: float


class Programme:
    """Minimise ``cost x`` with ``matrix x <= right`` and ``bounds`` (variables, 2); all finite numbers or inf."""

    def __init__(self, cost: FloatArray, matrix: FloatArray, right: FloatArray, bounds: FloatArray) -> None:
        self._highs = _quiet()
        for name, value in (("output_flag", False), ("threads", 1), ("presolve", "off"), ("solver", "simplex")):
            self._highs.setOptionValue(name, value)
        self._highs.setOptionValue("simplex_strategy", _DUAL_SIMPLEX)
        self._highs.setOptionValue("simplex_dual_edge_weight_strategy", _DANTZIG)  # few pivots: weights do not pay
        nothing = np.zeros(0, dtype=np.int32)
        self._highs.addCols(cost.size, cost, bounds[:, 0], bounds[:, 1], 0, nothing, nothing, np.zeros(0))
        self.add_rows(matrix, right)

    def add_rows(self, matrix: FloatArray, right: FloatArray) -> None:
        """More rows ``matrix x <= right``."""
        starts, index, value = _compressed(matrix)
        self._highs.addRows(right.size, np.full(right.size, -np.inf), right, value.size, starts, index, value)

    def add_columns(self, cost: FloatArray, matrix: FloatArray, bounds: FloatArray) -> None:
        """More variables, with their columns (rows so far, new) of the matrix."""
        starts, index, value = _compressed(matrix.T)
        self._highs.addCols(cost.size, cost, bounds[:, 0], bounds[:, 1], value.size, starts, index, value)

    def charge(self, columns: npt.NDArray[np.int32], cost: FloatArray) -> None:
        """New costs of some variables."""
        self._highs.changeColsCost(columns.size, columns, cost)

    def bound(self, columns: npt.NDArray[np.int32], bounds: FloatArray) -> None:
        """New bounds (columns, 2) of some variables."""
        self._highs.changeColsBounds(columns.size, columns, bounds[:, 0].copy(), bounds[:, 1].copy())

    def solved(self) -> FloatArray:
        """The values at the optimum. Raises BadInput if nothing satisfies all rows."""
        import highspy

        self._highs.run()
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            # the quick way may give up over the numbers, not over the question: once more from nothing, with presolve
            self._highs.clearSolver()
            self._highs.setOptionValue("presolve", "on")
            self._highs.run()
            self._highs.setOptionValue("presolve", "off")
        if self._highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise BadInput("correct.no_plan")
        return np.array(self._highs.getSolution().col_value)

    def branched(self, whole: BoolArray, time_s: float, gap: float) -> Branched:
        """Branch and bound with some variables (bool, one each) in whole numbers, for a time at most."""
        import highspy

        columns = np.flatnonzero(whole).astype(np.int32)
        kind = np.full(columns.size, highspy.HighsVarType.kInteger.value, dtype=np.uint8)
        self._highs.changeColsIntegrality(columns.size, columns, kind)
        for name, value in (("presolve", "on"), ("solver", "choose"), ("time_limit", time_s), ("mip_rel_gap", gap)):
            self._highs.setOptionValue(name, value)
        self._highs.run()
        info = self._highs.getInfo()
        found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
        bound = float(info.mip_dual_bound)
        return Branched(np.array(self._highs.getSolution().col_value) if found else None, bound)


def _quiet() -> Any:
    """A solver without the callbacks of the Python class, which print a heading when they are set up."""
    import highspy

    class Quiet(highspy.Highs):
        def __init__(self) -> None:
            super(highspy.Highs, self).__init__()

    return Quiet()


def _compressed(matrix: FloatArray) -> tuple[npt.NDArray[np.int32], npt.NDArray[np.int32], FloatArray]:
    """Starts, column numbers and values, row by row."""
    filled = matrix != 0.0
    starts = np.zeros(matrix.shape[0], dtype=np.int32)
    np.cumsum(np.count_nonzero(filled, axis=1)[:-1], out=starts[1:])
    return starts, np.nonzero(filled)[1].astype(np.int32), matrix[filled]

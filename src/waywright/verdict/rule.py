"""A tolerance rule: made from a text by :func:`tolerance`, asked for a limit or checked against a result."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from waywright.errors import BadInput
from waywright.verdict.rule_check import RuleCheck, Sight, check_part
from waywright.verdict.rule_parser import parse
from waywright.verdict.rule_records import Limit, Part


@dataclass(frozen=True, slots=True)
class Rule:
    """One or several limits joined by "and"; ``str`` gives the normal form, which parses to an equal rule."""

    parts: tuple[Part, ...]

    def limit_um(self, length_mm: float) -> float:
        """The limit over ``length_mm``; of several the smallest.

        Raises BadInput where a part has no single limit (local and one-sided parts need the curve), where the last
        step is shorter than the length, and for a length that is not positive and finite.
        """
        if not (math.isfinite(length_mm) and length_mm > 0.0):
            raise BadInput("verdict.bad_length", length_mm=length_mm)
        return min(self._single(part).limit_um(length_mm) for part in self.parts)

    def check(
        self,
        result: Any,
        *,
        positive: str | tuple[str, ...] = (),
        ahead: str | tuple[str, ...] = (),
        behind: str | tuple[str, ...] = (),
        length_mm: float | None = None,
    ) -> RuleCheck:
        """Check a result of the evaluation, part by part; a part that cannot be judged says why.

        ``result`` is a curve (``position_mm``, ``deviation_um``, ``value_um``, ``line``), one value (``value_um`` or
        ``diameter_um``, or a number in um) or an angle (``angle_um_per_m`` or ``total_um_per_m``); values of shape
        (draws,) are checked draw by draw. ``positive`` names where positive deviations point ("up", "towards the
        operator"), ``ahead`` what lies where positions grow ("the right", "the tailstock") and ``behind`` what lies at
        the other end; one-sided parts need them. ``length_mm`` is the measured length where the result has none.
        """
        sight = Sight.of(positive, ahead, behind)
        return RuleCheck(str(self), tuple(check_part(part, result, sight, length_mm) for part in self.parts))

    @staticmethod
    def _single(part: Part) -> Limit:
        if not isinstance(part, Limit) or part.window_mm is not None:
            raise BadInput("verdict.no_single_limit", part=str(part))
        return part

    def __str__(self) -> str:
        return " and ".join(str(part) for part in self.parts)


def tolerance(text: str) -> Rule:
    """The rule a text states, for example ``0.02 up to 1000, +0.01 per further 1000 or part, max 0.05``.

    Raises BadInput with the exact place of a mistake.
    """
    return Rule(parse(text))

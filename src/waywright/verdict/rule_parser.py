"""Tolerance rules made of trade phrases: text in, records out, with the exact place of a mistake.

    rule    = part { ("and" | ";") part }
    part    = limit | sided
    limit   = amount [("over any" | "over any [measuring] length of") length] { "," clause }
    amount  = number [unit] | number [unit] ("/" | "per") length | number "up to" length
    clause  = number "up to" length | "+" number "per further" length ["or part"]
            | "class factor" number | "to the nearest" number | "at least" number | "max" number | sided
    sided   = ("convex" | "concave") ["only"] | ("rising" | "falling") "towards" place
            | "leaning" direction

Numbers are in mm unless a unit follows; the decimal sign is a point. Docs: reference/tolerance-rules.md.
"""

from __future__ import annotations

from dataclasses import replace

from waywright.errors import BadInput
from waywright.quantities import Kind, unit
from waywright.verdict.rule_records import (
    Angle,
    Base,
    Fixed,
    Further,
    Lean,
    Limit,
    Part,
    Ratio,
    Shape,
    Slope,
    Step,
    Steps,
    Trim,
)
from waywright.verdict.rule_words import Token, syntax_error, tokens

_LENGTH_UNITS = {"mm": "mm", "um": "um", "in": "inch", "inch": "inch", "m": "m", "micron": "um", "microns": "um"}
_ANGLE_UNITS = ("arcsec", "um/m", "urad", "mm/m", "mrad", "deg")
_TRIMS = {
    "class": ("class_factor", ("class", "factor")),
    "to": ("nearest_mm", ("to", "the", "nearest")),
    "at": ("at_least_mm", ("at", "least")),
    "max": ("max_mm", ("max",)),
}
_SIDED = ("convex", "concave", "rising", "falling", "leaning")
_SMALLEST_MM, _LARGEST_MM = 1e-7, 1e7
_CLAUSES = ("up to", "+", *(" ".join(words) for _, words in _TRIMS.values()), *_SIDED)


class _Parser:
    def __init__(self, rule: str) -> None:
        self.rule = rule
        self.tokens = tokens(rule)
        self.at = 0

    @property
    def next(self) -> Token:
        return self.tokens[self.at]

    def take(self) -> Token:
        token = self.next
        self.at += token.kind != "end"
        return token

    def accept(self, *words: str) -> bool:
        """Take these words if they stand here, all of them; otherwise nothing."""
        ahead = self.tokens[self.at : self.at + len(words)]
        if tuple(token.text for token in ahead) != words:
            return False
        self.at += len(words)
        return True

    def expect(self, *words: str) -> None:
        for word in words:
            if not self.accept(word):
                raise self.error(" ".join(words))

    def error(self, *expected: str) -> BadInput:
        return syntax_error(self.rule, self.next.position, *expected)

    def out_of_range(self, key: str, token: Token, **facts: object) -> BadInput:
        marker = " " * (token.position - 1) + "^"
        return BadInput(key, rule=self.rule, position=token.position, marker=marker, **facts)

    # Numbers

    def number(self) -> tuple[float, Token]:
        if self.next.kind != "number":
            raise self.error("number")
        token = self.take()
        value = float(token.text)
        if not _SMALLEST_MM <= value <= _LARGEST_MM:
            raise self.out_of_range("verdict.rule_number", token, smallest=_SMALLEST_MM, largest=_LARGEST_MM)
        return value, token

    def length(self) -> float:
        """A number in mm, or with a unit of length after it."""
        value, token = self.number()
        return self._in_mm(value, token)

    def _in_mm(self, value: float, token: Token) -> float:
        name = _LENGTH_UNITS.get(self.next.text)
        if name is None:
            return value
        self.take()
        value = unit(Kind.POSITION, name).inside(value)
        if not _SMALLEST_MM <= value <= _LARGEST_MM:
            raise self.out_of_range("verdict.rule_number", token, smallest=_SMALLEST_MM, largest=_LARGEST_MM)
        return value

    # Parts

    def parts(self) -> tuple[Part, ...]:
        found = list(self.part())
        while self.accept("and") or self.accept(";"):
            found += self.part()
        if self.next.kind != "end":
            raise self.error("and", ", and a clause", "end of the rule")
        return tuple(found)

    def part(self) -> list[Part]:
        if self.next.text in _SIDED:
            return [self.sided()]
        if self.next.kind != "number":
            raise self.error("number", *_SIDED)
        return self.limit()

    def sided(self) -> Part:
        word = self.take().text
        if word in ("convex", "concave"):
            self.accept("only")
            return Shape(convex=word == "convex")
        if word == "leaning":
            return Lean(self.place("up", "down", "towards"))
        self.expect("towards")
        return Slope(rising=word == "rising", place=self.place("the tool", "the operator", "another place"))

    def place(self, *expected: str) -> str:
        """The words up to the next clause or part: a name that the check is told about."""
        words: list[str] = []
        while self.next.kind == "word" and self.next.text not in ("and", "only"):
            words.append(self.take().text)
        if not words:
            raise self.error(*expected)
        self.accept("only")
        return " ".join(words)

    def limit(self) -> list[Part]:
        begins = self.next
        base = self.amount()
        window: float | None = None
        if self.accept("over"):
            if isinstance(base, Steps):
                raise self.error(*_CLAUSES)
            window = self.window()
        limit, sided = Limit(base, window), list[Part]()
        while self.accept(","):
            if self.next.text in _SIDED:
                sided.append(self.sided())
                continue
            limit = self.clause(limit)
        self._check_trim(limit.trim, begins)
        return [limit, *sided]

    def window(self) -> float:
        self.expect("any")
        self.accept("measuring")
        if self.accept("length"):
            self.expect("of")
        return self.length()

    def amount(self) -> Base:
        value, token = self.number()
        if self.next.text in _ANGLE_UNITS:
            return Angle(value, self.take().text)
        limit = self._in_mm(value, token)
        if self.accept("/") or self.accept("per"):
            return Ratio(limit, self.length())
        if self.accept("up", "to"):
            return Steps((Step(limit, self.length()),))
        return Fixed(limit)

    # Clauses

    def clause(self, limit: Limit) -> Limit:
        if self.next.text in _TRIMS:
            return replace(limit, trim=self.trimmed(limit.trim))
        if not isinstance(limit.base, Steps) or limit.base.further is not None:
            raise self.error(*_CLAUSES[2:])
        if self.accept("+"):
            return replace(limit, base=replace(limit.base, further=self.further()))
        if self.next.kind == "number":
            return replace(limit, base=self.step_after(limit.base))
        raise self.error("number", *_CLAUSES[1:])

    def step_after(self, base: Steps) -> Steps:
        begins = self.next
        value = self.length()
        self.expect("up", "to")
        to = self.next
        step, last = Step(value, self.length()), base.steps[-1]
        if step.up_to_mm <= last.up_to_mm:
            raise self.out_of_range("verdict.rule_steps_descend", to, more_than=last.up_to_mm)
        if step.limit_mm < last.limit_mm:
            raise self.out_of_range("verdict.rule_steps_descend", begins, more_than=last.limit_mm)
        return replace(base, steps=(*base.steps, step))

    def further(self) -> Further:
        add = self.length()
        self.expect("per")
        self.expect("further")
        per = self.length()
        bracket = self.accept("(")
        or_part = self.accept("or", "part")
        if bracket:
            if not or_part:
                raise self.error("or part")
            self.expect(")")
        return Further(add, per, or_part)

    def trimmed(self, trim: Trim) -> Trim:
        field, words = _TRIMS[self.next.text]
        begins = self.next
        self.expect(*words)
        if getattr(trim, field) is not None:
            raise self.out_of_range("verdict.rule_twice", begins, phrase=" ".join(words))
        value = self.number()[0] if field == "class_factor" else self.length()
        changed: Trim = replace(trim, **{field: value})
        return changed

    def _check_trim(self, trim: Trim, begins: Token) -> None:
        if trim.at_least_mm is not None and trim.max_mm is not None and trim.at_least_mm > trim.max_mm:
            raise self.out_of_range(
                "verdict.rule_floor_above_max", begins, at_least_mm=trim.at_least_mm, max_mm=trim.max_mm
            )


def parse(rule: str) -> tuple[Part, ...]:
    """The parts of a rule. Raises BadInput with ``position`` (from 1), ``found`` and ``expected``."""
    return _Parser(rule).parts()

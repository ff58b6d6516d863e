"""Pairing a phone: a code that works once, for a short time, with few tries. Pairings live as long as the server."""

from __future__ import annotations

import hashlib
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, replace

CODE_DIGITS = 6
CODE_LASTS_S = 180.0
TRIES = 5
WAIT_S = 60.0
ROLES = ("look", "take")


@dataclass(frozen=True, slots=True)
class Pairing:
    """A paired phone. ``role`` is "look" or "take" (it may take readings); ``seen_s`` on the monotonic clock."""

    number: int
    role: str
    name: str
    token_sha256: str
    seen_s: float


@dataclass(frozen=True, slots=True)
class Code:
    """A code on the laptop's screen; used up, expired or tried too often it is worth nothing."""

    digits: str
    role: str
    ends_s: float
    tries: int = 0


class Pairings:
    """Codes and pairings. ``now_s`` is a monotonic clock."""

    def __init__(self, now_s: Callable[[], float] = time.monotonic) -> None:
        self._now_s = now_s
        self._code: Code | None = None
        self._waits_until_s = 0.0
        self._paired: dict[str, Pairing] = {}
        self._count = 0

    @property
    def all(self) -> tuple[Pairing, ...]:
        """Every pairing, in the order made."""
        return tuple(sorted(self._paired.values(), key=lambda pairing: pairing.number))

    def offer(self, role: str) -> Code:
        """A new code for a role; an earlier one is worth nothing any more."""
        if role not in ROLES:
            raise ValueError(role)
        digits = f"{secrets.randbelow(10**CODE_DIGITS):0{CODE_DIGITS}d}"
        self._code = Code(digits, role, self._now_s() + CODE_LASTS_S)
        return self._code

    def seconds_to_wait(self) -> float:
        """How long nobody may try after too many wrong codes."""
        return max(0.0, self._waits_until_s - self._now_s())

    def redeem(self, digits: str, name: str) -> str | None:
        """The token for a right code, once; None for a wrong, used or expired one, and while everybody waits."""
        code = self._code
        if self.seconds_to_wait() > 0 or code is None or self._now_s() > code.ends_s:
            return None
        if not secrets.compare_digest(digits.encode(), code.digits.encode()):
            self._wrong(code)
            return None
        self._code = None
        self._count += 1
        token = secrets.token_urlsafe(32)
        key = _digest(token)
        self._paired[key] = Pairing(self._count, code.role, name[:60], key, self._now_s())
        return token

    def role_of(self, token: str | None) -> str | None:
        """The role of a token, None for one that is not paired (any more)."""
        found = self._paired.get(_digest(token)) if token else None
        if found is None:
            return None
        self._paired[found.token_sha256] = replace(found, seen_s=self._now_s())
        return found.role

    def revoke(self, number: int) -> None:
        """End a pairing."""
        self._paired = {key: pairing for key, pairing in self._paired.items() if pairing.number != number}

    def seen_before_s(self, pairing: Pairing) -> float:
        """How long ago a phone was heard."""
        return self._now_s() - pairing.seen_s

    def _wrong(self, code: Code) -> None:
        tried = replace(code, tries=code.tries + 1)
        self._code = tried if tried.tries < TRIES else None
        if self._code is None:
            self._waits_until_s = self._now_s() + WAIT_S


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()

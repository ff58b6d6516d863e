"""Chunks of bytes to lines, with a bound on what is kept."""

from __future__ import annotations

LONGEST_LINE = 4096


class LineSplitter:
    """Cuts chunks at LF, CR or both. Keeps at most one unfinished line of ``LONGEST_LINE`` bytes.

    What comes before the first line end is not a whole line for certain (a link is often joined in the middle of one,
    and half a number is still a number): it is dropped. ``partial`` counts such pieces, ``overlong`` lines too long.
    """

    def __init__(self) -> None:
        self.partial = 0
        self.overlong = 0
        self._rest = b""
        # The beginning of the unfinished line is missing: the link was joined there, or it grew too long.
        self._headless = True
        self._head: str | None = None

    def take_head(self) -> str | None:
        """The piece that was last dropped because its beginning may be missing, once."""
        head, self._head = self._head, None
        return head

    def restart(self) -> None:
        """The link was opened anew: an unfinished line will never be finished."""
        self.partial += bool(self._rest) and not self._headless
        self._rest, self._headless = b"", True

    def lines(self, chunk: bytes) -> list[str]:
        """Whole lines, without their ends, empty ones left out."""
        data = self._rest + chunk
        end = max(data.rfind(b"\n"), data.rfind(b"\r")) + 1
        # Replaced bytes match no digit; decoding never fails.
        text = data[:end].decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n")
        pieces = text.split("\n") if end else []
        if pieces and self._headless:
            self.partial += bool(pieces[0])
            self._head = pieces[0] or None
            pieces, self._headless = pieces[1:], False
        self._keep(data[end:])
        return self._bounded([piece for piece in pieces if piece])

    def _keep(self, rest: bytes) -> None:
        if len(rest) > LONGEST_LINE and not self._headless:
            self.overlong += 1
            self._headless = True
        # One byte is enough to know later that there was a line.
        self._rest = rest[:1] if self._headless and len(rest) > LONGEST_LINE else rest

    def _bounded(self, found: list[str]) -> list[str]:
        if max(map(len, found), default=0) <= LONGEST_LINE:
            return found
        kept = [line for line in found if len(line) <= LONGEST_LINE]
        self.overlong += len(found) - len(kept)
        return kept

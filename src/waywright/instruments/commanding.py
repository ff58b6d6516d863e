"""What an instrument can be told: zero, steering. The answer is taken out of the lines before they are decoded."""

from __future__ import annotations

import asyncio
import math
import re
from collections.abc import Callable, Mapping

from waywright.errors import BadInput, InstrumentError
from waywright.instruments.description import Description
from waywright.instruments.line_records import Command

Send = Callable[[bytes, bool], None]


class Commanding:
    """The commands of a description, sent one at a time."""

    def __init__(self, stated: Description, send: Send) -> None:
        self._source = stated.name
        self._commands = {command.name: command for command in stated.command}
        self._answers = [re.compile(item.answer, re.ASCII) for item in stated.command if item.answer is not None]
        self._send = send
        self._turn = asyncio.Lock()
        self._awaited: tuple[re.Pattern[str], asyncio.Future[None]] | None = None

    async def tell(self, name: str, values: Mapping[str, float]) -> None:
        """Send a command and wait for its answer. Raises BadInput, or InstrumentError if it was not confirmed."""
        command = self._commands.get(name)
        if command is None:
            allowed = ", ".join(self._commands) or "-"
            raise BadInput("instruments.unknown_command", source=self._source, name=name, allowed=allowed)
        self._check(command, values)
        data = command.send.format(**values).encode()
        async with self._turn:
            await self._told(command, data)

    def without_answers(self, lines: list[str], head: str | None = None) -> list[str]:
        """The lines that are no answers to commands; an answer that is awaited is noted.

        ``head`` was dropped because its beginning may be missing: no value, but an answer if it is one.
        """
        if not self._answers:
            return lines
        if head is not None:
            self._is_answer(head)
        return [line for line in lines if not self._is_answer(line)]

    async def _told(self, command: Command, data: bytes) -> None:
        done: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        if command.answer is not None:
            self._awaited = (re.compile(command.answer, re.ASCII), done)
        facts = {"source": self._source, "name": command.name}
        try:
            self._send(data, command.answer is not None)
            if command.answer is not None:
                async with asyncio.timeout(command.timeout_s):
                    await done
        except ConnectionError as failure:
            raise InstrumentError("instruments.command_not_sent", **facts, reason=str(failure)) from failure
        except TimeoutError as failure:
            raise InstrumentError("instruments.command_no_answer", **facts, timeout_s=command.timeout_s) from failure
        finally:
            self._awaited = None

    def _check(self, command: Command, values: Mapping[str, float]) -> None:
        wanted = {value.name: value for value in command.value}
        if set(values) != set(wanted):
            allowed = ", ".join(wanted) or "-"
            raise BadInput("instruments.command_values", source=self._source, name=command.name, allowed=allowed)
        for name, number in values.items():
            lower, upper = wanted[name].range
            if not (math.isfinite(number) and lower <= number <= upper):
                facts = {"value": name, "number": number, "unit": wanted[name].unit, "lower": lower, "upper": upper}
                raise BadInput("instruments.command_range", source=self._source, **facts)

    def _is_answer(self, line: str) -> bool:
        if self._awaited is not None and self._awaited[0].fullmatch(line):
            if not self._awaited[1].done():
                self._awaited[1].set_result(None)
            return True
        return any(answer.fullmatch(line) for answer in self._answers)

"""Every command and every option stands on the reference page of commands."""

import re

import pytest
from commands_page import PAGE, Command, commands

COMMANDS = list(commands())
SECTIONS = dict(re.findall(r"^## waywright (.+)\n((?:(?!^## ).*\n?)*)", PAGE.read_text(encoding="utf-8"), re.MULTILINE))


def test_there_are_commands_in_groups_and_out_of_them() -> None:
    assert {"capture", "report", "archive check", "evaluate straightness"} <= {command.name for command in COMMANDS}


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_command_and_options_are_on_the_page(command: Command) -> None:
    renew = "run `python tests/contracts/commands_page.py`"
    assert command.name in SECTIONS, f"waywright {command.name} is not on the page of commands; {renew}"
    missing = [name for option in command.options for name in option.names if f"`{name}`" not in SECTIONS[command.name]]
    assert not missing, f"waywright {command.name}: {missing} not on the page of commands; {renew}"


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_command_and_options_say_what_they_are_for(command: Command) -> None:
    assert command.text
    assert [option.names for option in command.options if not option.meaning] == []


def test_the_page_has_no_command_that_is_gone() -> None:
    assert set(SECTIONS) == {command.name for command in COMMANDS}

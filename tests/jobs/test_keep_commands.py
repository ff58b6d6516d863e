"""Machines, visits, plans and the archive on the command line, as a program uses them: JSON in, JSON out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from jobs.made_line import begin_line, take_pass
from waywright.archive import open_archive
from waywright.cli import main


class Shell:
    """Commands on one archive."""

    def __init__(self, archive: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.archive = archive
        self._capsys = capsys

    def run(self, *words: str, code: int = 0, json_out: bool = True) -> Any:
        found = main([*words, "--archive", str(self.archive), *(["--json"] if json_out else [])])
        self.out, self.err = self._capsys.readouterr()
        assert found == code, self.err
        return json.loads(self.out) if json_out and code == 0 else self.out


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Shell:
    monkeypatch.setenv("LOGNAME", "hall-laptop")
    return Shell(tmp_path / "a.sqlite", capsys)


@pytest.fixture
def machine(shell: Shell) -> dict[str, Any]:
    made = shell.run("machine", "new", "--name", "HR-6", "--kind", "roll lathe", "--up=-Y", "--operator=+X",
                     "--site", "Hollin Reach", "--bed-length-mm", "6400", "--supports-in-a-row", "7", "--rows", "2",
                     "--by", "Ada")  # fmt: skip
    return dict(made)


def test_a_machine_is_kept_changed_and_shown_with_who_and_why(
    shell: Shell, machine: dict[str, Any], tmp_path: Path
) -> None:
    shell.run("machine", "edit", "HR-6", "serial=0815", "support.3.locked=true", "--reason", "read from the plate",
              "--by", "Ada")  # fmt: skip
    shown = shell.run("machine", "show", "0815", "--write", str(tmp_path / "m.toml"))
    assert shown["machine"]["serial"] == "0815"
    assert shown["site"]["name"] == "Hollin Reach"
    last = shown["changes"][-1]
    assert (last["by"], last["reason"]) == ("Ada", "read from the plate")
    assert last["fields"] == {"serial": [None, "0815"], "bed.supports.3.locked": [False, True]}
    # The machine file is the same truth: taken from it nothing changes, and its edits come back.
    text = (tmp_path / "m.toml").read_text()
    (tmp_path / "m.toml").write_text(text.replace('serial = "0815"', 'serial = "0816"'))
    shell.run("machine", "edit", "HR-6", "--file", str(tmp_path / "m.toml"), "--reason", "file", "--by", "Ada")
    after = shell.run("machine", "show", "HR-6")
    assert after["changes"][-1]["fields"] == {"serial": ["0815", "0816"]}
    assert after["machine"]["id"] == machine["id"]


def test_without_a_name_the_account_of_the_computer_has_done_it(shell: Shell, machine: dict[str, Any]) -> None:
    shell.run("machine", "edit", "HR-6", "owner=somebody", "--reason", "sold")
    assert shell.run("machine", "show", "HR-6")["changes"][-1]["by"] == "hall-laptop"


def test_what_cannot_be_changed_is_said(shell: Shell, machine: dict[str, Any]) -> None:
    for words, said in {
        ("edit", "HR-6", "serial", "--reason", "x"): "name=value",
        ("edit", "HR-6", "support.99.locked=true", "--reason", "x"): "There are: 1, 2",
        ("edit", "HR-6", "colour=red", "--reason", "x"): "colour",
        ("show", "kettle"): "knows: HR-6",
        ("new", "--name", "HR-6"): "has a machine HR-6 already",
    }.items():
        shell.run("machine", *words, code=1)
        assert said in shell.err


def test_a_photo_is_kept_and_comes_out_again(shell: Shell, machine: dict[str, Any], tmp_path: Path) -> None:
    (tmp_path / "bed.jpg").write_bytes(b"\xff\xd8 not really")
    kept = shell.run("machine", "attach", "HR-6", str(tmp_path / "bed.jpg"), "--caption", "from the left")
    assert (kept["role"], kept["media_type"]) == ("photo", "image/jpeg")
    shell.run("archive", "extract", kept["id"][-6:], str(tmp_path / "out.jpg"))
    assert (tmp_path / "out.jpg").read_bytes() == b"\xff\xd8 not really"
    assert shell.run("machine", "show", "HR-6")["attachments"][0]["caption"] == "from the left"


def test_a_plan_goes_from_template_to_agreement(shell: Shell, machine: dict[str, Any]) -> None:
    visit = shell.run("visit", "new", "HR-6", "--purpose", "acceptance", "--technician", "Ada")
    made = shell.run("plan", "new")
    assert (made["plan"]["template"], made["plan"]["visit_id"]) == ("lathe", visit["id"])
    assert set(made["why_not"].values()) == {"plan.only_an_example"}
    shell.run("plan", "edit", "z-height", "--rule", "0.02/1000", "--source", "contract 12", "--confirmed-by", "Quill")
    shell.run("plan", "edit", "extra", "--what", "Is the door tight?")
    shell.run("plan", "edit", "spindle-slip", "--remove", "--reason", "not wanted")
    shell.run("plan", "decide", "--burden", "customer", "--confidence", "0.9", "--anchor-bolts", "final")
    agreed = shell.run("plan", "agree", "Quill", "--party", "customer")
    assert agreed["why_not"]["z-height"] is None
    assert agreed["why_not"]["extra"] == "plan.no_tolerance"
    assert agreed["plan"]["state"]["anchor_bolts"] == "final"
    assert "spindle-slip" not in agreed["why_not"]
    changed = shell.run("plan", "edit", "z-side", "--datum", "front way")
    assert changed["plan"]["agreements"] == []
    shown = shell.run("visit", "show")
    assert shown["at"]["plan"]["title"] == "HR-6"
    assert shell.run("visit", "list", "HR-6")["visits"][0]["visit"]["id"] == visit["id"]
    shell.run("plan", "edit", "z-side", "--rule", "two hundredths", code=1)
    assert "two hundredths" in shell.err
    text = shell.run("plan", "show", json_out=False)
    assert "for information only" in text


def test_one_test_of_a_plan_is_shown_with_the_procedure_that_says_how(shell: Shell, machine: dict[str, Any]) -> None:
    shell.run("visit", "new", "HR-6")
    shell.run("plan", "new", "--template", "lathe")
    shell.run("plan", "decide", "--anchor-bolts", "slack")
    found = shell.run("plan", "show", "z-height")
    procedure = found["item"]["procedure"].partition(".")[2]
    assert shell.run("plan", "show", "z-height", json_out=False).count(procedure) == 1
    assert found["why_not"] == "plan.only_an_example"
    assert main(["plan", "procedure", procedure]) == 0
    assert "anchor bolts: slack" in shell.run("plan", "show", json_out=False).split(procedure)[-1]
    shell.run("plan", "show", "z-hight", code=1)
    assert "It has: bed-level-along" in shell.err


def test_templates_and_procedures_need_no_archive(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert main(["plan", "templates", "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)) == 10
    assert main(["plan", "procedure", "spindle_bar", "--picture", str(tmp_path / "p.svg"), "--json"]) == 0
    assert len(json.loads(capsys.readouterr().out)["steps"]) == 4
    assert (tmp_path / "p.svg").read_text().startswith("<svg")


@pytest.fixture
def measured(shell: Shell, tmp_path: Path) -> Shell:
    """Two passes of one line, in the archive."""
    with open_archive(shell.archive, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        take_pass(archive, begun, 1, repeat=3)
        take_pass(archive, begun, 2, offset_um=2.0)
    return shell


def test_the_list_counts_stations_and_goes_page_by_page(measured: Shell) -> None:
    every = measured.run("archive", "list")
    assert [entry["stations"] for entry in every] == [21, 21]
    first = measured.run("archive", "list", "--size", "1")
    second = measured.run("archive", "list", "--size", "1", "--after", first["after"])
    assert [page["entries"][0]["pass_id"] for page in (first, second)] == [entry["pass_id"] for entry in every]
    assert second["after"] is None


def test_mending_says_who_and_when(measured: Shell) -> None:
    made = measured.run(
        "archive", "mend", "beam.vertical_um", "--positive", "down", "--reason", "upside down", "--by", "Ada"
    )
    people = {person["id"]: person["name"] for person in measured.run("archive", "people")}
    assert people[made[0]["made_by"]] == "Ada"
    assert made[0]["made_utc"] is not None
    with open_archive(measured.archive) as archive:
        (revision,) = archive.history(UUID(made[0]["id"]))
        assert (str(revision.recorded_by), revision.reason) == (made[0]["made_by"], "upside down")


def test_sharing_by_file_backup_and_search(measured: Shell, tmp_path: Path) -> None:
    exported = measured.run("archive", "export", str(tmp_path / "v.json.gz"))
    assert (exported["passes"], exported["readings"]) == (2, 43)
    assert exported["results"] >= 1
    measured.run("archive", "backup", str(tmp_path / "b.sqlite"))
    other = Shell(tmp_path / "other.sqlite", measured._capsys)
    assert other.run("archive", "import", str(tmp_path / "v.json.gz"))["added"]["reading"] == 43
    assert other.run("archive", "import", str(tmp_path / "v.json.gz"))["added"] == {}
    assert other.run("archive", "check")["sound"] is True
    assert [found["kind"] for found in other.run("archive", "search", "roll hr-6")] == ["machine"]
    assert other.run("archive", "conflicts") == []
    other.run("archive", "restore", str(tmp_path / "b.sqlite"), code=1)
    assert other.run("archive", "restore", str(tmp_path / "b.sqlite"), "--replace")["kept_aside"] is not None
    blanked = other.run("archive", "blank", "Mara Quill (invented)", "--reason", "asked to")
    assert (blanked["name"], blanked["blanked"]) == ("", True)


def test_the_roles_script_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["archive", "roles"]) == 0
    assert "ROW LEVEL SECURITY" in capsys.readouterr().out

"""The guard's verbs and commands: files in, evidence in the archive, "go on anyway" with its reason."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import numpy as np
import pytest
from made_line import begin_line, take_pass

from waywright.archive import Archive, open_archive
from waywright.cli import main
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.guard import Advice, Circumstances, Figure, KnownMove, Mounting, Seen, State, Wish, same_state
from waywright.jobs import guard, guard_line
from waywright.jobs.evidence import Judged, Keep, evidence_of_line, go_on_anyway, keep_at, listed, sentences
from waywright.jobs.measured import MeasuredPass, find_line, measured_line
from waywright.quantities import Direction
from waywright.visit import Evidence, MachineState, Person


@pytest.fixture
def place(tmp_path: Path) -> Keep:
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        begin_line(archive, tmp_path)
    return Keep("carriage", path, "Mara Quill (invented)")


def opened(place: Keep) -> Archive:
    assert place.archive is not None
    return open_archive(place.archive)


def recording(path: Path, seed: int, drift_um_per_min: float = 0.1, names: str = "time_s,height_um,side_um") -> Path:
    rng = np.random.default_rng(seed)
    time_s = np.arange(3000) * 0.1
    values = [rng.normal(0, 1.0, 3000) + drift_um_per_min * time_s / 60 for _ in names.split(",")[1:]]
    rows = [",".join(f"{value:.3f}" for value in row) for row in zip(time_s, *values, strict=True)]
    path.write_text("\n".join([names, *rows]))
    return path


def swapped_moves() -> list[KnownMove]:
    zero = Seen(0.0, 0.0, 0.3)
    return [
        KnownMove(Direction.UP, 50.0, 2.0, zero, Seen(0.4, 50.6, 0.3)),
        KnownMove(Direction.TOWARDS, 80.0, 2.0, zero, Seen(80.1, -0.2, 0.3)),
    ]


def test_a_failed_direction_test_is_kept_with_input_outcome_reason_who_and_when(place: Keep) -> None:
    found = guard.direction(swapped_moves(), (Direction.UP, Direction.TOWARDS), place)
    assert found.mounting is Mounting.SWAPPED
    (kept,) = listed(place)
    assert (kept.test, kept.outcome, kept.good, kept.stands_in_the_way) == ("direction", "failed", False, True)
    assert kept.inputs["moves"][0]["after"] == {"first_um": 0.4, "second_um": 50.6, "error_um": 0.3}
    assert kept.figures["channels"] == ["towards-operator", "up"]
    assert "swapped" in sentences(kept.why)[0]
    with opened(place) as archive:
        line = find_line(archive, "carriage")
        assert kept.subject_id == archive.setups(line.id)[0].id
        assert kept.made_by is not None
        assert archive.load(Person, kept.made_by).name == place.by
        assert archive.history(kept.id)[0].recorded_by == kept.made_by


def test_going_on_anyway_needs_a_reason_and_leaves_the_objection(place: Keep) -> None:
    guard.direction(swapped_moves(), (Direction.UP, Direction.TOWARDS), place)
    with opened(place) as archive:
        (kept,) = evidence_of_line(archive, find_line(archive, None))
        with pytest.raises(BadInput, match="Say why"):
            go_on_anyway(archive, kept.id, "  ", None, SystemClock())
        passed = go_on_anyway(
            archive, kept.id, "the cable will be turned tomorrow", "Mara Quill (invented)", SystemClock()
        )
        assert not passed.stands_in_the_way
        assert archive.load(Evidence, kept.id) == passed
        assert passed.why == kept.why
        assert passed.anyway_by == kept.made_by
        first, second = archive.history(kept.id)
        assert second.reason == "the cable will be turned tomorrow"
        assert first.recorded_utc <= second.recorded_utc


def test_what_is_good_needs_no_anyway(place: Keep) -> None:
    known = Circumstances(height_m=0.6, top_minus_foot_k=Figure(0.0, 0.05))
    guard.bow(60.0, 5.2, tolerance_um=400.0, error_um=0.3, circumstances=known, where=place)
    with opened(place) as archive:
        (kept,) = evidence_of_line(archive, find_line(archive, None))
        assert kept.good
        with pytest.raises(BadInput, match="nothing stands in the way"):
            go_on_anyway(archive, kept.id, "why not", None, SystemClock())


def test_a_gate_is_kept_where_it_belongs(place: Keep) -> None:
    off, on = MachineState(compensation="off"), MachineState(compensation="on")
    gate = same_state(State(off, 14.0), State(on, 19.0))
    with opened(place) as archive:
        line = find_line(archive, None)
        judged = Judged(gate.gate.value, "closed", gate.open, gate.objections, {"first": off, "second": on}, gate)
        keep_at(archive, judged, line.visit_id)
        (kept,) = evidence_of_line(archive, line)
    assert kept.subject_id == line.visit_id
    assert any("19.0" in sentence for sentence in sentences(kept.why))
    assert kept.figures["open"] is False


def test_steadiness_of_recordings(place: Keep, tmp_path: Path) -> None:
    near, far = recording(tmp_path / "near.csv", 1), recording(tmp_path / "far.csv", 2)
    found = guard.steady((near, 0.6), (far, 5.4), tolerance_um=40.0, wished_um=0.3, pass_s=300.0, where=place)
    assert set(found) == {"height_um", "side_um"}
    assert {one.advice for one in found.values()} == {Advice.USE}
    (kept,) = listed(place)
    assert kept.outcome == "use"
    assert kept.figures["height_um"]["shortest_averaging_s"] == found["height_um"].shortest_averaging_s
    drifting = recording(tmp_path / "drifting.csv", 3, 5.0)
    worse = guard.steady((near, 0.6), (drifting, 5.4), tolerance_um=40.0, wished_um=0.3, pass_s=300.0)
    assert {one.advice for one in worse.values()} == {Advice.NOT_TODAY}


def test_alignment_of_a_table(place: Keep, tmp_path: Path) -> None:
    table = tmp_path / "align.csv"
    table.write_text("distance_m,height_um,side_um\n0.4,-164,92\n5.6,-240,140\n")
    (tmp_path / "linearity.csv").write_text("reading_um,error_um\n-2500,9\n-200,0\n0,0\n200,0\n2500,-9\n")
    wanted = guard.Wanted((-2500.0, 2500.0), 40.0)
    by_rule = guard.align(table, replace(wanted, smallest_um=0.5), where=place)
    assert by_rule["height_um"].ready.value == "align"
    by_table = guard.align(table, wanted, linearity=tmp_path / "linearity.csv")
    assert by_table["height_um"].ready.value == "good-enough"
    assert listed(place)[0].outcome == "align"


def test_figures_that_are_not_finite_are_kept_as_none(place: Keep) -> None:
    guard.effort(Wish(0.0, 1000.0, 20.0, 1.0, 0.1), "Z", place)
    assert listed(place)[0].inputs["wish"]["longest_pass_s"] is None


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("time_s\n1\n", "lacks the column"),
        ("t,height_um\n1,2\n", "lacks the column time_s"),
        ("time_s,height_um\n0,1\n0.1\n", "1 cells"),
        ("time_s,height_um\n0,one\n", "not a number"),
        ("time_s,height_um\n" + "".join(f"{t},1\n" for t in [0, 1, 2, 9, 10, 11]), "not evenly spaced"),
    ],
)
def test_tables_that_cannot_be_used(text: str, word: str, tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text(text)
    with pytest.raises(BadInput, match=word):
        guard.steady((bad, 0.5), (bad, 5.0), tolerance_um=40.0, wished_um=1.0, pass_s=60.0)


def test_recordings_without_a_common_channel(tmp_path: Path) -> None:
    near = recording(tmp_path / "near.csv", 1, names="time_s,height_um")
    far = recording(tmp_path / "far.csv", 1, names="time_s,side_um")
    with pytest.raises(BadInput, match="no channel in common"):
        guard.steady((near, 0.5), (far, 5.0), tolerance_um=40.0, wished_um=1.0, pass_s=60.0)
    with pytest.raises(BadInput, match="cannot be read"):
        guard.steady((tmp_path / "none.csv", 0.5), (far, 5.0), tolerance_um=40.0, wished_um=1.0, pass_s=60.0)


MOVES = "--shim-um 50 --up-before 1 3 --up-after {up} --side-um 80 --side-before 1 3 --side-after 1 83"
COMMANDS = {
    "direction": MOVES.format(up="51 3"),
    "air": "--length-m 10 --gradient-k-per-m 1 --height-m 1 --top-minus-foot-k 0.5",
    "bow": "--bow-um 30 --length-m 5.2 --tolerance-um 40 --height-m 0.6 --top-minus-foot-k 0.1 0.1",
    "plan": "--from-mm 0 --to-mm 5200 --tolerance-um 40 --scatter-um 2 --correlation-s 0.1 --motion motion.txt",
    "steadiness": "near.csv far.csv --near-m 0.6 --far-m 5.4 --tolerance-um 40 --wished-um 0.5 --pass-min 5",
    "align": "align.csv --tolerance-um 40",
    "level": "--lift-um 50 --lift-tolerance-um 2 --base-mm 200 --before-um-per-m 17 --after-um-per-m 265",
}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_says_the_same_in_words_and_in_json(
    name: str, place: Keep, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    recording(tmp_path / "near.csv", 1)
    recording(tmp_path / "far.csv", 2)
    (tmp_path / "align.csv").write_text("distance_m,height_um\n0.4,-30\n5.6,-20\n")
    words = ["guard", name, *COMMANDS[name].split()]
    assert main(words) == 0
    assert len(capsys.readouterr().out) > 100
    kept = ["--keep", "carriage", "--archive", str(place.archive), "--by", "Mara Quill (invented)", "--json"]
    assert main([*words, *kept]) == 0
    said = json.loads(capsys.readouterr().out)
    (evidence,) = listed(place)
    assert evidence.figures == (said["effort"] if name == "plan" else said)
    if name == "plan":
        assert (tmp_path / "motion.txt").read_text() == said["motion"]


def test_list_and_anyway_on_the_command_line(place: Keep, capsys: pytest.CaptureFixture[str]) -> None:
    at = ["--archive", str(place.archive)]
    assert main(["guard", "list", "carriage", *at]) == 0
    assert "Nothing was tested" in capsys.readouterr().out
    guard.direction(swapped_moves(), (Direction.UP, Direction.TOWARDS), place)
    assert main(["guard", "list", "carriage", *at, "--json"]) == 0
    (listed_one,) = json.loads(capsys.readouterr().out)
    assert UUID(listed_one["id"])
    assert main(["guard", "anyway", listed_one["id"][-8:], "--reason", "known and mended later", *at]) == 0
    assert "known and mended later" in capsys.readouterr().out
    assert main(["guard", "anyway", "nothing-like-it", "--reason", "x", *at]) == 1
    assert "0 tests" in capsys.readouterr().err


def test_watching_the_kept_passes_of_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Three passes of the made line without noise agree; a reading of 500 um that was taken again does not count."""
    path = tmp_path / "b.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        for number in (1, 2, 3):
            take_pass(archive, begun, number, repeat=4 if number == 2 else None)
    assert guard_line.watch("carriage", path) == ()
    assert main(["guard", "watch", "carriage", "--archive", str(path)]) == 0
    assert "Nothing stands out" in capsys.readouterr().out


def test_a_slip_between_kept_passes_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "c.sqlite"
    with open_archive(path, create=True) as archive:
        begun = begin_line(archive, tmp_path)
        for number in (1, 2, 3):
            take_pass(archive, begun, number)
        measured = measured_line(archive, begun.line)
    rng = np.random.default_rng(4)
    passes = [slipped(single, rng, 15.0 if single.taken.number == 3 else 0.0) for single in measured.passes]
    found = guard_line.watched(replace(measured, passes=tuple(passes)))
    assert [(one.remark.value, one.passes) for one in found if one.code == "EYZ"] == [("step", "3")]
    assert "Something slipped" in sentences([found[0].why])[0]


def slipped(single: MeasuredPass, rng: np.random.Generator, by_um: float) -> MeasuredPass:
    """Noise of 1 um, and height off from the tenth station on."""
    columns = []
    for column in single.profile.columns:
        added = rng.normal(0.0, 1.0, column.iso.size)
        if column.code.text == "EYZ":
            added[10:] += by_um
        columns.append(replace(column, iso=column.iso + added))
    return replace(single, profile=replace(single.profile, columns=tuple(columns)))

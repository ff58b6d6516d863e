"""Two computers that write about one visit: a chain for each, one root wherever they are merged, no quiet change."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive, revisions
from waywright.archive.chains import Head, heads_of, root_of
from waywright.archive.part import VisitPart, part_of
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.signing import add_note
from waywright.jobs.verify_report import verified

ONE, TWO = "aaaaaaaaaaaa", "bbbbbbbbbbbb"
Writer = Callable[[str], None]


@dataclass(frozen=True)
class Laptops:
    """Archives of both, with the same line at first; then each adds what the other does not know."""

    one: Path
    two: Path


@pytest.fixture
def laptops(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Laptops:
    def writes(mark: str) -> None:
        monkeypatch.setattr(revisions, "computer_mark", lambda: mark)

    found = Laptops(tmp_path / "one.sqlite", tmp_path / "two.sqlite")
    writes(ONE)
    with open_archive(found.one, create=True) as first:
        begun = begin_line(first, tmp_path)
        take_pass(first, begun, 1)
        with open_archive(found.two, create=True) as second:
            second.receive(first)
    writes(TWO)
    with open_archive(found.two) as second:
        take_pass(second, begun, 2, offset_um=1.5)
    add_note("further-check", "Squareness of the cross slide.", path=found.two)
    writes(ONE)
    add_note("safety", "The guard at the tailstock is missing.", path=found.one)
    return found


def part(path: Path) -> VisitPart:
    with open_archive(path) as opened:
        return part_of(opened, opened.visits()[0].id, ("signature", "report"))


def merge(into: Path, source: Path) -> None:
    with open_archive(into) as target, open_archive(source) as other:
        target.receive(other)


def computers(heads: tuple[Head, ...]) -> dict[str, int]:
    return {head.name: head.links for head in heads if head.kind == "computer"}


def test_each_computer_has_its_own_chain_and_a_merge_lengthens_none(laptops: Laptops) -> None:
    before = [computers(heads_of(part(path))) for path in (laptops.one, laptops.two)]
    assert set(before[0]) == {ONE}
    assert set(before[1]) == {ONE, TWO}
    merge(laptops.one, laptops.two)
    merge(laptops.two, laptops.one)
    heads = [heads_of(part(path)) for path in (laptops.one, laptops.two)]
    assert computers(heads[0]) == computers(heads[1]) == {ONE: before[0][ONE], TWO: before[1][TWO]}
    assert sorted(head.head for head in heads[0]) == sorted(head.head for head in heads[1])
    assert sum(head.kind == "pass" for head in heads[0]) == 2


def test_the_root_is_one_whoever_is_merged_into_whom(laptops: Laptops) -> None:
    apart = {root_of(heads_of(part(path))) for path in (laptops.one, laptops.two)}
    merge(laptops.one, laptops.two)
    merge(laptops.two, laptops.one)
    together = {root_of(heads_of(part(path))) for path in (laptops.one, laptops.two)}
    assert len(apart) == 2
    assert len(together) == 1
    assert not apart & together


def test_a_record_counted_for_the_other_computer_or_changed_moves_the_root(laptops: Laptops) -> None:
    merge(laptops.one, laptops.two)
    whole = part(laptops.one)
    root = root_of(heads_of(whole))
    index = next(number for number, row in enumerate(whole.records) if row.computer == TWO and row.kind == "note")
    row = whole.records[index]
    assert row.body is not None
    for wrong in (replace(row, computer=ONE), replace(row, body=row.body.replace("cross", "gross"))):
        records = (*whole.records[:index], wrong, *whole.records[index + 1 :])
        assert root_of(heads_of(replace(whole, records=records))) != root
    missing = (*whole.records[:index], *whole.records[index + 1 :])
    assert root_of(heads_of(replace(whole, records=missing))) != root


def test_the_report_of_one_is_confirmed_by_the_archive_of_the_other(laptops: Laptops, tmp_path: Path) -> None:
    merge(laptops.one, laptops.two)
    merge(laptops.two, laptops.one)
    order = ReportOrder(uncertainty=False)
    first, second = (
        written_report([], tmp_path / name, order, path).files[0]
        for name, path in (("a", laptops.one), ("b", laptops.two))
    )
    found = verified(first, laptops.two)
    assert found.agrees
    assert found.root == verified(second, laptops.one).root
    assert first.read_bytes() == second.read_bytes()

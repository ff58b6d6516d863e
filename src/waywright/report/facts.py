"""The facts of a report as pairs of label and value: job, set-up, conditions, instruments, origin."""

from __future__ import annotations

from collections.abc import Iterator

from waywright.drawing import plain_number, signed
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent, PassContent
from waywright.report.saying import Saying
from waywright.visit import InstrumentUse, SourceStand, Temperature
from waywright.visit.lines import Offset

Pair = tuple[str, str]
Pairs = list[Pair]


def job_facts(content: ReportContent) -> Pairs:
    """Who, when, which machine."""
    say, machine = Saying(content), content.machine
    passes = [each for line in content.lines for each in line.passes]
    first = min(passes, key=lambda each: each.began_utc)
    last = max(passes, key=lambda each: each.ended_utc or each.began_utc)
    return [
        (say.of("report.machine"), " ".join(part for part in (machine.kind, machine.name) if part)),
        (say.of("report.serial"), say.known(machine.serial)),
        (say.of("report.owner"), say.known(machine.owner)),
        (say.of("report.measured"), say.span(first.began_utc, last.ended_utc)),
        (say.of("report.technician"), say.known(content.technician)),
        (say.of("report.parties"), say.known(_parties(content))),
        (say.of("report.purpose"), say.known(content.purpose)),
        (say.of("report.next_check"), say.known(content.next_check)),
    ]


def line_facts(content: ReportContent, each: LineContent) -> Pairs:
    """What was measured, in which state, about which line, how."""
    say = Saying(content)
    return [
        (say.of("report.axis"), say.of(f"report.axis_of.{each.line.subject}", axis=each.line.axis)),
        (say.of("report.state"), say.of(f"report.state.{each.line.state}")),
        (say.of("report.reference"), say.reference(each.quantities[0].chosen.reference)),
        (say.of("report.method"), say.known(each.setup.method)),
    ]


def setup_facts(content: ReportContent, each: LineContent) -> Pairs:
    """How it was set up; what nobody wrote down says so."""
    say, setup, axes = Saying(content), each.setup, content.machine.axes
    side = say.of(f"report.side.{setup.detector_side}") if setup.detector_side else None
    return [
        (say.of("report.detector_side"), say.known(side)),
        (say.of("report.source"), say.known(_source(say, setup.source))),
        (say.of("report.zero"), say.known(_zero(say, each))),
        (say.of("report.axes"), say.of("report.axes_value", up=_true(axes.up), operator=_true(axes.operator))),
        (say.of("report.detector_offset"), say.known(_offset(say, setup.detector_offset_mm))),
        (say.of("report.bearing_centre"), say.known(_offset(say, setup.bearing_centre_mm))),
        (say.of("report.functional_point"), say.known(_offset(say, setup.functional_point_mm))),
        (say.of("report.segment"), str(setup.segment)),
    ]


def condition_facts(content: ReportContent, each: PassContent) -> Pairs:
    """State of the machine, temperatures and settings of one pass."""
    say, state = Saying(content), each.conditions.machine
    pairs = [
        (say.of("report.when"), say.span(each.began_utc, each.ended_utc)),
        (say.of("report.other_axes"), say.known(state.other_axes)),
        (say.of("report.clamps"), say.known(state.clamps)),
        (say.of("report.anchor_bolts"), say.known(state.anchor_bolts)),
        (say.of("report.compensation"), say.known(state.compensation)),
        (say.of("report.weight_compensation"), say.known(state.weight_compensation)),
        (say.of("report.warm_up"), say.known(state.warm_up)),
        (say.of("report.temperatures"), say.known(_temperatures(each))),
        (say.of("report.averaging"), say.known(_averaging(say, each))),
    ]
    outcome = each.outcome if each.outcome in ("finished", "stopped", "failed") else None
    pairs.append((say.of("report.outcome"), say.known(say.of(f"report.outcome.{outcome}") if outcome else None)))
    return pairs


def instrument_rows(content: ReportContent) -> list[tuple[str, ...]]:
    """Title, serial number, certificate, its due date, hash of the description, one row an instrument."""
    say = Saying(content)
    day = (content.began_utc or content.made_utc).date().isoformat()
    return [
        (
            use.title,
            say.known(use.serial),
            say.known(use.certificate),
            _due(say, use.certificate_due, day),
            say.known(use.description_sha256[:16] if use.description_sha256 else None),
        )
        for use in _instruments(content)
    ]


def event_sentences(content: ReportContent) -> list[str]:
    """Everything that happened, pass by pass, in sentences; readings left out with who, when and why."""
    say = Saying(content)
    return [words for each in content.lines for words in _events(say, each, len(content.lines) > 1)]


def origin_facts(content: ReportContent) -> Pairs:
    """What the numbers came from: program, algorithm, and where every chain of hashes ends."""
    say = Saying(content)
    pairs = [
        (say.of("report.made"), say.moment(content.made_utc)),
        (say.of("report.software"), f"Waywright {content.software_version}"),
        (say.of("report.algorithm"), content.algorithm_version),
    ]
    for line in content.lines:
        for each in line.passes:
            name = say.pass_name(each.number, each.direction)
            label = say.of("report.seal", name=name if len(content.lines) == 1 else f"{say.line_name(line)}, {name}")
            pairs.append((label, say.known(each.last_hash)))
    for seal in content.seals:
        if seal.kind == "computer":
            pairs.append((say.of("report.seal_computer", name=seal.name, links=seal.links), seal.head))
    if content.root is not None:
        pairs.append((say.of("report.root", chains=len(content.seals)), content.root))
    return pairs


def _parties(content: ReportContent) -> str | None:
    say = Saying(content)
    said = [
        each.name if each.role is None else say.of("report.party", name=each.name, role=each.role)
        for each in content.parties
    ]
    return "; ".join(said) or None


def _instruments(content: ReportContent) -> list[InstrumentUse]:
    """Every instrument once, in the order used."""
    found = [use for each in content.lines for use in each.setup.instruments]
    return list(dict.fromkeys(found))


def _due(say: Saying, due: str | None, day: str) -> str:
    if due is not None and due < day:
        return say.of("report.overdue", due=due)
    return say.known(due)


def _events(say: Saying, line: LineContent, several: bool) -> Iterator[str]:
    for each in line.passes:
        name = say.pass_name(each.number, each.direction)
        where = f"{say.line_name(line)}, {name}" if several else name
        for happened in each.events:
            yield f"{where}: {say.event(happened)}"
        if each.repeated:
            yield f"{where}: {say.of('report.repeated', repeated=each.repeated)}"
        for out in (item for item in line.excluded if item.pass_number == each.number):
            facts = {
                "position_mm": plain_number(out.position_mm, 1),
                "reason": out.reason,
                "when": say.moment(out.made_utc),
            }
            yield f"{where}: {say.of('report.left_out', by=say.known(out.by), **facts)}"


def _source(say: Saying, source: SourceStand | None) -> str | None:
    if source is None:
        return None
    if source.on == "bed" and source.bed_mm is not None:
        return say.of("report.source_bed_at", bed_mm=source.bed_mm)
    if source.part:
        return source.part
    return say.of(f"report.source_on.{source.on}")


def _zero(say: Saying, each: LineContent) -> str | None:
    zero = each.setup.zero
    if zero is None:
        return None
    key = "report.zero_grows_left" if zero.sense < 0 else "report.zero_grows_right"
    return say.of(key, mark=zero.mark, offset=signed(zero.offset_mm))


def _offset(say: Saying, offset: Offset | None) -> str | None:
    if offset is None:
        return None
    return say.of("report.offset", along=signed(offset[0]), up=signed(offset[1]), towards=signed(offset[2]))


def _temperatures(each: PassContent) -> str | None:
    return ", ".join(map(_temperature, each.conditions.temperatures)) or None


def _temperature(taken: Temperature) -> str:
    """``air at the beam 20.6 °C (08:12)``; the time where it was recorded."""
    said = f"{taken.place} {plain_number(taken.value_degc, 1)}\N{NO-BREAK SPACE}°C"
    return said if taken.taken_utc is None else f"{said} ({taken.taken_utc:%H:%M})"


def _averaging(say: Saying, each: PassContent) -> str | None:
    if each.settings is None or (each.settings.averaging_s is None and each.settings.dwell_s == 0):
        return None
    if each.settings.averaging_s is None:
        return say.of("report.averaging_as_needed", dwell_s=each.settings.dwell_s)
    return say.of("report.averaging_value", averaging_s=each.settings.averaging_s, dwell_s=each.settings.dwell_s)


def _true(axis: str) -> str:
    return axis.replace("-", "\N{MINUS SIGN}")

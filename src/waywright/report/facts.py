"""The facts of a report as pairs of label and value: job, set-up, conditions, instruments, origin."""

from __future__ import annotations

from collections.abc import Iterator

from waywright.drawing import plain_number, signed
from waywright.report.content import PassContent, ReportContent
from waywright.report.saying import Saying
from waywright.visit import SourceStand
from waywright.visit.lines import Offset

Pair = tuple[str, str]
Pairs = list[Pair]


def job_facts(content: ReportContent) -> Pairs:
    """Who, when, which machine, which line."""
    say, machine = Saying(content), content.machine
    first, last = content.passes[0], content.passes[-1]
    return [
        (say.of("report.machine"), " ".join(part for part in (machine.kind, machine.name) if part)),
        (say.of("report.serial"), say.known(machine.serial)),
        (say.of("report.owner"), say.known(machine.owner)),
        (say.of("report.measured"), say.span(first.began_utc, last.ended_utc)),
        (say.of("report.technician"), say.known(content.technician)),
        (say.of("report.purpose"), say.known(content.purpose)),
        (say.of("report.axis"), say.of(f"report.axis_of.{content.line.subject}", axis=content.line.axis)),
        (say.of("report.state"), say.of(f"report.state.{content.line.state}")),
        (say.of("report.reference"), say.reference(content.quantities[0].chosen.reference)),
        (say.of("report.method"), say.known(content.setup.method)),
    ]


def setup_facts(content: ReportContent) -> Pairs:
    """How it was set up; what nobody wrote down says so."""
    say, setup, axes = Saying(content), content.setup, content.machine.axes
    side = say.of(f"report.side.{setup.detector_side}") if setup.detector_side else None
    return [
        (say.of("report.detector_side"), say.known(side)),
        (say.of("report.source"), say.known(_source(say, setup.source))),
        (say.of("report.zero"), say.known(_zero(say, content))),
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
    return [
        (
            use.title,
            say.known(use.serial),
            say.known(use.certificate),
            say.known(use.certificate_due),
            say.known(use.description_sha256[:16] if use.description_sha256 else None),
        )
        for use in content.setup.instruments
    ]


def event_sentences(content: ReportContent) -> list[str]:
    """Everything that happened, pass by pass, in sentences."""
    return list(_events(Saying(content), content))


def origin_facts(content: ReportContent) -> Pairs:
    """What the numbers came from: program, algorithm, and the seal of every pass."""
    say = Saying(content)
    pairs = [
        (say.of("report.made"), say.moment(content.made_utc)),
        (say.of("report.software"), f"Waywright {content.software_version}"),
        (say.of("report.algorithm"), content.algorithm_version),
    ]
    for each in content.passes:
        label = say.of("report.seal", name=say.pass_name(each.number, each.direction))
        pairs.append((label, say.known(each.last_hash)))
    return pairs


def _events(say: Saying, content: ReportContent) -> Iterator[str]:
    for each in content.passes:
        name = say.pass_name(each.number, each.direction)
        for happened in each.events:
            yield f"{name}: {say.event(happened)}"
        if each.repeated:
            yield f"{name}: {say.of('report.repeated', repeated=each.repeated)}"


def _source(say: Saying, source: SourceStand | None) -> str | None:
    if source is None:
        return None
    if source.on == "bed" and source.bed_mm is not None:
        return say.of("report.source_bed_at", bed_mm=source.bed_mm)
    if source.part:
        return source.part
    return say.of(f"report.source_on.{source.on}")


def _zero(say: Saying, content: ReportContent) -> str | None:
    zero = content.setup.zero
    if zero is None:
        return None
    key = "report.zero_grows_left" if zero.sense < 0 else "report.zero_grows_right"
    return say.of(key, mark=zero.mark, offset=signed(zero.offset_mm))


def _offset(say: Saying, offset: Offset | None) -> str | None:
    if offset is None:
        return None
    return say.of("report.offset", along=signed(offset[0]), up=signed(offset[1]), towards=signed(offset[2]))


def _temperatures(each: PassContent) -> str | None:
    return (
        ", ".join(
            f"{t.place} {plain_number(t.value_degc, 1)}\N{NO-BREAK SPACE}°C" for t in each.conditions.temperatures
        )
        or None
    )


def _averaging(say: Saying, each: PassContent) -> str | None:
    if each.settings is None or (each.settings.averaging_s is None and each.settings.dwell_s == 0):
        return None
    if each.settings.averaging_s is None:
        return say.of("report.averaging_as_needed", dwell_s=each.settings.dwell_s)
    return say.of("report.averaging_value", averaging_s=each.settings.averaging_s, dwell_s=each.settings.dwell_s)


def _true(axis: str) -> str:
    return axis.replace("-", "\N{MINUS SIGN}")

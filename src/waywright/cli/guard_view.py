"""Answers of ``waywright guard`` in the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from waywright.cli import show
from waywright.cli.guard_options import Kept
from waywright.jobs.evidence import Keep, plain, sentences
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.evaluate.results import Reason
    from waywright.guard import Alignment, BowChallenge, DirectionTest, GateResult, Rule, Steadiness
    from waywright.jobs.guard import AirFigures, EffortWithText
    from waywright.jobs.guard_level import LevelTest
    from waywright.jobs.guard_line import Watched
    from waywright.visit import Evidence, Temperature


def where(kept: Kept) -> Keep | None:
    """Where to keep the evidence; None without a line."""
    return None if kept.keep is None else Keep(kept.keep, kept.archive, kept.by)


def show_direction(found: DirectionTest, json: bool) -> None:
    """Outcome, where the channels really count, sizes and roll."""
    if json:
        return show.print_json(plain(found))
    page = show.console()
    page.print(text("guard.say_outcome", outcome=found.outcome.value, detail=found.mounting.value))
    if found.channels is not None:
        page.print(text("guard.say_channels", first=found.channels[0].value, second=found.channels[1].value))
    for scale in found.scales:
        facts = {"direction": scale.direction.value, "value": scale.value, "error": scale.standard_uncertainty}
        page.print(text("guard.say_scale", **facts))
    if found.roll_deg is not None:
        page.print(text("guard.say_roll", roll_deg=found.roll_deg, error_deg=found.roll_uncertainty_deg))
    _say(found.why, found.rules)
    return None


def show_level(found: LevelTest, json: bool) -> None:
    """Sign and size by the known tilt, zero and true tilt by turning."""
    if json:
        return show.print_json(plain(found))
    if found.outcome is not found.sign.outcome:
        show.console().print(text("guard.say_half_resolved"), soft_wrap=True)
    _say(found.why, ())
    if found.turned is not None:
        turned = {"zero": found.turned.zero_um_per_m, "tilt": found.turned.tilt_um_per_m,
                  "error": found.turned.standard_uncertainty_um_per_m}  # fmt: skip
        show.console().print(text("guard.say_turned", **turned), soft_wrap=True)
    _say((), found.sign.rules)
    return None


def show_temperatures(found: Sequence[Temperature], json: bool) -> None:
    """Every temperature of the pass."""
    if json:
        return show.print_json(plain(list(found)))
    for item in found:
        show.console().print(text("guard.say_temperature", place=item.place, value=item.value_degc))
    return None


def show_alignment(found: dict[str, Alignment], json: bool) -> None:
    """What the source must do, near and far together."""
    if json:
        return show.print_json(plain(found))
    table = show.table("", "near, um", "far, um", "shift by, um", "tilt by, um/m", "turns", "then within, um")
    for name, one in found.items():
        turns = [f"{part:+.2f}" if part is not None else "-" for part in (one.shift_turns, one.tilt_turns)]
        table.add_row(
            name, show.signed(one.near_um), show.signed(one.far_um), show.signed(one.shift_um),
            show.signed(one.tilt_um_per_m), " / ".join(turns), f"{one.predicted_um:.1f}",
        )  # fmt: skip
    show.console().print(table)
    for name, one in found.items():
        show.console().print(f"{name}: {sentences([one.why])[0]}", soft_wrap=True)
    _say((), next(iter(found.values())).rules)
    return None


def show_steadiness(found: dict[str, Steadiness], json: bool) -> None:
    """Scatter, drift, memory, and the advice."""
    if json:
        return show.print_json(plain(found))
    table = show.table("", "scatter, um", "drift, um/min", "memory, s", "average, s", "pass, min")
    for name, one in found.items():
        averaging = "-" if one.shortest_averaging_s is None else f"{one.shortest_averaging_s:.1f}"
        for place, record in (("near", one.near), ("far", one.far)):
            last = (averaging, f"{one.longest_pass_s / 60.0:.1f}") if place == "far" else ("", "")
            drift = f"{show.signed(record.drift_um_per_min, 2)} ± {record.drift_error_um_per_min:.2f}"
            table.add_row(f"{name}, {place}", f"{record.scatter_um:.2f}", drift, f"{record.correlation_s:.2f}", *last)
    show.console().print(table)
    for name, one in found.items():
        show.console().print(f"{name}: [bold]{one.advice.value}[/bold]. {sentences([one.why])[0]}", soft_wrap=True)
    _say((), next(iter(found.values())).rules)
    return None


def show_air(found: AirFigures, json: bool) -> None:
    """A row for every effect."""
    if json:
        return show.print_json(plain(found))
    rows = [
        ("guard.say_refractivity", found.refractivity_1e6, "1e-6"),
        ("guard.say_per_k", found.sensitivity.per_k, "1e-6 / K"),
        ("guard.say_end", found.bend.end_um, "um"),
        ("guard.say_bow", found.bend.bow_um, "um"),
        ("guard.say_pressure", found.pressure_bow_um, "um"),
        ("guard.say_earth", found.earth_bow_um, "um"),
    ]
    if found.bed_bow_um is not None:
        rows.append(("guard.say_bed", found.bed_bow_um, "um"))
    table = show.table("", "value", "unit")
    for key, value, unit in rows:
        table.add_row(text(key), show.signed(value, 3), unit)
    show.console().print(table)
    return None


def show_bow(found: BowChallenge, json: bool) -> None:
    """The bow, beside it a row for everything that could imitate it."""
    if json:
        return show.print_json(plain(found))
    table = show.table("bow of the end line, hump positive", "um", "± 2 u, um", "known by")
    table.add_row(text("guard.say_measured_bow"), show.signed(found.bow_um), "", "")
    for one in found.imitations:
        known = text("guard.say_measured") if one.measured else text("guard.say_assumed")
        doubt = f"{2.0 * one.standard_uncertainty_um:.1f}"
        table.add_row(text(f"guard.cause_{one.cause.value}"), show.signed(one.bow_um), doubt, known)
    table.add_row(
        text("guard.say_remaining"), show.signed(found.remaining_um), f"{2.0 * found.standard_uncertainty_um:.1f}", ""
    )
    show.console().print(table)
    _say((found.why,), found.rules)
    return None


def show_effort(found: EffortWithText, json: bool) -> None:
    """Stations, passes and time."""
    if json:
        return show.print_json(plain(found))
    effort = found.effort
    facts = {
        "stations": len(effort.stations_mm), "passes": effort.passes, "averaging_s": effort.averaging_s,
        "pass_min": effort.pass_s / 60.0, "total_min": effort.total_s / 60.0, "reached_um": effort.reached_um,
    }  # fmt: skip
    show.console().print(text("guard.say_effort", **facts), soft_wrap=True)
    show.console().print(", ".join(f"{place:.0f}" for place in effort.stations_mm) + " mm", soft_wrap=True)
    _say(effort.why, effort.rules)
    return None


def show_evidence(found: Sequence[Evidence], json: bool) -> None:
    """What was tested, when, and what came out."""
    if json:
        return show.print_json(plain(found))
    table = show.table("test", "outcome", "made (UTC)", "anyway, because", "id")
    for item in found:
        name, outcome = text(f"guard_evidence.test_{item.test}"), text(f"guard_evidence.outcome_{item.outcome}")
        table.add_row(name, outcome, f"{item.made_utc:%Y-%m-%d %H:%M}", item.anyway or "", str(item.id)[-8:])
    show.console().print(table if found else text("guard.say_no_evidence"))
    return None


def show_watched(found: Sequence[Watched], json: bool) -> None:
    """A sentence for every finding."""
    if json:
        return show.print_json(plain(found))
    for one in found:
        where = text("guard_watch.where", passes=one.passes, code=one.code or "")
        show.console().print(f"{where}: {sentences([one.why])[0]}", soft_wrap=True)
    if not found:
        show.console().print(text("guard_watch.nothing_found"))
    return None


def show_gates(found: Sequence[GateResult], json: bool) -> None:
    """Each gate, with its objections."""
    if json:
        return show.print_json(plain(found))
    page = show.console()
    for gate in found:
        page.print(f"[bold]{gate.gate.value}[/bold]: {text('guard.say_open' if gate.open else 'guard.say_closed')}")
        for sentence in sentences(gate.objections):
            page.print(f"  {sentence}", soft_wrap=True)
    return None


def _say(why: Iterable[Reason], rules: Sequence[Rule]) -> None:
    """Sentences, then the rules with where they come from."""
    page: Any = show.console()
    for sentence in sentences(why):
        page.print(sentence, soft_wrap=True)
    if rules:
        page.print(text("guard.say_rules"))
    for rule in rules:
        page.print(f"  {text(rule.name, value=rule.value)} ({text(rule.source)})", soft_wrap=True)

"""What was agreed, tested, turned and remarked at a visit, as rows and sentences ready to print."""

from __future__ import annotations

from typing import Any

from waywright.drawing import signed
from waywright.report.content import NOTES, ReportContent
from waywright.report.saying import Saying
from waywright.visit import Adjustment, EvidenceEntry, PlanItem, SignedReport
from waywright.visit.adjustment import MoveMade

Rows = list[list[str]]


def plan_facts(content: ReportContent) -> list[tuple[str, str]]:
    """What the plan says beside its tests: title, decision rule, state agreed, who agreed."""
    say, plan = Saying(content), content.plan
    if plan is None:
        return [(say.of("report_job.plan"), say.of("report.not_recorded"))]
    agreed = [
        say.of(
            "report_job.agreed_by",
            name=say.known(content.name_of(each.person_id)),
            party=say.party(each.party),
            when=say.moment(each.agreed_utc),
        )
        for each in plan.agreements
    ]
    rule = say.of("report_job.rule", burden=say.of(f"verdict.burden_{plan.burden}"), confidence=plan.confidence)
    return [
        (say.of("report_job.plan"), plan.title),
        (say.of("report_job.decision_rule"), rule),
        (say.of("report_job.agreed"), "; ".join(agreed) or say.of("report_job.nobody_agreed")),
        (say.of("report_job.agreed_state"), say.known(_state(content))),
        (say.of("report.remark"), say.known(plan.remark)),
    ]


def plan_rows(content: ReportContent) -> tuple[list[str], Rows]:
    """The tests agreed: what, about which line, tolerance, where it stands, whether a verdict binds."""
    say = Saying(content)
    keys = ("test", "datum", "line", "tolerance", "source", "standing")
    head = [say.of(f"report_job.column_{key}") for key in keys]
    plan = content.plan
    return head, [] if plan is None else [_plan_row(content, say, item) for item in plan.items]


def evidence_rows(content: ReportContent) -> tuple[list[str], Rows]:
    """Tests and gates: where, what, when, by whom, what came out; "anyway" with its reason."""
    say = Saying(content)
    head = [say.of(f"report_job.column_{key}") for key in ("place", "test", "outcome", "found", "when", "by")]
    return head, [_evidence_row(say, each) for each in content.evidence if not each.repeated or each.evidence.anyway]


def round_parts(content: ReportContent) -> list[dict[str, Any]]:
    """Every round of correction: its sentence, its moves, what was confirmed, seen, learnt and left."""
    return [_round(content, each) for each in content.rounds]


def note_parts(content: ReportContent) -> list[dict[str, Any]]:
    """Limitations, safety, further checks, what was not corrected, reservation, remarks; or "not recorded"."""
    say = Saying(content)
    lines = {each.line.id: say.line_name(each) for each in content.lines}
    left = [one for each in content.rounds for one in each.not_corrected]
    parts = []
    for kind in NOTES:
        said = [
            f"{lines[note.line_id]}: {note.text}" if note.line_id in lines and len(lines) > 1 else note.text
            for note in content.notes
            if note.kind == kind
        ]
        if kind == "not-corrected":
            said += list(dict.fromkeys(f"{one.subject}: {say.said(one.why)}" for one in left))
        parts.append({"title": say.of(f"report_job.note.{kind}"), "said": said or [say.of("report.not_recorded")]})
    return parts


def issue_facts(content: ReportContent) -> list[tuple[str, str]]:
    """Number, revision, and since which signed revision something is new."""
    say, issue = Saying(content), content.issue
    pairs = [
        (say.of("report_job.number"), say.known(issue.number)),
        (say.of("report_job.revision"), str(issue.revision) if issue.number else say.of("report_job.draft")),
    ]
    if issue.since_revision is not None:
        since = say.of("report_job.changes_since", revision=issue.since_revision)
        pairs.append((since, "; ".join(change_sentences(content)) or say.of("report_job.no_changes")))
    return pairs


def change_sentences(content: ReportContent) -> list[str]:
    """What was recorded since the signed revision."""
    say = Saying(content)
    return [
        say.of(
            "report_job.change" if each.reason is None else "report_job.change_because",
            kind=say.of(f"report_job.kind.{each.kind}"),
            when=say.moment(each.recorded_utc),
            by=say.known(each.by),
            reason=each.reason,
        )
        for each in content.issue.changes
    ]


def signature_parts(content: ReportContent) -> list[dict[str, Any]]:
    """A place for the technician's and the customer's signature, drawn already or to be signed in ink."""
    say = Saying(content)
    return [_signature(content, say, role) for role in ("technician", "customer")]


def on_the_spot_parts(content: ReportContent) -> list[dict[str, Any]]:
    """What was tried on the spot, as a sentence and a table."""
    say = Saying(content)
    parts = []
    for each in content.on_the_spot:
        verdict = "passed" if each.passed else "failed"
        facts = {"when": say.moment(each.made_utc), **each.facts}
        left_out = each.facts.get("missing")
        missing = ", ".join(map(str, left_out)) if isinstance(left_out, list | tuple) else ""
        said = [say.of(f"report_job.spot.{each.kind}_{verdict}", **facts)]
        said += [say.of("report_job.spot.not_compared", places=missing)] if missing else []
        head, *rows = [list(row) for row in each.rows] or [[]]
        parts.append(
            {
                "title": say.of(f"report_job.spot.{each.kind}"),
                "said": " ".join(said),
                "head": [say.of(f"report_job.column_{key}") for key in head],
                "rows": rows,
            }
        )
    return parts


def _plan_row(content: ReportContent, say: Saying, item: PlanItem) -> list[str]:
    plan, rule = content.plan, item.tolerance
    binds = plan is not None and plan.binds(item)
    mark = say.of("report_job.example") if rule is not None and rule.example else ""
    return [
        item.what if item.code is None else f"{item.what} ({item.code})",
        say.known(item.datum or item.functional_point),
        say.reference(item.reference),
        say.known(" ".join(part for part in (rule.rule, mark) if part) if rule else None),
        say.known(rule.source if rule else None),
        say.of("report_job.binding" if binds else "report_job.for_information"),
    ]


def _evidence_row(say: Saying, entry: EvidenceEntry) -> list[str]:
    item = entry.evidence
    found = " ".join(say.said(why) for why in item.why)
    if item.anyway is not None:
        facts = {"reason": item.anyway, "by": say.known(entry.anyway_by), "when": say.moment(item.anyway_utc)}
        found = f"{found} {say.of('report_job.anyway', **facts)}".strip()
    return [
        say.said(entry.place),
        say.said(entry.title),
        say.said(entry.outcome),
        found or "–",
        say.moment(item.made_utc),
        say.known(entry.made_by),
    ]


def _round(content: ReportContent, each: Adjustment) -> dict[str, Any]:
    say = Saying(content)
    facts: dict[str, object] = {
        "number": each.number, "before_um": each.value_before_um, "expected_um": each.expected_um,
        "low_um": each.interval_um[0], "high_um": each.interval_um[1], "after_um": each.value_after_um,
        "goal_um": each.goal_um, "when": say.moment(each.measured_utc or each.planned_utc),
    }  # fmt: skip
    key = "report_job.round" if each.value_after_um is not None else "report_job.round_open"
    head = [say.of(f"report_job.column_{name}") for name in ("support", "asked", "done", "when", "remark")]
    return {
        "title": say.of("report_job.round_title", number=each.number),
        "said": [say.of(key, **facts), *_learnt(say, each)],
        "head": head,
        "rows": [_move_row(say, move) for move in each.moves],
        "told": [say.said(statement) for statement in each.told],
        "confirmed": [
            say.of(
                "report_job.confirmed", what=say.said(one.statement), answer=one.answer,
                by=say.known(content.name_of(one.by)), when=say.moment(one.made_utc),
            )
            for one in each.confirmations
        ],
        "alarms": [f"{say.moment(alarm.seen_utc)}: {say.said(alarm.statement)}" for alarm in each.alarms],
    }  # fmt: skip


def _learnt(say: Saying, each: Adjustment) -> list[str]:
    if each.surprise is None:
        return []
    if not each.surprise:
        return [say.of("report_job.as_expected")]
    causes = [
        say.of(
            "report_job.cause",
            cause=say.of(f"report_job.cause.{cause.kind}", support=cause.support, other=cause.other or ""),
            probability=cause.probability,
        )
        for cause in each.causes
    ]
    return [say.of("report_job.surprise", causes="; ".join(causes) or say.of("report.not_recorded"))]


def _move_row(say: Saying, move: MoveMade) -> list[str]:
    done = say.of("report.not_recorded") if move.done_um is None else f"{signed(move.done_um, 0)} µm"
    return [move.support, f"{signed(move.asked_um, 0)} µm", done, say.moment(move.done_utc), move.note or "–"]


def _state(content: ReportContent) -> str | None:
    if content.plan is None:
        return None
    say, state = Saying(content), content.plan.state
    named = (
        ("other_axes", state.other_axes), ("clamps", state.clamps), ("anchor_bolts", state.anchor_bolts),
        ("compensation", state.compensation), ("weight_compensation", state.weight_compensation),
        ("warm_up", state.warm_up),
    )  # fmt: skip
    return "; ".join(f"{say.of(f'report.{name}')} {value}" for name, value in named if value) or None


def _signature(content: ReportContent, say: Saying, role: str) -> dict[str, Any]:
    found = next((each for each in reversed(content.signatures) if each.role == role), None)
    return {
        "role": say.party(role),
        "name": "" if found is None else say.known(content.name_of(found.person_id)),
        "when": say.of("report_job.ink") if found is None else _signed(say, found),
        "svg": "" if found is None or not found.strokes else _drawn(found),
        "alt": say.of("report_job.signature_alt", role=say.party(role)),
    }


def _signed(say: Saying, found: SignedReport) -> str:
    return say.of(
        "report_job.signed", when=say.moment(found.signed_utc), revision=found.revision, hash=found.content_sha256[:16]
    )


def _drawn(found: SignedReport) -> str:
    """The strokes as SVG, a box of 300 by 90."""
    lines = "".join(
        f'<polyline points="{" ".join(f"{300 * x:.1f},{300 * y:.1f}" for x, y in stroke)}" fill="none" '
        f'stroke="#1d2a33" stroke-width="1.6" stroke-linecap="round" stroke-linejoin="round"/>'
        for stroke in found.strokes
    )
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 90" width="300" height="90">{lines}</svg>'

"""The alarm that fills the screen, as markup: hidden until the live figures carry one."""

from __future__ import annotations

from html import escape

from waywright.wording import text


def alarm_markup(*, may_end: bool) -> str:
    """A dialogue that is ended only at its own press; without that where somebody may only look."""
    press = (
        '<button type="button" class="press next" data-does="post" data-post="/adjusting/seen">'
        f"{escape(text('rounds.alarm_seen'))}</button>"
        if may_end
        else f'<p class="elsewhere">{escape(text("rounds.alarm_elsewhere"))}</p>'
    )
    return (
        '<div class="alarm" data-alarm hidden role="alertdialog" aria-modal="true" aria-labelledby="alarm-stop" '
        'aria-describedby="alarm-what" tabindex="-1">'
        f'<div class="stop" id="alarm-stop">{escape(text("rounds.alarm_title"))}</div>'
        '<div class="what" id="alarm-what" role="alert"></div>'
        f'<p class="muted" data-mute hidden>{escape(text("rounds.mute"))}</p>{press}</div>'
    )

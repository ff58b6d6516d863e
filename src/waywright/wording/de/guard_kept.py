"""Deutsch: was einer aufbewahrten Linie für eine Prüfung ihrer Aufstellung fehlt."""

TEXT = {
    "guard_kept.not_recorded": (
        "{name} ist für {line} nicht aufgezeichnet. Sagen Sie es (`--{name}`), oder bewahren Sie zuerst die Prüfung "
        "auf, die es sagt (`guard steadiness --keep`, oder die Toleranz im Plan des Besuchs)."
    ),
    "guard_kept.no_standstill": (
        "{line} hat keine zwei Messwerte von {least_s:.0f} s oder mehr an verschiedenen Orten. Nehmen Sie einen "
        "Durchgang mit zwei Halten, nahe an der Quelle und fern von ihr, und `capture --averaging-s 300`."
    ),
    "guard_kept.say": "Sagen Sie {name} (`--{name}`), oder nennen Sie eine aufbewahrte Linie, die es hat (`--line`).",
    "guard_kept.file_or_line": "Geben Sie eine Tabelle an, oder eine aufbewahrte Linie (`--line`).",
}

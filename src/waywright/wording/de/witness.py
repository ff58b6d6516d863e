"""Deutsch: Sätze über das an Ort und Stelle Versuchte: noch einmal gemessene Stationen, die Selbstprüfung."""

TEXT = {
    "witness.line_name": "{line}, bezeugt",
    "witness.no_stations": (
        '{said!r} ist keine Liste von Stationen. Schreiben Sie sie als "0, 1200, 2400, 5200" (mm).'
    ),
    "witness.nothing_common": (
        "Nichts von {line} wurde zweimal gemessen. Messen Sie sie mit denselben Instrumenten noch einmal."
    ),
    "witness.few_stations": (
        "Nur {stations} gewählte Stationen wurden zweimal gemessen; zum Vergleichen sind {needed} nötig."
    ),
    "witness.left": "Gewählte Stationen, die noch fehlen: {places} mm.",
    "witness.not_compared": "Nicht verglichen, weil eine der beiden dort keine Station hat: {places} mm.",
    "witness.agrees": "Alle {values} Werte stimmen innerhalb der Unsicherheit beider überein.",
    "witness.differs": "{outside} von {values} Werten weichen um mehr als die Unsicherheit beider voneinander ab.",
    "witness.kept": "Es steht im Bericht des Besuchs.",
    "witness.column_quantity": "Größe",
    "witness.column_position": "mm",
    "witness.column_first": "zuerst µm",
    "witness.column_again": "wieder µm",
    "witness.column_difference": "Unterschied µm",
    "witness.column_allowed": "zulässig µm",
    "witness.self_check": "Waywright {version} · {made} · Python {python} · {system}",
    "witness.column_check": "veröffentlichter Wert",
    "witness.column_source": "Quelle",
    "witness.column_published": "veröffentlicht",
    "witness.column_found": "dieses Programm",
    "witness.all_passed": "Alle {checks} veröffentlichten Werte werden erreicht.",
    "witness.some_failed": (
        "{failed} von {checks} veröffentlichten Werten werden nicht erreicht. Verwenden Sie dieses Exemplar nicht; "
        "richten Sie es neu ein."
    ),
}

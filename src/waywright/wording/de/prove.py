"""Deutsch: Wörter der Seite Nachweisen."""

TEXT = {
    "prove.scope": "wovon der Bericht handelt",
    "prove.scope_line": "diese Linie",
    "prove.scope_visit": "der ganze Besuch",
    "prove.language": "Sprache des Berichts",
    "prove.language_en": "English",
    "prove.language_de": "Deutsch",
    "prove.language_both": "English + Deutsch",
    "prove.paper": "Papier",
    "prove.paper_a4": "A4",
    "prove.paper_us-letter": "US Letter",
    "prove.visit_file": "ganzer Besuch, Datei",
    "prove.no_direction": (
        "Es wurde keine Richtungsprobe gemacht: die Vorzeichen beruhen darauf, wie der Detektor angeblich sitzt."
    ),
    "prove.no_steadiness": "Es wurde keine Ruhe aufgezeichnet.",
    "prove.make_it": "nachholen",
    "prove.setting": "Die Seiten des Berichts werden gesetzt …",
    "prove.notes": "In Ihren Worten",
    "prove.kind": "Art",
    "prove.kind_limitation": "Einschränkung",
    "prove.kind_safety": "Sicherheit",
    "prove.kind_further-check": "weiter zu prüfen",
    "prove.kind_not-corrected": "nicht berichtigt",
    "prove.kind_reservation": "Vorbehalt des Kunden",
    "prove.kind_remark": "Bemerkung",
    "prove.kind_next-check": "nächste Prüfung, Datum wie 2027-03-31",
    "prove.kind_number": "Nummer des Berichts",
    "prove.words": "Worte",
    "prove.add_note": "zum Bericht hinzufügen",
    "prove.sign_title": "Unterschreiben",
    "prove.sign_words": (
        "Unterschrieben wird der Bericht, wie er jetzt ist. Was danach festgehalten wird, macht eine neue Revision."
    ),
    "prove.sign_name": "Name",
    "prove.sign_role": "für",
    "prove.signature_pad": "Hier mit Finger, Stift oder Maus unterschreiben.",
    "prove.sign_drawn": "wie gezeichnet unterschreiben",
    "prove.sign_ink": "mit Tinte auf dem Ausdruck unterschreiben",
    "prove.sign_clear": "löschen",
    "prove.signed": "{when}: {name} hat Revision {revision} unterschrieben, {role}.",
    "prove.photos": "Fotos",
    "prove.photos_words": "Mit dem Besuch aufbewahrt, unverändert, und in der Datei des ganzen Besuchs.",
    "prove.caption": "Unterschrift des nächsten Fotos",
    "prove.add_photo": "Fotos hinzufügen",
    "prove.as_left_words": (
        "Wurde seither etwas verstellt? Dann wird dieselbe Linie noch einmal gemessen, wie hinterlassen."
    ),
    "prove.as_left": "diese Linie noch einmal messen, wie hinterlassen",
}

"""Deutsch: Sätze über Telefone: koppeln, Rollen, Zahlen."""

TEXT = {
    "phones.phones": "Telefone",
    "phones.phones_closed": (
        "Jetzt erreicht nur dieser Rechner die Seiten. Starten Sie `waywright serve --lan`, um Telefone im selben "
        "Netz zu koppeln, zum Beispiel über den Hotspot dieses Rechners."
    ),
    "phones.phones_words": (
        "Ein Telefon zeigt die Zahlen am Schlitten. Zeigen Sie hier einen Code und öffnen Sie sein Bild mit der "
        "Kamera des Telefons; der Code gilt einmal und kurze Zeit."
    ),
    "phones.role_label": "was das Telefon darf",
    "phones.role.look": "ansehen",
    "phones.role.take": "ansehen und Messwerte nehmen",
    "phones.paired": "Gekoppelt",
    "phones.paired_phone": "{name}: darf {role}; zuletzt vor {seconds:.0f} s gehört",
    "phones.pair_title": "Dieses Telefon koppeln",
    "phones.pair_words": "Geben Sie den Code ein, den der Laptop zeigt.",
    "phones.pair_code": "Code",
    "phones.pair": "koppeln",
    "phones.pair_wrong": (
        "Dieser Code ist falsch, verbraucht oder zu alt. Lassen Sie sich am Laptop einen neuen zeigen."
    ),
    "phones.pair_wait": (
        "Zu viele falsche Codes. Warten Sie {seconds:.0f} s und lassen Sie sich dann am Laptop einen neuen zeigen."
    ),
    "phones.phone_title": "Zahlen",
    "phones.phone_waits": "Es sind keine Instrumente verbunden. Sobald welche da sind, erscheinen die Zahlen hier.",
    "phones.phone_taken": "genommen",
    "phones.support": "Aufstellelement",
    "phones.again": (
        "Bei {places} {unit} noch einmal nehmen: zurückfahren und still stehen, es wird von selbst genommen."
    ),
}

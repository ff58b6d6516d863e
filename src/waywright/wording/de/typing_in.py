"""Deutsch: Sätze zum Eintippen von Werten."""

TEXT = {
    "typing_in.division": (
        "Was ist ein Teilstrich wert? Geben Sie --division und --division-unit an, zum Beispiel 0.02 und mm/m."
    ),
    "typing_in.places": (
        "Es gibt keinen Ort zum Eintippen: von, bis und Schritt müssen vorwärts führen, zum Beispiel 0 bis 5200 alle "
        "400."
    ),
    "typing_in.full": "Alle {places} Orte haben ihren Wert.",
    "typing_in.no_number": "{said!r} ist keine Zahl. Tippen Sie sie wie auf der Anzeige, etwa -12.5 oder 3,2.",
    "typing_in.row": "Zeile {row} der Spalte ist keine Zahl: {said!r}. Nichts davon wurde übernommen.",
    "typing_in.too_many": (
        "Die Spalte hat {rows} Zahlen, es sind aber nur {places} Orte übrig. Nichts davon wurde übernommen."
    ),
    "typing_in.quantity": "{said!r} lässt sich hier nicht eintippen. Möglich sind: {allowed}.",
    "typing_in.kept": "{readings} von {places} Orten haben ihren Wert; sie sind im Archiv.",
    "typing_in.ask": "{number:>3} von {places}  {place_mm:>8.1f} mm  ({unit}): ",
    "typing_in.doubt": (
        "{number:g} {unit} passt nicht zu den Nachbarn (erwartet etwa {expected:.3g} {unit}){hint}. Enter behält ihn, "
        "eine andere Zahl ersetzt ihn: "
    ),
    "typing_in.slip_sign": "; mit dem anderen Vorzeichen passte er",
    "typing_in.slip_tenth": "; zehnmal so viel passte",
    "typing_in.slip_ten_times": "; ein Zehntel davon passte",
}

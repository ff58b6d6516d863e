"""Deutsch: Was beim Beobachten eines Durchgangs auffällt, und welche Station noch einmal zu nehmen ist."""

TEXT = {
    "guard_watch.missed": (
        "Zwischen {from_mm:.0f} und {to_mm:.0f} mm wurde eine Station ausgelassen ({missed:.0f} zu {spacing_mm:.0f} "
        "mm). Fahren Sie zurück und nehmen Sie sie."
    ),
    "guard_watch.doubled": (
        "Die Messwerte bei {from_mm:.0f} und {to_mm:.0f} mm liegen viel enger als {spacing_mm:.0f} mm: zweimal "
        "dieselbe Station? Fahren Sie zur nächsten."
    ),
    "guard_watch.scatter": (
        "Nehmen Sie die Station bei {position_mm:.0f} mm noch einmal: die Einzelwerte von {channel} streuen um "
        "{sd:.2f} {unit}, üblich ist {usual:.2f} (Grenze {limit:.2f}). Steht jemand im Strahl, oder schwingt etwas? "
        "Der alte Messwert bleibt."
    ),
    "guard_watch.outlier": (
        "Nehmen Sie die Station bei {position_mm:.0f} mm noch einmal: {channel} liegt um {off:+.1f} {unit} neben den "
        "Nachbarn, die anderen streuen um {spread:.1f}. Der alte Messwert bleibt."
    ),
    "guard_watch.spike": (
        "Nehmen Sie die Station bei {position_mm:.0f} mm noch einmal: {channel} liegt um {size:+.1f} ± "
        "{standard_error:.1f} {unit} neben den anderen Durchgängen. Der alte Messwert bleibt."
    ),
    "guard_watch.cannot-tell_here": (
        "Nehmen Sie die Station bei {position_mm:.0f} mm noch einmal: {channel} passt dort nicht zu den anderen "
        "Durchgängen ({kinds}). Der alte Messwert bleibt."
    ),
    "guard_watch.step": (
        "Von einem Ort zwischen {from_mm:.0f} und {to_mm:.0f} mm an liegt {channel} um {size:+.1f} ± "
        "{standard_error:.1f} {unit} neben den anderen Durchgängen und bleibt so: etwas ist verrutscht. Prüfen Sie "
        "Magnete, Quelle und Detektor, dann nehmen Sie den Durchgang noch einmal."
    ),
    "guard_watch.shift": (
        "Von einem Ort zwischen {from_mm:.0f} und {to_mm:.0f} mm an passt {channel} zu Stationen, die {shift_mm:+.0f} "
        "mm entfernt sind: eine Station wurde doppelt gelesen oder ausgelassen. Prüfen Sie die Positionen, dann "
        "nehmen Sie den Durchgang noch einmal."
    ),
    "guard_watch.cannot-tell": (
        "Zwischen {from_mm:.0f} und {to_mm:.0f} mm passt {channel} nicht zu den anderen Durchgängen, und warum, ist "
        "nicht zu unterscheiden ({kinds}). Fahren Sie auf {from_mm:.0f} mm zurück und nehmen Sie die Stationen von "
        "dort noch einmal."
    ),
    "guard_watch.closure": (
        "Der Durchgang schließt nicht: {change:+.1f} zwischen dem ersten und dem letzten Messwert am selben Ort, "
        "zulässig sind {limit:.1f}. Nehmen Sie ihn noch einmal."
    ),
    "guard_watch.closure_at": (
        "Bei {position_mm:.0f} mm schließt {channel} nicht: {change:+.1f} {unit} von Durchgang {first:.0f} zu "
        "Durchgang {again:.0f}, zulässig sind {limit:.1f}. Lassen Sie Quelle und Luft zur Ruhe kommen, dann nehmen "
        "Sie den Durchgang noch einmal."
    ),
    "guard_watch.drift": (
        "{channel} driftet: {change:+.1f} {unit} während eines Durchgangs, wie Durchgänge einer Richtung zeigen; "
        "zulässig sind {limit:.1f}. Lassen Sie die Quelle zur Ruhe kommen, oder machen Sie die Durchgänge kürzer."
    ),
    "guard_watch.temperature": (
        "Die Temperatur hat sich in {minutes:.0f} min um {change_k:+.1f} K geändert, schneller als {limit_k_per_h:g} "
        "K je Stunde. Warten Sie, bis sie steht, dann nehmen Sie den Durchgang noch einmal."
    ),
    "guard_watch.where": "Durchgang {passes} {code}",
    "guard_watch.nothing_found": "Nichts fällt auf: die Durchgänge stimmen innerhalb ihrer Streuung überein.",
    "guard_watch.now_again": " noch einmal nehmen: {places} mm",
}

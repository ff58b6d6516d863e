"""Deutsch: Wörter der Seite für Sprache und Einheiten."""

TEXT = {
    "display.link": "Sprache, Einheiten",
    "display.title": "Sprache und Einheiten",
    "display.words": "Nur für diesen Browser. Was aufbewahrt und berichtet wird, bleibt, wie es ist.",
    "display.language": "Sprache",
    "display.language.en": "English",
    "display.language.de": "Deutsch",
    "display.length": "Abweichungen in",
    "display.angle": "Winkel in",
    "display.place": "Positionen in",
}

"""Words of the page for language and units."""

TEXT = {
    "display.link": "language, units",
    "display.title": "Language and units",
    "display.words": "For this browser only. What is kept and reported stays as it is.",
    "display.language": "language",
    "display.language.en": "English",
    "display.language.de": "Deutsch",
    "display.length": "deviations in",
    "display.angle": "angles in",
    "display.place": "positions in",
}

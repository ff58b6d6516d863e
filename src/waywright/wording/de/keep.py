"""Deutsch: Sätze über Aufbewahrtes: Maschinen, Besuche, Menschen, Dateien."""

TEXT = {
    "keep.which_person": (
        "{wanted!r} passt auf {found} Menschen, und es muss auf einen passen. Nehmen Sie den ganzen Namen, oder die "
        "Kennung, die `waywright archive people` zeigt."
    ),
    "keep.which_machine": (
        "{wanted!r} passt auf {found} Maschinen, und es muss auf eine passen. Das Archiv kennt: {known}. Ein Name, "
        "eine Seriennummer oder die letzten Zeichen einer Kennung genügen."
    ),
    "keep.which_visit": (
        "{wanted!r} passt auf {found} Besuche, und es muss auf einen passen. `waywright visit list` zeigt die "
        "Kennungen; ihre letzten Zeichen genügen."
    ),
    "keep.machine_exists": "Das Archiv hat schon eine Maschine {name}. Ändern Sie sie mit `waywright machine edit`.",
    "keep.bad_change": (
        "{said!r} ist keine Änderung. Schreiben Sie Name=Wert mit den Namen der Maschinendatei, etwa serial=0815."
    ),
    "keep.no_such_row": (
        "{said!r}: eine solche Zeile gibt es nicht. Es gibt: {known}. Um eine hinzuzufügen, die Maschinendatei mit "
        "`machine show NAME --write FILE` schreiben, ändern und mit `machine edit NAME --file FILE` angeben."
    ),
    "keep.bad_id": "{said!r} ist keine Kennung. Nehmen Sie die, mit der die vorige Seite endete.",
    "keep.cannot_read": "{file} ist nicht lesbar: {reason}.",
    "keep.too_large": (
        "{file} hat {size_mb:.0f} MB; ein Archiv nimmt Dateien bis {largest_mb:.0f} MB. Machen Sie sie kleiner."
    ),
    "keep.which_attachment": (
        "{wanted!r} passt auf {found} angehängte Dateien, und es muss auf eine passen. `waywright machine show` und "
        "`waywright visit show` zeigen sie mit ihren Kennungen."
    ),
    "keep.machine_kept": "{name} ist aufbewahrt.",
    "keep.visit_begun": (
        "Der Besuch bei {machine} hat begonnen. Seine Kennung endet auf {id}; nennen Sie ihn mit --visit."
    ),
    "keep.not_recorded": "nicht aufgezeichnet",
    "keep.blanked": (
        "Der Name ist hier aus jeder Fassung genommen. Andere Archive folgen, wenn sie zusammengeführt werden."
    ),
    "keep.nothing_found": "Nichts enthält alle diese Wörter.",
    "keep.empty": "Das Archiv ist leer.",
    "keep.no_instruments": (
        "Noch wurde kein Messgerät mit Seriennummer benutzt. Eines wird aufbewahrt, wenn eine Linie mit seiner "
        "Beschreibung beginnt."
    ),
    "keep.machine_without_name": "Wie heißt die Maschine? Geben Sie --name an, oder eine Maschinendatei.",
    "keep.attached": "{name} ist aufbewahrt ({size_kb:.0f} kB); die Kennung endet auf {id}.",
    "keep.more": "Es gibt mehr; weiter mit --after {after}.",
    "keep.file_exists": "{file} gibt es schon. Nennen Sie eine andere Datei.",
    "keep.which_conflict": (
        "{wanted!r} mit Fassung {version} passt auf {found} Widersprüche, und es muss auf einen passen. `waywright "
        "archive conflicts` zeigt sie mit ihren Nummern."
    ),
    "keep.missing_cluster": (
        "Ein Rechnerverbund braucht einen zusätzlichen Teil, der nicht eingerichtet ist. Holen Sie ihn mit `python3 "
        "x.py add cluster`."
    ),
    "keep.missing_department": (
        "Das Archiv einer Abteilung braucht einen zusätzlichen Teil, der nicht eingerichtet ist. Holen Sie ihn mit "
        "`python3 x.py add department`."
    ),
    "keep.no_cluster": (
        "Der Rechnerverbund unter {address} antwortet nicht, oder hat keinen Arbeiter ({reason}). Prüfen Sie die "
        "Adresse; ohne ihn rechnen alle Kerne dieses Rechners."
    ),
    "keep.exported": (
        "{file}: {passes} Durchgänge mit {readings} Messwerten, {records} Beschreibungen, {results} jetzt gerechnete "
        "Ergebnisse."
    ),
    "keep.backed_up": "{file} ist eine ganze Kopie ({size_mb:.1f} MB); sie wurde geprüft und ist heil.",
    "keep.restored": "Die Sicherung ist eingesetzt.",
    "keep.restored_over": "Die Sicherung ist eingesetzt. Was vorher da war, ist {file}.",
    "keep.received": "Hinzugekommen: {added}.",
    "keep.nothing_new": "Es fehlte nichts.",
    "keep.refused": (
        "{count} Zeilen wurden von den Regeln des Abteilungsarchivs abgewiesen. Sie bleiben in Ihrem; die Leitung der "
        "Abteilung kann sie senden."
    ),
    "keep.forked": (
        "Durchgänge, die auf zwei Rechnern fortgesetzt wurden, bleiben getrennt, nichts von ihnen wurde gesendet: "
        "{passes}. Ihre Messwerte sind in dem Archiv, in das sie genommen wurden."
    ),
    "keep.damaged": (
        "Durchgänge mit einem Messwert, der nicht zu seinem Siegel passt: {passes}. Ab diesem Messwert wurde nichts "
        "gesendet; führen Sie `waywright archive check` aus."
    ),
    "keep.conflicts": (
        "{count} Beschreibungen wurden auf zwei Rechnern geändert. `waywright archive conflicts` zeigt sie "
        "nebeneinander."
    ),
    "keep.no_conflicts": "Keine Beschreibung wurde auf zwei Rechnern geändert.",
    "keep.decide": (
        "Lassen Sie eine gelten mit `waywright archive decide ID VERSION --reason ...`; bis dahin gilt die letzte."
    ),
    "keep.decided": "Jetzt gilt Fassung {version}.",
    "keep.why": "warum",
    "keep.blank_name": "(entfernt)",
    "keep.reassessed": (
        "{lines} Linien: {computed} gerechnet, {up_to_date} auf dem Stand, {not_judged} nicht zu beurteilen."
    ),
    "keep.verdict_changed": "{line}, {quantity}: {before} ist jetzt {after}.",
    "keep.sheet": "Blatt",
    "keep.filled": "{filled} von {places} ausgefüllt",
    "keep.reads": "Abgelesen mit: {title}, Seriennummer {serial}.",
    "keep.overdue": "{due}, war abgelaufen",
    "keep.instrument_kept": "{title} ist aufbewahrt; Kalibrierscheine: {papers}.",
    "keep.scan_without_number": "{file} ist ein Kalibrierschein: mit --certificate auch seine Nummer angeben.",
    "keep.which_instrument": (
        "Mehrere Geräte haben die Seriennummer {serial}: {found}. Stattdessen die Beschreibungsdatei nennen."
    ),
    "keep.bad_day": "{said!r} ist kein Tag. So schreiben: 2026-03-01.",
    "keep.read_with": "abgelesen mit: Seriennummern, mit ; dazwischen (darf leer bleiben)",
}

"""Deutsch: Sätze der Tätigkeiten."""

TEXT = {
    "jobs.no_straightness": (
        "{file} enthält keine Geradheit (vorhanden: {columns}). Nennen Sie eine Spalte nach Kurzzeichen aus ISO 230-1 "
        "und Einheit, zum Beispiel EYZ_um."
    ),
    "jobs.left_out": "Durchgang {number}, {position_mm:g} mm, {why}",
    "jobs.one_link": (
        "Es sind mehrere Verbindungen angegeben. Zwei Linien verbindet eine: eine Brücke, ein Neigungsmesser, oder "
        "ein Strahl für beide."
    ),
    "jobs.level_base": (
        "{file}: ein Neigungsmesser als Verbindung braucht den Abstand seiner Füße. Geben Sie --level-base-mm an."
    ),
    "jobs.no_joint": (
        "Wo ist der Stoß? Geben Sie seine Position an, oder die Maschinendatei, deren Bett Stöße hat, mit einer "
        "Tabelle, die sagt, wovon ihre Positionen zählen; {file} nennt keinen Stoß innerhalb seiner Stationen."
    ),
    "jobs.no_joint_of_machine": (
        "{file} hat keinen Stoß zwischen der ersten und der letzten Station. Sehen Sie nach bed_mm der Stöße und nach "
        "den Bemerkungen `zero mark`, `zero offset mm` und `positions grow` der Tabelle."
    ),
    "jobs.not_answered": "Das lässt sich nicht mehr rechnen. {why}",
    "jobs.which_question": (
        "{wanted!r} passt auf {found} aufbewahrte Ergebnisse, und es muss auf eines passen. `waywright evaluate kept` "
        "zeigt die Kennungen; ihre letzten Zeichen genügen."
    ),
    "jobs.sag_share": (
        "{share:g} kann nicht die Unsicherheit eines Durchhangs sein. Geben Sie einen Anteil davon an, zum Beispiel "
        "0.1 für 10 %."
    ),
    "jobs.straightedge_size": (
        "Der Durchhang braucht auch die Größe des Lineals: geben Sie --length-mm und --height-mm an."
    ),
    "jobs.no_visit": (
        "In {archive} ist noch kein Besuch. Beginnen Sie einen mit `waywright capture` oder `waywright type`."
    ),
    "jobs.reflector_sees_no_earth": (
        "Ein Autokollimator sieht einen geraden Strahl: lassen Sie --beam weg, es wird nichts herausgenommen."
    ),
    "jobs.no_rotation": (
        "{file} enthält keine brauchbare Drehung (vorhanden: {columns}). Nennen Sie eine Spalte nach Kurzzeichen aus "
        "ISO 230-1 und Einheit, zum Beispiel EAZ_um_per_m."
    ),
    "jobs.quantity_missing": "{file} hat keine Geradheit {quantity}; vorhanden: {present}.",
    "jobs.which_pass": (
        "{wanted!r} passt auf {found} Durchgänge, und es muss auf einen passen. `waywright archive list` zeigt die "
        "Kennungen; ihre letzten Zeichen genügen."
    ),
    "jobs.archive_sound": (
        "Alles ist, wie es geschrieben wurde: {readings} Messwerte, {records} Einträge, {blocks} Blöcke von "
        "Datenströmen; jedes Siegel und jede Kette hält."
    ),
    "jobs.excluded": "weggelassen: {reason}",
    "jobs.superseded_by": "noch einmal genommen als Nr. {number}",
    "jobs.repeat": "Wiederholung",
    "jobs.bad_axis": "{axis!r} ist keine Achse. Schreiben Sie X, Y oder Z.",
    "jobs.position_channels": (
        "Genau ein Kanal der Instrumente muss eine Position sein; es sind {found} ({channels}). Fügen Sie die "
        "Beschreibung des Entfernungsmessers hinzu, oder lassen Sie einen weg."
    ),
    "jobs.no_line": "{archive} enthält keine Linie {wanted!r}. `waywright archive list` zeigt, was da ist.",
    "jobs.no_readings": "Die Linie {line!r} hat noch keine Messwerte. Nehmen Sie zuerst einen Durchgang auf.",
    "jobs.quantity_not_measured": "{quantity} wurde auf der Linie {line!r} nicht gemessen.",
    "jobs.no_such_channel": "In der Aufstellung dieser Linie gibt es keinen Kanal {channel!r}; es gibt: {known}.",
    "jobs.no_such_direction": "{direction!r} ist keine Richtung im Raum. Schreiben Sie: {allowed}.",
    "jobs.nothing_to_continue": "Die Linie {line!r} hat keinen unterbrochenen Durchgang. Beginnen Sie einen neuen.",
    "jobs.unknown_mark": (
        "Die Position null gehört zur Marke {mark!r}, die {machine} nicht hat (vorhanden: {known}). Ergänzen Sie die "
        "Marke in der Maschinendatei, oder nennen Sie eine von diesen."
    ),
    "jobs.two_planes": (
        "{file} muss zwei Geradheiten einer Achse enthalten, zum Beispiel EYZ_um und EXZ_um; vorhanden: {present}."
    ),
    "jobs.which_quantity": (
        "{file} hat keine einzelne Größe {wanted} zu verwenden; vorhanden: {present}. Nennen Sie eine davon."
    ),
    "jobs.level_positions": (
        "{file}, Zeile {line}: die Positionen des nahen Fußes müssen in einer Richtung weitergehen, mindestens zwei "
        "Schritte. Ordnen Sie die Zeilen, wie gemessen wurde."
    ),
    "jobs.no_positioning": (
        "{file} muss eine Größe des Positionierens enthalten, EXX_um, EYY_um oder EZZ_um (vorhanden: {columns})."
    ),
    "jobs.positioning_direction": (
        "{file}: jeder Lauf braucht eine Richtung, forward für das Anfahren in positivem Sinn, backward für das "
        "andere. Füllen Sie die Spalte direction aus."
    ),
    "jobs.positioning_one_way": (
        "{file} hat keinen Lauf {missing}. Messen Sie beide Richtungen: ohne das gibt es keine Umkehrspanne."
    ),
    "jobs.positioning_target": (
        "{file}: der Lauf {run} {direction} hat beim Ziel {target_mm:g} mm keinen Messwert. Messen Sie jedes Ziel in "
        "jedem Lauf."
    ),
    "jobs.step_without_length": "{file}, Zeile {line}: beide Füße stehen am selben Ort. Berichtigen Sie diese Zeile.",
    "jobs.step_not_joined": (
        "{file}, Zeile {line}: dieser Schritt der Linie {name!r} beginnt nicht, wo der davor endete, oder verlässt "
        "die Gerade. Berichtigen Sie die Orte, oder geben Sie dem Rest einen eigenen Namen."
    ),
    "jobs.axes_not_said": (
        "{file} sagt nicht, wie die Achsen liegen. Fügen Sie die Bemerkungen `# up: -Y` und `# operator: +X` hinzu "
        "(wie an Ihrer Maschine), oder geben Sie den Versatz längs X, Y, Z an."
    ),
    "jobs.sag_twice": (
        "{file} hat eine Spalte für den Durchhang des Dorns, und seine Größe ist auch angegeben. Lassen Sie eines weg."
    ),
    "jobs.no_reason": "Sagen Sie, warum der Messwert weggelassen wird; der Bericht nennt den Grund.",
    "jobs.too_little_heard": (
        "Der Kanal {channel} gab {samples} Werte; nötig sind {needed}. Sehen Sie nach, wie es dem Instrument geht, "
        "warten Sie, und versuchen Sie es noch einmal."
    ),
    "jobs.bad_stock": "{part!r} ist keine Folie. Schreiben Sie Dicke in µm und Anzahl, etwa 50 x 4.",
    "jobs.no_setup": "Die Linie {line} hat noch keine Aufstellung. Nehmen Sie zuerst einen Durchgang auf.",
    "jobs.nothing_proved": (
        "Diese Probe sagt nicht, in welchen Richtungen die Kanäle zählen. Bewegen Sie den Detektor noch einmal."
    ),
    "jobs.unknown_fact": "{name!r} ist nichts, wonach der Bericht fragt. Er fragt nach: {allowed}.",
    "jobs.bad_fact": (
        "{value!r} lässt sich nicht als {name} aufzeichnen. Schreiben Sie etwas; wo nur einige Antworten passen: "
        "{allowed}."
    ),
    "jobs.bad_temperature": "{value!r} ist keine Temperatur. Schreiben Sie Grad Celsius, zum Beispiel 20.6.",
    "jobs.no_height": (
        "{file} enthält keine Höhe (vorhanden: {columns}). Ein Plan braucht die Geradheit in senkrechter Richtung "
        "einer waagerechten Achse."
    ),
    "jobs.no_supports": (
        "{machine} hat kein Bett mit Aufstellelementen. Beschreiben Sie sie in der Maschinendatei ([[bed.support]])."
    ),
    "jobs.typed_vertical": "Getippte Messwerte gehören zu einer waagerechten Achse; {axis} steht hier senkrecht.",
    "jobs.not_typed": (
        "Durchgang {number} nimmt keine getippten Messwerte: er ist beendet, oder er wird von Instrumenten "
        "aufgenommen. Beginnen Sie einen getippten Durchgang."
    ),
    "jobs.typed_channels": "Getippte Werte sind hier {allowed}; {channels} passt nicht.",
    "jobs.typed_number": "Eine getippte Position oder ein Wert ist keine Zahl.",
    "jobs.which_limit": (
        "Geben Sie entweder eine Grenze in µm an, oder eine Toleranzregel zusammen mit der Länge, für die sie gefragt "
        "ist."
    ),
    "jobs.not_stated": (
        "Für dieses Ergebnis ({result}) wird keine Unsicherheit angegeben. Es gibt sie für Geradheit, Teilstücke, "
        "Neigung, Führungsbahn, Ebenheit, Winkel, Verwindung, Rollen, Rechtwinkligkeit, Winkelnormale, Parallelität, "
        "Stöße, Positionieren und Geradheit im Raum."
    ),
    "jobs.rule_without_uncertainty": (
        "Ein Urteil braucht die Unsicherheit des Wertes. Fügen Sie --uncertainty mit einer Budgetdatei hinzu, oder "
        "mit einem der fertigen Budgets: beam, level, autocollimator, straightedge, cross-level, positioning."
    ),
}

"""Deutsch: Sätze der Instrumente, ihrer Beschreibungen und ihrer Verbindungen."""

TEXT = {
    "instruments.no_file": "Die Beschreibung {file} ist nicht lesbar: {reason}. Prüfen Sie den Pfad.",
    "instruments.not_utf8": "{file} ist kein UTF-8-Text (Byte {byte}). Speichern Sie die Datei als UTF-8.",
    "instruments.not_toml": "{file} ist kein gültiges TOML: {reason}.",
    "instruments.unknown_key": "{file}: der Schlüssel {key} ist nicht bekannt. Hier möglich: {allowed}.",
    "instruments.missing_key": "{file}: der Schlüssel {key} fehlt. Möglich: {allowed}.",
    "instruments.bad_value": "{file}: der Wert von {key} passt nicht. Möglich: {allowed}.",
    "instruments.bad_pattern": (
        "{file}: {key} ist kein regulärer Ausdruck ({reason}). Schreiben Sie benannte Gruppen wie "
        "(?P<v>[-+]?\\d+\\.\\d+)."
    ),
    "instruments.unknown_group": "{file}: {key} nennt die Gruppe {group!r}, das Muster hat aber: {allowed}.",
    "instruments.same_channel": "{file}: {key}: zwei Kanäle heißen {name!r}. Jeder braucht seinen eigenen Namen.",
    "instruments.bad_unit": "{file}: {key}: die Einheit {unit!r} passt nicht. Möglich: {allowed}.",
    "instruments.bad_direction": "{file}: {key}: ein Kanal der Art {kind} braucht eine Richtung. Möglich: {allowed}.",
    "instruments.no_direction": (
        "{file}: {key}: ein Kanal der Art {kind} hat keine Richtung. Entfernen Sie den Schlüssel."
    ),
    "instruments.bad_factor": "{file}: {key} ist {value}. Möglich: eine endliche Zahl, beim Faktor nicht 0.",
    "instruments.bad_range": "{file}: {key} ist [{lower}, {upper}]. Möglich: zuerst die untere, dann die obere Grenze.",
    "instruments.no_lines": (
        "{file}: {key} gehört zu Textzeilen; diese Verbindung bringt benannte Zahlen. Entfernen Sie den Schlüssel; "
        "`group` jedes Kanals nennt den Knoten oder das Datenelement."
    ),
    "instruments.read_only": (
        "{file}: {key}: über diese Verbindung lässt sich nichts senden. Entfernen Sie den Schlüssel."
    ),
    "instruments.bad_linearity": "{file}: {key}: Paare aus Anzeige und Anzeigeabweichung, die Anzeigen steigend.",
    "instruments.bad_send": (
        "{file}: {key} passt nicht zu seinen Werten ({reason}). In Klammern möglich: {allowed}, etwa {{name:.1f}}; "
        "eine Klammer selbst wird doppelt geschrieben."
    ),
    "instruments.bad_answer": "{file}: {key} ist kein regulärer Ausdruck ({reason}).",
    "instruments.bad_pair": (
        "{file}: {key} braucht zwei verschiedene Kanäle einer Art, die eine Richtung haben. Möglich: {allowed}."
    ),
    "instruments.missing_part": (
        "Der Teil {kind!r} ist nicht eingerichtet, und dieses Instrument braucht ihn. Sie holen ihn mit: {command}"
    ),
    "instruments.no_password": (
        "Die Umgebungsvariable {variable} enthält kein Passwort. Setzen Sie sie vor dem Start, die Beschreibung nennt "
        "sie."
    ),
    "instruments.unknown_command": "{source} kennt keinen Befehl {name!r}. Seine Beschreibung hat: {allowed}.",
    "instruments.command_values": "Der Befehl {name!r} von {source} nimmt diese Werte: {allowed}.",
    "instruments.command_range": (
        "{value} = {number:g} {unit} liegt außerhalb der Grenzen von {source} ({lower:g} bis {upper:g} {unit}). Es "
        "wurde nichts gesendet."
    ),
    "instruments.command_not_sent": "{source} wurde {name!r} nicht gesagt: die Verbindung ist nicht offen ({reason}).",
    "instruments.command_no_answer": (
        "{source} hat {name!r} nicht innerhalb von {timeout_s:g} s bestätigt. Sehen Sie nach, ob es geschehen ist, "
        "und versuchen Sie es dann noch einmal."
    ),
    "instruments.reads_controller": (
        "{source} liest die Steuerung der Maschine unter {address}, nur lesend. Es liest den Maßstab der Maschine "
        "selbst: ein Fehler dieses Maßstabs zeigt sich in diesen Messwerten nicht."
    ),
    "instruments.garbled": (
        "{lines} Zeilen von {source} hintereinander enthalten Bytes, die kein Text sind. Baudrate, Datenbits oder "
        "Parität sind wohl nicht die des Instruments."
    ),
    "instruments.connected": "{source} ist verbunden ({address}).",
    "instruments.not_reached": (
        "{source} ist unter {address} nicht erreichbar ({reason}). Prüfen Sie Kabel und Strom; es wird von selbst "
        "weiter versucht."
    ),
    "instruments.link_lost": (
        "Die Verbindung zu {source} unter {address} ist abgerissen ({reason}). Es wird von selbst weiter versucht."
    ),
    "instruments.link_quiet": (
        "Von {source} unter {address} kam {duration_s:.0f} s lang nichts. Die Verbindung wird von selbst neu geöffnet."
    ),
    "instruments.unreadable": (
        "{lines} Zeilen von {source} hintereinander passen nicht zum Muster der Beschreibung. Prüfen Sie Baudrate, "
        "Parität und das Muster."
    ),
    "instruments.bad_address": (
        "{address!r} ist keine Verbindung. Schreiben Sie tcp://HOST:PORT, tcp-server://:PORT, udp://:PORT, "
        "serial:COM3?baud=9600&parity=even, file:PFAD, visa:RESSOURCE oder mqtt://HOST/THEMA."
    ),
    "instruments.nothing_heard": (
        "In {duration_s:.0f} s kam keine ganze Zeile ({said}). Prüfen Sie Kabel, Strom und Einstellungen der "
        "Verbindung; spricht das Instrument nur auf Anfrage, nennen Sie die Frage mit --send."
    ),
    "instruments.no_numbers": "Es kommen Zeilen, aber keine enthält eine Zahl; die letzte war {line!r}.",
    "instruments.no_example": "Es gibt kein Beispiel {name!r}. Es gibt: {known}.",
    "instruments.example_written": (
        "{file} ist ein Beispiel mit Bemerkungen. Ändern Sie Verbindung, Muster und Kanäle auf Ihr Instrument und "
        "sehen Sie es dann an mit: waywright instrument check {file}"
    ),
    "instruments.file_exists": "{file} gibt es schon. Nennen Sie eine andere Datei; überschrieben wird nichts.",
    "instruments.bad_command_value": "{said!r} ist kein Wert. Schreiben Sie Name=Zahl, zum Beispiel x=12.5.",
    "instruments.command_done": "{name}: erledigt.",
    "instruments.proposal": "{matched} von {lines} Zeilen passen, {rate_hz:g} je Sekunde: {pattern}",
    "instruments.proposal_written": (
        "Geschrieben in {file}. Ergänzen Sie, wo drei Punkte stehen, und sehen Sie es dann an mit: waywright "
        "instrument check {file}"
    ),
    "instruments.check_rate": (
        "{samples} Messwerte, {rate_hz:.1f} je Sekunde (angegeben {expected_hz:g}), {gaps} Lücken, längste Zeit "
        "zwischen zweien {longest_gap_s:.2f} s."
    ),
    "instruments.check_malformed": (
        "{malformed} Zeilen abgewiesen, davon {checksum} durch die Prüfsumme, {counter} außer der Reihe; {missed} "
        "nach dem Zähler verpasst."
    ),
    "instruments.check_unmatched": "passte nicht: {line}",
    "instruments.check_flawed": "Werte, die keine sind: {flawed}",
    "instruments.delay_too_few": (
        "Die Verzögerung ist nicht bestimmbar: zu wenige Werte. Lassen Sie beide Quellen eine Minute laufen."
    ),
    "instruments.delay_too_short": "Die Verzögerung ist nicht bestimmbar: die Quellen liefen zu kurz zusammen.",
    "instruments.delay_no_motion": (
        "Die Verzögerung ist nicht bestimmbar: nichts bewegte sich. Fahren Sie mit Halten hin und zurück."
    ),
    "instruments.delay_not_determinable": (
        "Die Verzögerung ist aus dieser Bewegung nicht bestimmbar. Fahren Sie hin und zurück, mit Halten und "
        "verschieden schnell; ein Detektor muss der Bewegung folgen, neigen Sie dazu den Strahl mit Absicht."
    ),
    "instruments.no_channel": "Es gibt keinen Kanal {channel}. Es gibt: {allowed}.",
    "instruments.delay_found": (
        "{second} hinkt {first} um {delay_s:.3f} s nach (Standardunsicherheit {u_s:.3f} s). Schreiben Sie es als "
        "delay_s unter [stream] in die Beschreibung dessen, was nachhinkt."
    ),
}

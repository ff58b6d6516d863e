"""Deutsch: Sätze des Archivs."""

TEXT = {
    "archive.missing": (
        "Unter {path} gibt es kein Archiv. Prüfen Sie den Pfad, oder beginnen Sie einen Durchgang oder eine "
        "Vorführung, damit dort eines entsteht."
    ),
    "archive.not_an_archive": (
        "{path} ist kein Archiv dieses Programms. Nennen Sie eine andere Datei; diese wurde nicht angerührt."
    ),
    "archive.empty_database": (
        "{path} ist eine leere Datenbank. Ihre Tabellen einmal anlegen, als ihr Eigentümer, indem dort eine Maschine "
        "aufbewahrt wird: `waywright machine new FILE --archive ADDRESS`."
    ),
    "archive.newer_format": (
        "{path} wurde von einer neueren Fassung dieses Programms geschrieben (Archivformat {found}; diese Fassung "
        "kennt Formate bis {known}). Bringen Sie das Programm auf diesem Rechner auf den neuen Stand; das Archiv "
        "wurde nicht angerührt."
    ),
    "archive.no_way_back": (
        "Ein Archiv, das Messwerte enthält, kann nicht in ein früheres Format zurück. Verwenden Sie eine frühere Kopie."
    ),
    "archive.full": (
        "Der Datenträger von {path} ist voll. Jeder gemeldete Messwert ist gesichert, der gerade genommene nicht. "
        "Schaffen Sie Platz, dann setzen Sie den Durchgang fort."
    ),
    "archive.disk_failed": (
        "Der Datenträger hat nicht angenommen, was nach {path} geschrieben wurde ({detail}). Jeder gemeldete Messwert "
        "ist gesichert, der gerade genommene nicht. Prüfen Sie, ob der Datenträger verbunden ist und Platz hat, dann "
        "setzen Sie den Durchgang fort."
    ),
    "archive.read_only": (
        "{path} ist nicht zu schreiben: Datei, Ordner oder Datenträger sind für Sie nur lesbar. Es lässt sich "
        "ansehen; zum Aufnehmen nennen Sie ein Archiv in einem eigenen Ordner."
    ),
    "archive.cannot_open": (
        "{path} lässt sich nicht öffnen ({detail}). Prüfen Sie, ob der Ordner da ist, der Datenträger verbunden ist "
        "und Sie dort lesen und schreiben dürfen; oder kopieren Sie das Archiv in einen eigenen Ordner."
    ),
    "archive.busy": (
        "Ein anderes Programm schreibt seit mehreren Sekunden in {path}. Nichts ist verloren; warten Sie, bis es "
        "fertig ist, und versuchen Sie es noch einmal."
    ),
    "archive.in_use": (
        "Ein anderes Programm nimmt schon in {path} auf (Prozess {process}, seit {since}). Beenden Sie zuerst dessen "
        "Durchgang, oder nehmen Sie in ein anderes Archiv auf."
    ),
    "archive.damaged": (
        "{path} ist beschädigt ({detail}). Schreiben Sie nichts mehr hinein. Kopieren Sie die Datei, wie sie ist, und "
        "stellen Sie dann die letzte Sicherung wieder her."
    ),
    "archive.append_only": (
        "Was das Archiv enthält, wird nie geändert oder entfernt ({detail}). Fügen Sie einen neuen Eintrag hinzu."
    ),
    "archive.failed": "Das Archiv {path} konnte das nicht: {detail}. Was vorher gesichert wurde, ist noch da.",
    "archive.unknown": (
        "Das Archiv enthält kein {kind} mit der Kennung {id}. Zeigen Sie an, was es enthält, und wählen Sie etwas "
        "davon."
    ),
    "archive.written_meanwhile": (
        "Jemand anderes hat {id} geändert, seit Sie es gesehen haben. Nichts wurde überschrieben: sehen Sie "
        "es neu an, dann ändern Sie es."
    ),
    "archive.other_kind": (
        "{id} ist in diesem Archiv ein {known}; es kann kein {kind} werden. Geben Sie dem Neuen eine eigene Kennung."
    ),
    "archive.no_such_kind": "Das Archiv bewahrt keine Einträge der Art {kind}.",
    "archive.not_finite": (
        "Eine Zahl dieses Eintrags ({kind}) ist unendlich oder keine Zahl. Lassen Sie sie weg, wo sie nicht bekannt "
        "ist."
    ),
    "archive.uneven_window": (
        "Die Einzelwerte von {channel} haben nicht so viele Zeiten wie Werte; der Messwert wurde nicht gesichert."
    ),
    "archive.unreadable_record": (
        "{kind} {id} im Archiv ist nicht lesbar ({detail}). Prüfen Sie das Archiv; stellen Sie es wenn nötig aus "
        "einer Sicherung wieder her."
    ),
    "archive.not_sealed": (
        "Messwert {number} passt nicht zu seinem eigenen Fingerabdruck und wurde nicht gesichert. Nehmen Sie ihn noch "
        "einmal; sagen Sie es den Machern des Programms, wenn es zweimal geschieht."
    ),
    "archive.chain_refused": (
        "Messwert {number} setzt diesen Durchgang nicht fort und wurde nicht gesichert: das Archiv erwartet Messwert "
        "{expected} nach dem, den es hat. Setzen Sie den Durchgang aus dem Archiv fort."
    ),
    "archive.check_file": "Die Datei selbst ist beschädigt: {detail}. Stellen Sie die letzte Sicherung wieder her.",
    "archive.check_reference": (
        "Eine Zeile zeigt auf etwas, das nicht da ist ({detail}). Stellen Sie die letzte Sicherung wieder her."
    ),
    "archive.check_chain": (
        "Durchgang {pass_id}: Messwert {number} folgt nicht auf den davor. Nach der Aufnahme wurde einer entfernt, "
        "hinzugefügt oder geändert; vergleichen Sie mit einer Sicherung."
    ),
    "archive.check_unreadable": (
        "Durchgang {pass_id}: Messwert {number} ist nicht lesbar; seine Bytes sind beschädigt. Vergleichen Sie mit "
        "einer Sicherung."
    ),
    "archive.check_seal": (
        "Durchgang {pass_id}: Messwert {number} passt nicht zu seinem Fingerabdruck. Er wurde nach der Aufnahme "
        "geändert; vergleichen Sie mit einer Sicherung."
    ),
    "archive.check_columns": (
        "Durchgang {pass_id}: was das Archiv für Messwert {number} aufführt, weicht vom gesiegelten ab. Es wurde nach "
        "der Aufnahme geändert; vergleichen Sie mit einer Sicherung."
    ),
    "archive.check_window": (
        "Durchgang {pass_id}: die Einzelwerte von Messwert {number} sind nicht die, aus denen er entstand. Sie wurden "
        "nach der Aufnahme geändert; vergleichen Sie mit einer Sicherung."
    ),
    "archive.check_tally": (
        "Durchgang {pass_id} endete mit {readings} Messwerten, und der letzte davon fehlt oder ist ein anderer. "
        "Vergleichen Sie mit einer Sicherung."
    ),
    "archive.check_stream": (
        "Durchgang {pass_id}: Block {number} des Datenstroms von {source} ist beschädigt. Die Messwerte hängen nicht "
        "davon ab; Stillstände lassen sich dort nicht neu schneiden."
    ),
    "archive.check_content": (
        "Die angehängte Datei mit dem SHA-256 {sha256} ist beschädigt. Die Messwerte hängen nicht davon ab; "
        "vergleichen Sie mit einer Sicherung."
    ),
    "archive.capture_into_file": (
        "{path} gehört einer Abteilung gemeinsam: über ein Netz wird nichts hineingenommen. Nehmen Sie in eine Datei "
        "dieses Rechners auf, dann senden Sie sie mit push."
    ),
    "archive.bad_address": (
        "{address} ist nicht die Adresse eines Archivs. Sie sieht aus wie postgresql://name@server/archive; "
        "Sonderzeichen in einem Passwort werden als %xx geschrieben."
    ),
    "archive.not_encrypted": (
        "{address} ist auf einem anderen Rechner, und sslmode={sslmode} würde Messwerte und Passwörter ungeschützt "
        "senden. Lassen Sie sslmode weg; nennen Sie mit sslrootcert= die Datei der Zertifizierungsstelle des Servers."
    ),
    "archive.link_lost": (
        "Die Verbindung zu {path} ist weg oder kam nicht zustande ({detail}). Nichts ist verloren: alles ist in der "
        "eigenen Datei dieses Rechners. Versuchen Sie es noch einmal, wenn ein Netz da ist; es geht weiter, wo es "
        "anhielt."
    ),
    "archive.not_let_in": (
        "{path} lässt Sie nicht hinein ({detail}). Bitten Sie die Leitung der Abteilung um ein Konto, und prüfen Sie "
        "Namen und Passwort."
    ),
    "archive.server_has_none": "Unter {path} gibt es keine solche Datenbank ({detail}). Prüfen Sie die Adresse.",
    "archive.not_allowed": (
        "Ihr Konto darf das in {path} nicht ({detail}). Wer liest, darf nur ansehen, ein Techniker darf hinzufügen; "
        "das Übrige ist Sache der Leitung der Abteilung."
    ),
    "archive.no_conflict": (
        "{id} steht in keinem Widerspruch, oder hat keine solche Fassung. Zeigen Sie die Widersprüche an und wählen "
        "Sie einen davon."
    ),
    "archive.target_exists": "{path} gibt es schon. Nennen Sie eine andere Datei; überschrieben wurde nichts.",
    "archive.copy_not_sound": (
        "Die Kopie ist nicht heil ({findings} Befunde), {path} wurde darum nicht behalten. `waywright archive check` "
        "zeigt, was am Original nicht stimmt."
    ),
}

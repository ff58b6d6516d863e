"""Deutsch: wie Prüfungen längs einer Bahn gemacht werden: Titel, Schritte, was schiefgeht, Vorsicht."""

TEXT = {
    "procedures.straightness_beam.title": "Geradheit mit Strahl und Zweiachsdetektor",
    "procedures.straightness_beam.steps": (
        "Das blanke Metall abwischen, wo Magnete stehen; die Quelle aufs Bett und den Detektor dorthin, wo das "
        "Werkzeug das Werkstück trifft.\n"
        "Quelle und Detektor eine halbe Stunde in der Halle laufen lassen.\n"
        "Den Strahl längs des Weges legen: nah durch Verschieben, fern durch Neigen, bis der Ausschlag unter 5 % des "
        "Detektorbereichs liegt.\n"
        "Den Detektor um ein bekanntes Endmaß heben, dann zu sich her schieben: Vorzeichen und Größe müssen "
        "stimmen.\n"
        "Am fernen Ende einige Minuten stillstehen und sehen, wie sehr die Luft die Zahl bewegt.\n"
        "Einen Durchgang vorwärts und einen zurück nehmen, jede Station in der Richtung des Durchgangs angefahren.\n"
        "Zum Anfang zurückkehren: der Schlussfehler sagt, was die Quelle inzwischen getan hat."
    ),
    "procedures.straightness_beam.wrong": (
        "Ein Magnet auf Lack oder Abdeckung kriecht: alle späteren Messwerte liegen um einen Sprung daneben.\n"
        "Ein Strahl über einem warmen Bett biegt sich; ein Bogen vom Wetter wird nicht an den Aufstellelementen "
        "weggedreht.\n"
        "Ein kopfüber hängender Detektor kehrt das Vorzeichen um.\n"
        "Jemand lehnt am Bett, oder eine Tür geht auf, während gelesen wird."
    ),
    "procedures.straightness_beam.cautions": (
        "Auch ein Laser der Klasse 2 ist ein Laser: nie in den Strahl sehen, ihn nicht in Augenhöhe führen und auf "
        "etwas Mattem enden lassen.\n"
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg."
    ),
    "procedures.straightness_level.title": "Geradheit mit dem Neigungsmesser, Schritt für Schritt",
    "procedures.straightness_level.steps": (
        "Den Neigungsmesser auf eine Brücke setzen, deren Füße so weit auseinander stehen wie ein Schritt.\n"
        "Ihn an einem Ort um 180° umsetzen: der halbe Unterschied ist sein eigener Fehler.\n"
        "Die Brücke Fuß an Fuß die Bahn entlang setzen; warten, bis die Zahl ruht, dann nehmen.\n"
        "Ebenso zurückgehen: beide Durchgänge sollen um kaum mehr als die Auflösung abweichen.\n"
        "Die Schritte werden summiert; erste und letzte Station geben die Gerade durch die Endpunkte."
    ),
    "procedures.straightness_level.wrong": (
        "Ein Schritt, der nicht die Basislänge ist, lässt Lücken oder überlappt.\n"
        "Schmutz unter einem Fuß neigt einen Schritt, und alle Höhen dahinter sind falsch.\n"
        "Eine Hand, die lange an der Libelle war, wärmt sie.\n"
        "Ein Neigungsmesser folgt der Schwerkraft: über 20 m macht die Erdkrümmung 8 um Bogen."
    ),
    "procedures.straightness_level.cautions": (
        "Die Brücke heben, nicht über einen Absatz schieben.\nDie Finger nicht unter ihre Füße bringen."
    ),
    "procedures.level_along.title": "Waagerecht längs",
    "procedures.level_along.steps": (
        "Den Neigungsmesser am ersten Ort um 180° umsetzen, um seinen eigenen Fehler zu finden.\n"
        "Ihn längs der Bahn an beide Enden und in die Mitte setzen, dann an jedes Aufstellelement.\n"
        "Aufschreiben, welches Ende hoch ist, nicht nur, um wie viel."
    ),
    "procedures.level_along.wrong": (
        "Waagerecht und gerade sind zweierlei: ein gebogenes Bett kann an den Enden waagerecht liegen.\n"
        "Die bewegte Masse neigt das Bett: sagen Sie, wo sie stand."
    ),
    "procedures.level_along.cautions": "Nichts als der Neigungsmesser steht auf der Bahn, während gelesen wird.",
    "procedures.twist_level.title": "Verwindung: das Bett quer, Ort für Ort",
    "procedures.twist_level.steps": (
        "Den Neigungsmesser quer setzen, auf eine Brücke über beide Führungsbahnen oder auf den Schlitten.\n"
        "An denselben Orten lesen wie bei der Geradheit, immer gleich herum.\n"
        "Nur die Änderung längs des Betts ist Verwindung; überall dieselbe Zahl ist Neigung."
    ),
    "procedures.twist_level.wrong": (
        "Ein unterwegs umgedrehter Neigungsmesser kehrt das Vorzeichen um.\n"
        "Ein Schlitten mit loser Leiste rollt von selbst.\n"
        "Aufstellelemente in einer Reihe können die Verwindung nicht ändern: sehen Sie nach beiden Reihen."
    ),
    "procedures.twist_level.cautions": (
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg."
    ),
    "procedures.angle_level.title": "Rollen und Nicken mit dem Neigungsmesser auf dem, was sich bewegt",
    "procedures.angle_level.steps": (
        "Einen Neigungsmesser auf dem Bewegten befestigen: quer fürs Rollen, längs fürs Nicken.\n"
        "Einen zweiten auf dem Ruhenden, wenn die ganze Maschine schaukelt, und den Unterschied nehmen.\n"
        "An jede Station fahren, warten, bis die Zahl ruht, dann nehmen; hin und zurück."
    ),
    "procedures.angle_level.wrong": (
        "Die Maschine schaukelt auf ihren Aufstellelementen, wenn die Masse fährt: ohne den zweiten Neigungsmesser "
        "sieht das wie Nicken aus.\n"
        "Ein Neigungsmesser sieht kein Drehen um die Senkrechte: dazu braucht es einen Spiegel."
    ),
    "procedures.angle_level.cautions": (
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg."
    ),
    "procedures.angle_reflector.title": "Drehen nach links und rechts mit Spiegel und Winkelmessgerät",
    "procedures.angle_reflector.steps": (
        "Das Winkelmessgerät auf das Ruhende stellen, seine Sichtlinie längs des Weges.\n"
        "Den Spiegel auf dem Bewegten befestigen, rechtwinklig zur Sichtlinie.\n"
        "Den Spiegel um ein bekanntes Endmaß neigen: Vorzeichen und Größe müssen stimmen.\n"
        "Jede Station hin und zurück nehmen."
    ),
    "procedures.angle_reflector.wrong": (
        "Ein Spiegel auf dünnem Halter zittert.\n"
        "Warme Luft quer zur Sichtlinie bewegt das Bild.\n"
        "Wohin positiv zählt, ist verloren, wenn der Spiegel umgedreht wird."
    ),
    "procedures.angle_reflector.cautions": (
        "Auch ein Laser der Klasse 2 ist ein Laser: nie in den Strahl sehen, ihn nicht in Augenhöhe führen und auf "
        "etwas Mattem enden lassen.\n"
        "Die Achse bewegt sich: einer gibt das Kommando, alle anderen bleiben aus ihrem Weg."
    ),
    "procedures.two_rails.title": "Zwei Schienen: gleiche Höhe und gleicher Abstand",
    "procedures.two_rails.steps": (
        "Zuerst die Leitschiene gerade machen, der Höhe nach und seitlich.\n"
        "Eine Brücke mit Neigungsmesser über beide Schienen legen und an jedem Aufstellelement lesen: das ist Höhe "
        "gegen Höhe.\n"
        "Eine Messuhr auf der Leitschiene führen und die Flanke der anderen antasten: das ist der Abstand.\n"
        "Die Brücke einmal um 180° umsetzen, um den Fehler ihrer Füße zu finden."
    ),
    "procedures.two_rails.wrong": (
        "Eine nicht umgesetzte Brücke trägt ihre Füße in jede Zahl.\n"
        "Schienen auf dem Hallenboden wandern mit der Jahreszeit: schreiben Sie die Temperatur auf.\n"
        "Die zweite Schiene zu berichtigen, bevor die erste gerade ist, macht man zweimal."
    ),
    "procedures.two_rails.cautions": "Eine lange Brücke heben zwei.\nKeine Finger zwischen Brücke und Schiene.",
    "procedures.joint_indicator.title": "Der Absatz an einem Stoß",
    "procedures.joint_indicator.steps": (
        "Den Stoß reinigen und abfühlen; ein Grat wird zuerst abgezogen.\n"
        "Die Messuhr auf einer kurzen Basis führen, die auf einer Seite steht, und ihren Taster über den Stoß "
        "schieben.\n"
        "Das an beiden Kanten und in der Mitte der Bahn tun."
    ),
    "procedures.joint_indicator.wrong": (
        "Eine Basis, die selbst über den Stoß fährt, kippt und zeigt die halbe Wahrheit.\n"
        "Ein Absatz im Stoß wird nie allein mit Aufstellelementen berichtigt."
    ),
    "procedures.joint_indicator.cautions": "Schrauben eines Stoßes nur anziehen, wie der Hersteller es sagt.",
}

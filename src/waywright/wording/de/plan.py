"""Deutsch: Sätze der Prüfpläne."""

TEXT = {
    "plan.no_tolerance": "Dafür ist keine Toleranz vereinbart.",
    "plan.only_an_example": "Die Toleranz ist ein Beispiel aus einer Vorlage, keine Grenze, die jemand vereinbart hat.",
    "plan.no_source": "Niemand hat gesagt, woher die Toleranz kommt.",
    "plan.not_confirmed": "Niemand hat die Toleranz in der Quelle nachgesehen.",
    "plan.not_agreed": "Niemand hat dem Prüfplan zugestimmt, wie er dasteht.",
    "plan.confirmed_without_source": (
        "Die Toleranz von {key} lässt sich ohne Quelle nicht bestätigen. Nennen Sie das Blatt oder den Abschnitt, in "
        "dem sie steht."
    ),
    "plan.nothing_to_agree": "Der Plan {title} hat noch keine Prüfungen. Fügen Sie welche hinzu, dann stimmen Sie zu.",
    "plan.no_such_test": "Der Plan hat keine Prüfung {key}. Er hat: {known}.",
    "plan.no_template": "Es gibt keine Vorlage {name}. Es gibt: {known}.",
    "plan.no_procedure": "Es gibt kein Verfahren {name}. Es gibt: {known}.",
    "plan.there_already": "Dieser Besuch hat schon einen Plan. Ändern Sie ihn mit `waywright plan edit`.",
    "plan.none_yet": "Dieser Besuch hat noch keinen Plan. Beginnen Sie einen mit `waywright plan new`.",
    "plan.key_taken": (
        "Der Plan hat schon eine Prüfung {key}. Ändern Sie sie mit `waywright plan edit`, oder nehmen Sie einen "
        "anderen Namen."
    ),
    "plan.nothing_said": (
        "Es wurde nichts zu ändern genannt. Nennen Sie, was sich ändert, zum Beispiel --rule oder --datum."
    ),
    "plan.binds": "gilt",
    "plan.for_information": "nur zur Kenntnis",
    "plan.example": "Beispiel, zu ersetzen",
    "plan.agreed_by": "Vereinbart von {name} ({party}) am {day}.",
    "plan.nobody_agreed": "Noch hat niemand zugestimmt: jedes Urteil dient nur zur Kenntnis.",
    "plan.decision": "Entscheidungsregel: die Last des Nachweises liegt bei {burden}, mit {confidence:.0%}.",
    "plan.bad_confidence": (
        "{confidence:g} ist keine Wahrscheinlichkeit zum Entscheiden. Nehmen Sie eine zwischen 0.5 und 1, etwa 0.95."
    ),
    "plan.bad_reference": "{reference} ist keine Bezugslinie. Es gibt: {known}.",
    "plan.unknown_party": "Eine Seite {party} gibt es nicht. Einem Plan wird zugestimmt für: {known}.",
    "plan.no_rule": "Die Prüfung {key} hat noch keine Toleranz. Geben Sie auch ihre Regel an.",
    "plan.state": "Die Maschine wird gemessen mit {words}.",
    "plan.goes_wrong": "Was schiefgeht",
    "plan.mind": "Zu beachten",
    "plan.no_key": "Jede Prüfung eines Plans braucht einen Schlüssel, einen kurzen Namen wie height.",
}

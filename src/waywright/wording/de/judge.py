"""Deutsch: Wörter der Seite Beurteilen."""

TEXT = {
    "judge.rule": "Toleranzregel, zum Beispiel 0.02/1000 oder 20 um",
    "judge.budget_label": "Unsicherheit nach",
    "judge.budget_ready": "dem fertigen Budget, das passt",
    "judge.budget_beam": "Strahldetektor",
    "judge.budget_level": "Neigungsmesser",
    "judge.budget_autocollimator": "Autokollimator",
    "judge.budget_straightedge": "Lineal und Messuhr",
    "judge.burden_label": "wer den Nachweis führt",
    "judge.burden_supplier": "Lieferant: dass es entspricht",
    "judge.burden_customer": "Kunde: dass es nicht entspricht",
    "judge.burden_shared": "geteilt",
    "judge.burden_simple": "einfach, wie vereinbart",
    "judge.extremes": "größter {largest} bei {largest_at} {unit}, kleinster {smallest} bei {smallest_at} {unit}",
    "judge.working_out": "Die Unsicherheit wird ausgerechnet …",
    "judge.stated": "U = {u} {unit} (k = {k:.1f}); mit 95 % von {low} bis {high} {unit}",
    "judge.floor": (
        "Eine vollkommene Bahn hätte allein durch Rauschen {floor} {unit} gezeigt, 95 % von ihnen weniger als {upper} "
        "{unit}."
    ),
    "judge.zone": (
        "Schutzabstand {guard} {unit}: etwa {acceptance} {unit} belegen die Konformität, {rejection} {unit} das "
        "Gegenteil."
    ),
    "judge.helps": "Was am meisten helfen würde:",
    "judge.help": "{action}: U {before} auf {after} {unit}",
    "judge.budget": "Budget: {title}",
    "judge.budget_row": "{name}: {contribution} {unit}, {source}",
    "judge.every_pass": "jeder Durchgang um jede Linie",
    "judge.compared": "{word}: {then} {unit} am {day} ({state}), {now} {unit} jetzt.",
    "judge.bed_title": "Das Bett im Raum",
    "judge.bed_words": (
        "Abweichungen {factor} × überhöht, {gauge} mm zwischen den Bahnen; gefüllt liegt darüber, hohl darunter. "
        "Drehen Sie es mit dem Finger, den Pfeiltasten oder den Wörtern darüber."
    ),
    "judge.bed_label": (
        "Das Bett im Raum: Höhe über {height:.1f} µm, Seite über {side:.1f} µm, Verwindung über {twist:.1f} µm/m."
    ),
    "judge.front": "vorn",
    "judge.rear": "hinten",
    "judge.turn_left": "nach links drehen",
    "judge.turn_right": "nach rechts drehen",
    "judge.turn_up": "nach oben kippen",
    "judge.turn_down": "nach unten kippen",
}

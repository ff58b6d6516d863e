"""Deutsch: das Lenken einer Quelle, die ihren Strahl selbst neigen kann."""

TEXT = {
    "guard_steer.no_steering": (
        "{source} bietet kein Lenken für das, was {detector} sieht. Beschreiben Sie es (`[[steering]]` in der Datei "
        "der Quelle), oder richten Sie von Hand aus (`guard align`)."
    ),
    "guard_steer.nothing_heard": "Von {title} kommt nichts. Prüfen Sie Kabel und Strom, dann beginnen Sie noch einmal.",
    "guard_steer.lost_at_once": (
        "{channel} hat keinen Strahl. Bringen Sie ihn zuerst auf den Detektor, dann beginnen Sie noch einmal."
    ),
    "guard_steer.say": "Sagen Sie `--{name}`; das Lenken braucht es.",
    "guard_steer.no_keys": (
        "Die Eingabe ist zu Ende: niemand kann sagen, dass der Schlitten steht, oder das Lenken anhalten."
    ),
    "guard_steer.say_near": (
        "Fahren Sie den Schlitten nahe an die Quelle ({near_m:g} m), lassen Sie ihn stehen und drücken Sie Enter."
    ),
    "guard_steer.say_far": (
        "Fahren Sie den Schlitten ans ferne Ende ({far_m:g} m), lassen Sie ihn stehen und drücken Sie Enter."
    ),
    "guard_steer.say_keys": (
        "Waywright neigt die Quelle selbst in Schritten von höchstens {largest:g} um/m; sonst bewegt es nichts. Enter "
        "während des Lenkens, oder Strg-C, hält es sofort an. Nie in den Strahl sehen."
    ),
    "guard_steer.say_step": "{channel}: um {told:+.1f} um/m geneigt, fern {before:+.1f} -> {after:+.1f} um",
    "guard_steer.aligned": (
        "Der Strahl liegt längs der Achse: fern und nah weichen um höchstens {off_um:+.1f} um ab, zulässig sind "
        "{goal_um:.1f} um; {steps} Schritte."
    ),
    "guard_steer.beam-lost": (
        "Angehalten: {channel} verlor nach {steps} Schritten den Strahl. Es wurde nichts mehr gesendet. Machen Sie "
        "den Strahl frei, oder bringen Sie ihn von Hand wieder auf den Detektor, und beginnen Sie nahe an der Quelle "
        "noch einmal."
    ),
    "guard_steer.timeout": (
        "Angehalten: {timeout_s:.0f} s sind nach {steps} Schritten vorbei; fern und nah weichen um {off_um:+.1f} um "
        "ab ({worst})."
    ),
    "guard_steer.stopped": (
        "Nach {steps} Schritten durch Taste angehalten; fern und nah weichen um {off_um:+.1f} um ab ({worst})."
    ),
    "guard_steer.not-confirmed": "Nach {steps} Schritten angehalten: {reason}",
    "guard_steer.wrong-way": (
        "Angehalten: ein Schritt bewegte {channel} um {change_um:+.1f} um, erwartet waren {expected_um:+.1f} um. Die "
        "Richtung in der Beschreibung der Quelle, oder das Vorzeichen des Kanals, ist verkehrt herum: machen Sie die "
        "Richtungsprobe."
    ),
    "guard_steer.no-effect": (
        "Angehalten: ein Schritt bewegte {channel} um {change_um:+.1f} um, wo {expected_um:+.1f} um erwartet waren. "
        "Prüfen Sie die Einheit des Lenkbefehls, und dass nichts die Neigung der Quelle hemmt."
    ),
    "guard_steer.too-many-steps": (
        "Nach {steps} Schritten angehalten; fern und nah weichen noch um {off_um:+.1f} um ab ({worst}). Richten Sie "
        "zuerst von Hand aus."
    ),
}

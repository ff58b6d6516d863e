"""Deutsch: Ergebnisse in Sätzen, für Terminal und Bericht."""

TEXT = {
    "results.passes": (
        "{code}: {passes} Durchgänge an {stations} gemeinsamen Stationen, jeder durch Geraden zwischen seinen eigenen."
    ),
    "results.passes_left_out": "Stationen außerhalb eines anderen Durchgangs, weggelassen: {count}.",
    "results.passes_mean": (
        "Mittel der Durchgänge wie gelesen: {end_points:.1f} µm um die Endpunkte, {least_squares:.1f} µm um die "
        "Ausgleichsgerade, {minimum_zone:.1f} µm in der kleinsten Zone."
    ),
    "results.passes_without_drift": (
        "Ohne die Drift des Strahls: {end_points:.1f}, {least_squares:.1f} und {minimum_zone:.1f} µm."
    ),
    "results.positive": "Zahlen sind positiv {direction}.",
    "results.reversal": "Umkehrspanne (vorwärts minus rückwärts) höchstens {value_um:+.1f} µm, bei {at_mm:.0f} mm.",
    "results.repeatability": (
        "Durchgänge einer Richtung wiederholen sich mit einer Standardabweichung von {value_um:.2f} µm."
    ),
    "results.noticeable": (
        "Ein Messwert streut um {noise_um:.2f} µm. Ein falscher von {spike_um:.1f} µm oder ein Rutschen von "
        "{step_um:.1f} µm würde in vier von fünf Fällen bemerkt; höchstens {rate:.0%} guter Sätze von Durchgängen "
        "schlagen Alarm."
    ),
    "results.nothing_found": "Kein Messwert steht heraus, nichts ist verrutscht, kein Durchgang ist versetzt.",
    "results.drift": (
        "Der Strahl driftet um {offset:+.1f} ± {offset_u:.1f} µm und {angle:+.1f} ± {angle_u:.1f} µm/m je Stunde; das "
        "biegt einen Durchgang um bis zu {bow_um:+.1f} µm. Es ist gezeigt, nicht abgezogen."
    ),
    "results.drift_doubtful": (
        "Was nicht passte, kann für Drift gehalten worden sein, oder umgekehrt. Klären Sie das zuerst."
    ),
    "results.drift_removed": (
        "Eine Drift des Strahls von {offset:+.1f} ± {offset_u:.1f} µm und {angle:+.1f} ± {angle_u:.1f} µm/m je Stunde "
        "wurde abgezogen; sie bog einen Durchgang um bis zu {bow_um:+.1f} µm."
    ),
    "results.drift_assumed": (
        "Wäre die Umkehrspanne längs der Achse überall gleich, so driftete der Strahl um {offset:+.1f} µm und "
        "{angle:+.1f} µm/m je Stunde und böge einen Durchgang um bis zu {bow_um:+.1f} µm. Es wurde nichts abgezogen."
    ),
    "results.spatial": (
        "{first} und {second}: im Raum gerade in einem Zylinder von {value_um:.1f} µm Durchmesser, von {from_mm:.0f} "
        "bis {to_mm:.0f} mm, {stations} Stationen; am weitesten von seiner Achse bei {at_mm:.0f} mm."
    ),
    "results.twist": (
        "{code}: Verwindung {total:.1f} µm/m im Ganzen über {length_mm:.0f} mm, {ends:+.1f} µm/m von der ersten zur "
        "letzten Station, {rate:+.2f} µm/m je Meter."
    ),
    "results.twist_height": (
        "Über eine Spurweite von {gauge_mm:.0f} mm ist das ein Höhenunterschied von {value_um:.1f} µm."
    ),
    "results.straight": (
        "{code}: gerade innerhalb {value_um:.1f} µm um {reference}, größter Wert {largest:+.1f} bei {largest_mm:.0f} "
        "mm, kleinster {smallest:+.1f} bei {smallest_mm:.0f} mm, {stations} Stationen; {end_points:.1f} µm um die "
        "Endpunkte, {least_squares:.1f} um die Ausgleichsgerade, {minimum_zone:.1f} in der kleinsten Zone."
    ),
    "results.straight_local": (
        "Auf {window_mm:.0f} mm irgendwo höchstens {value_um:.1f} µm, am schlechtesten ab {start_mm:.0f} mm."
    ),
    "results.rotation": "Drehung",
    "results.angle": (
        "{code} ({name}): {value:.1f} µm/m, größter minus kleinster Wert; größter {largest:+.1f} bei {largest_mm:.0f} "
        "mm, kleinster {smallest:+.1f} bei {smallest_mm:.0f} mm; {stations} Stationen, Durchgänge: {passes}."
    ),
    "results.angle_reversal": (
        "Umkehrspanne (vorwärts minus rückwärts) höchstens {value:+.1f} µm/m, bei {at_mm:.0f} mm."
    ),
    "results.squares": (
        "Winkel minus 90°: Winkel 1 {first:+.1f}, Winkel 2 {second:+.1f}, Winkel 3 {third:+.1f} µm/m, jeder mit einer "
        "Standardunsicherheit von {uncertainty:.1f} µm/m. Verwenden Sie die Zahl als Eigenabweichung des Winkels."
    ),
    "results.squares_outer": (
        "Außenflächen standen gegeneinander: sie schließen sich nach oben, wo ein Winkel zu groß ist."
    ),
    "results.squares_inner": (
        "Innenflächen standen gegeneinander: sie öffnen sich nach oben, wo ein Winkel zu groß ist."
    ),
    "results.squareness": "{code}: {value:+.1f} µm/m, nach den Linien {reference} beider Achsen.",
    "results.square_open": "Der Winkel zwischen +{first} und +{second} ist {size:.1f} µm/m größer als 90°.",
    "results.square_closed": "Der Winkel zwischen +{first} und +{second} ist {size:.1f} µm/m kleiner als 90°.",
    "results.square_own": (
        "Der Winkel selbst weicht um {value:+.1f} µm/m von 90° ab; durch Umschlag ist das herausgenommen."
    ),
    "results.parallelism": (
        "{code}: wie abgelesen steigt die zweite Linie um {angle:+.1f} µm/m gegen die erste, {over_um:+.1f} µm über "
        "die {length_mm:.0f} mm, die beide überdecken, nach ihren Linien {reference}."
    ),
    "results.subjects": "Die erste ist {first}, die zweite {second}.",
    "results.is_line": "eine Linie",
    "results.is_axis": "die Bewegung einer Achse",
    "results.is_guideway": "eine Führungsbahn",
    "results.no_link": (
        "Beide Linien gelten als von einer Aufstellung gesehen. Sonst geben Sie die Verbindung an, die zwischen "
        "beiden gemessen wurde."
    ),
    "results.linked_beam": (
        "Mit einem Strahl für beide: {value:+.1f} µm/m, Standardunsicherheit {uncertainty:.1f} µm/m, {share:.0%} "
        "ihres Quadrats kommen von der Verbindung."
    ),
    "results.linked_bridge": (
        "Mit der Brücke als Verbindung: {value:+.1f} µm/m, Standardunsicherheit {uncertainty:.1f} µm/m, {share:.0%} "
        "ihres Quadrats kommen von der Verbindung."
    ),
    "results.linked_level": (
        "Mit der Wasserwaage als Verbindung: {value:+.1f} µm/m, Standardunsicherheit {uncertainty:.1f} µm/m, "
        "{share:.0%} ihres Quadrats kommen von der Verbindung."
    ),
    "results.segments": (
        "{code}: {segments} Teilstücke an {stations} Stationen verbunden; gerade innerhalb {value_um:.1f} µm um die "
        "Endpunkte."
    ),
    "results.segments_uncertainty": (
        "Das Verbinden macht die Mitte unsicherer: Standardunsicherheit bis {value_um:.2f} µm um die Endpunkte, bei "
        "{at_mm:.0f} mm."
    ),
    "results.overlap": (
        "Die Teilstücke {first} und {second} haben {stations} Stationen gemeinsam und weichen dort um {rms_um:.2f} µm "
        "(quadratisches Mittel) voneinander ab."
    ),
    "results.overlaps_agree": "Die Überlappungen stimmen innerhalb des Rauschens der Messwerte überein.",
    "results.overlaps_disagree": (
        "Die Überlappungen weichen um mehr als das Rauschen der Messwerte ab. Messen Sie sie noch einmal, bevor Sie "
        "der Verbindung trauen."
    ),
    "results.guideway": (
        "{code} aus {rotation}: {end_points:.1f} µm um die Endpunkte, {least_squares:.1f} µm um die Ausgleichsgerade, "
        "{minimum_zone:.1f} µm in der kleinsten Zone."
    ),
    "results.flatness_minimum-zone": (
        "Eben innerhalb {value_um:.1f} µm (kleinste Zone), {points} Punkte, {smallest_um:+.1f} bis {largest_um:+.1f} "
        "µm."
    ),
    "results.flatness_least-squares": (
        "Eben innerhalb {value_um:.1f} µm um die Ausgleichsebene, {points} Punkte, {smallest_um:+.1f} bis "
        "{largest_um:+.1f} µm."
    ),
    "results.flatness_three-points": (
        "Eben innerhalb {value_um:.1f} µm um die Ebene durch drei Punkte, {points} Punkte, {smallest_um:+.1f} bis "
        "{largest_um:+.1f} µm."
    ),
    "results.closures": (
        "{lines} Linien ausgeglichen; am weitesten daneben liegt Linie {name}, {worst_um:+.1f} µm. Ein Schritt streut "
        "um {sd_um:.2f} µm."
    ),
    "results.closures_each": "Schlussfehler je Linie, µm: {listed}.",
    "results.reflector": (
        "Winkel eines Spiegelwagens: die Form der Bahn, gemittelt über die Füße des Wagens, um irgendeine Null. Ein "
        "Autokollimator sieht keine Waagerechte, die Krümmung der Erde kommt nicht vor."
    ),
    "results.level": (
        "{steps} Schritte von {base_mm:g} mm: {end_points:.1f} µm um die Endpunkte, {least_squares:.1f} µm um die "
        "Ausgleichsgerade, {minimum_zone:.1f} µm in der kleinsten Zone."
    ),
    "results.level_mean": (
        "Längs: {mean_mm_per_m:+.4f} mm/m im Mittel, {smallest_mm_per_m:+.4f} bis {largest_mm_per_m:+.4f} mm/m."
    ),
    "results.level_across": (
        "Quer: {mean_mm_per_m:+.4f} mm/m im Mittel, längs der Bahn um {total_mm_per_m:.4f} mm/m veränderlich."
    ),
    "results.level_place": "Bei {at_mm:.0f} mm: längs {along:+.4f} mm/m, quer {across:+.4f} mm/m.",
    "results.level_place_along": "Bei {at_mm:.0f} mm: längs {along:+.4f} mm/m.",
    "results.level_place_across": "Bei {at_mm:.0f} mm: quer {across:+.4f} mm/m.",
    "results.level_zero": (
        "Der Nullpunkt der Wasserwaage liegt bei {zero:+.1f} µm/m und ist herausgenommen; seine Streuung macht die "
        "Mitte um {noise_um:.1f} µm unsicher."
    ),
    "results.earth_removed": (
        "Die Krümmung der Erde, {bow_um:.1f} µm über diese Länge, ist herausgenommen: mit einem Strahl vergleichbar."
    ),
    "results.earth_kept": (
        "So, wie eine Wasserwaage es sieht: ein Strahl zeigte {bow_um:.1f} µm mehr Buckel, die Krümmung der Erde. Mit "
        "--beam wird verglichen."
    ),
    "results.at_point": (
        "{code}, wie das Werkzeug es sieht: {end_points:.1f} µm um die Endpunkte, {least_squares:.1f} µm um die "
        "Ausgleichsgerade, {minimum_zone:.1f} µm in der kleinsten Zone; wie abgelesen {as_read:.1f} µm um die "
        "Endpunkte."
    ),
    "results.at_point_share": "{rotation} bringt über den Hebelarm bis zu {largest_um:.1f} µm Änderung.",
    "results.level_up": "Wasserwaage: positiv längs ist {along}, positiv quer ist {across}.",
    "results.ram": (
        "Schieber {length_mm:.0f} mm ausgefahren: ohne Gewichtsausgleich sinkt er auf {off:+.1f} µm ({off_slope:+.1f} "
        "µm/m), mit ihm auf {on:+.1f} µm ({on_slope:+.1f} µm/m)."
    ),
    "results.ram_lifted": (
        "Der Ausgleich hebt das Ende um {lift:+.1f} µm ({slope:+.1f} µm/m); höchstens {highest:.1f} µm über dem Anfang."
    ),
    "results.roll_lines": (
        "{code} aus {source} an Armen, die {arm_mm:+g} mm auseinander liegen: {total:.1f} µm/m, größter weniger "
        "kleinster Wert."
    ),
    "results.roll_noise": "Das Rauschen der Messwerte macht einen Wert um {noise:.1f} µm/m unsicher.",
    "results.joint": (
        "{code}, Stoß bei {at_mm:.0f} mm: Absatz {step:+.1f} ± {step_u:.1f} µm, Knick {kink:+.1f} ± {kink_u:.1f} µm/m "
        "(95 %) neben {shape}, aus {before} Stationen davor und {after} dahinter; ein Messwert streut um "
        "{noise_um:.2f} µm."
    ),
    "results.joint_bow": "einer gleichmäßigen Wölbung der Bahn",
    "results.joint_straight": "einer geraden Bahn",
    "results.joint_seen_both": "Beide heben sich vom Rauschen ab.",
    "results.joint_seen_step": "Der Absatz hebt sich vom Rauschen ab, der Knick nicht.",
    "results.joint_seen_kink": "Der Knick hebt sich vom Rauschen ab, der Absatz nicht.",
    "results.joint_seen_none": "Keiner hebt sich vom Rauschen ab.",
    "results.ways": (
        "Zweite Bahn gegen die erste über eine Spurweite von {gauge_mm:g} mm: Höhe {smallest_um:+.1f} bis "
        "{largest_um:+.1f} µm, Querneigung {smallest:+.4f} bis {largest:+.4f} mm/m, um {twist:.1f} µm/m veränderlich; "
        "sie steigt um {angle:+.1f} µm/m."
    ),
    "results.ways_place": "Bei {at_mm:.0f} mm: Querneigung {cross:+.4f} mm/m.",
    "results.ways_surface": "Beide als eine Fläche: eben innerhalb {value_um:.1f} µm (kleinste Zone).",
    "results.ways_gauge": (
        "Die Spurweite ändert sich um {total_um:.1f} µm und öffnet sich längs der Bahnen um {angle:+.1f} µm/m."
    ),
    "results.ways_link": "Verbunden durch die Brücke, die die zweite Linie um {turn:+.1f} µm/m gedreht hat.",
    "results.spindle": (
        "Die Spindelachse neigt sich um {angle:+.1f} µm/m gegen die Achse der Bewegung, {over_um:+.1f} µm auf "
        "{length_mm:.0f} mm, im Vorzeichen der Messwerte."
    ),
    "results.spindle_uncertainty": "Das Rauschen der Messwerte macht das um {uncertainty:.1f} µm/m unsicher.",
    "results.spindle_mandrel": (
        "Der Messdorn selbst: {angle:+.1f} µm/m, Rundlauf bis {run_out_um:.1f} µm; herausgenommen."
    ),
    "results.spindle_sag": "Der Durchhang hätte {angle:+.1f} µm/m dazugetan; er ist herausgenommen.",
    "results.straightedge": (
        "Maschine: {end_points:.1f} µm um die Endpunkte, {least_squares:.1f} µm um die Ausgleichsgerade, "
        "{minimum_zone:.1f} µm in der kleinsten Zone. Das Lineal selbst: {own:.1f} µm um seine Endpunkte."
    ),
    "results.straightedge_noise": (
        "Standardunsicherheit eines Werts: Maschine bis {machine_um:.2f} µm, Lineal bis {own_um:.2f} µm."
    ),
    "results.straightedge_sag": (
        "Der Durchhang des Lineals zwischen {low_um:+.2f} und {high_um:+.2f} µm ist herausgenommen, mit einer "
        "Standardunsicherheit von {share:.0%} davon."
    ),
    "results.straightedge_no_sag": (
        "Es ist kein Durchhang herausgenommen. In der senkrechten Ebene bleibt er in der Zahl der Maschine: geben Sie "
        "die Auflagen an."
    ),
    "results.rests_passes": "Beruht auf den Durchgängen: {passes}.",
    "results.rests_table": "Beruht auf {file}, Durchgänge: {passes}.",
    "results.rests_file": "Beruht auf {file}.",
    "results.rests_reference": "Bezug: {reference}.",
    "results.rests_segments": "Teilstücke: {segments}.",
    "results.rests_point": "Funktionspunkt: {point}.",
    "results.rests_point_mm": (
        "Funktionspunkt: von der abgelesenen Position {along:+g} mm längs, {up:+g} mm nach oben, {towards:+g} mm zum "
        "Bediener hin."
    ),
    "results.rests_excluded": "Weggelassene Messwerte: {count} ({why}).",
    "results.rests_unstated": "Nicht angegeben: {what}.",
    "results.unstated_point": "Funktionspunkt",
    "results.unstated_left_out": "weggelassene Messwerte",
    "results.unstated_axes": "wie die Achsen liegen",
    "results.rests_excluded_none": "Kein Messwert wurde weggelassen.",
    "results.rests_positive": "{code} ist positiv {direction}.",
    "results.line.end-points": "Endpunkte",
    "results.line.least-squares": "Ausgleichsgerade",
    "results.line.minimum-zone": "kleinste Zone",
    "results.line.three-points": "drei Punkte",
    "results.line.given": "eine vorgegebene Gerade",
    "results.line.target": "eine Sollkurve",
    "results.line.every": "jede der drei Linien",
    "results.positioning": (
        "{code}, Läufe je Richtung: {runs}; Umkehrspanne B {b_um:.1f} µm (Mittel {mean_b_um:+.1f}), systematische "
        "Abweichung E {e_um:.1f} µm, mittlere Abweichung M {m_um:.1f} µm."
    ),
    "results.accuracy": (
        "Genauigkeit A {a_um:.1f} µm, Wiederholpräzision R {r_um:.1f} µm (beide Richtungen); in einer Richtung: A+ "
        "{up_um:.1f}, A− {down_um:.1f} µm."
    ),
}

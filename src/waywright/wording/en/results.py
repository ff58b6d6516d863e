"""Results in sentences, for terminal and report."""

TEXT = {
    "results.passes": (
        "{code}: {passes} passes at {stations} common stations, each by straight lines between its own stations."
    ),
    "results.passes_left_out": "Stations beyond the range of another pass, left out: {count}.",
    "results.passes_mean": (
        "Mean of the passes as read: {end_points:.1f} µm about the end points, {least_squares:.1f} µm about the "
        "least-squares line, {minimum_zone:.1f} µm in the minimum zone."
    ),
    "results.passes_without_drift": (
        "With the drift of the beam taken out: {end_points:.1f}, {least_squares:.1f} and {minimum_zone:.1f} µm."
    ),
    "results.positive": "Figures are positive {direction}.",
    "results.reversal": "Reversal (forward minus backward) at most {value_um:+.1f} µm, at {at_mm:.0f} mm.",
    "results.repeatability": "Passes of one direction repeat within a standard deviation of {value_um:.2f} µm.",
    "results.noticeable": (
        "One reading scatters by {noise_um:.2f} µm. A bad reading of {spike_um:.1f} µm or a slip of {step_um:.1f} µm "
        "would be noticed four times in five; at most {rate:.0%} of sound sets of passes raise an alarm."
    ),
    "results.nothing_found": "No reading stands out, nothing slipped, no pass is shifted.",
    "results.drift": (
        "The beam drifts by {offset:+.1f} ± {offset_u:.1f} µm and {angle:+.1f} ± {angle_u:.1f} µm/m an hour; this "
        "bends a pass by up to {bow_um:+.1f} µm. It is shown, not removed."
    ),
    "results.drift_doubtful": (
        "What did not fit may have been taken for drift, or the other way round. Clear that up first."
    ),
    "results.drift_removed": (
        "A drift of the beam of {offset:+.1f} ± {offset_u:.1f} µm and {angle:+.1f} ± {angle_u:.1f} µm/m an hour was "
        "removed; it bent a pass by up to {bow_um:+.1f} µm."
    ),
    "results.drift_assumed": (
        "If the reversal were the same all along the axis, the beam would drift by {offset:+.1f} µm and {angle:+.1f} "
        "µm/m an hour and bend a pass by up to {bow_um:+.1f} µm. Nothing was removed."
    ),
    "results.spatial": (
        "{first} and {second}: straight in space within a cylinder of {value_um:.1f} µm diameter, from {from_mm:.0f} "
        "to {to_mm:.0f} mm, {stations} stations; farthest from its axis at {at_mm:.0f} mm."
    ),
    "results.twist": (
        "{code}: twist {total:.1f} µm/m in all over {length_mm:.0f} mm, {ends:+.1f} µm/m from the first to the last "
        "station, {rate:+.2f} µm/m per metre."
    ),
    "results.twist_height": "Over a gauge of {gauge_mm:.0f} mm that is a height difference of {value_um:.1f} µm.",
    "results.straight": (
        "{code}: straight within {value_um:.1f} µm about {reference}, largest {largest:+.1f} at {largest_mm:.0f} mm, "
        "smallest {smallest:+.1f} at {smallest_mm:.0f} mm, {stations} stations; {end_points:.1f} µm about the end "
        "points, {least_squares:.1f} about the least-squares line, {minimum_zone:.1f} in the minimum zone."
    ),
    "results.straight_local": (
        "Over any {window_mm:.0f} mm at most {value_um:.1f} µm, worst from {start_mm:.0f} mm on."
    ),
    "results.rotation": "rotation",
    "results.angle": (
        "{code} ({name}): {value:.1f} µm/m, largest minus smallest; largest {largest:+.1f} at {largest_mm:.0f} mm, "
        "smallest {smallest:+.1f} at {smallest_mm:.0f} mm; {stations} stations, passes: {passes}."
    ),
    "results.angle_reversal": "Reversal (forward minus backward) at most {value:+.1f} µm/m, at {at_mm:.0f} mm.",
    "results.squares": (
        "Angle minus 90°: square 1 {first:+.1f}, square 2 {second:+.1f}, square 3 {third:+.1f} µm/m, each with a "
        "standard uncertainty of {uncertainty:.1f} µm/m. Use the figure as the square's own error."
    ),
    "results.squares_outer": "Outer faces stood towards each other: they close upwards where an angle is too large.",
    "results.squares_inner": "Inner faces stood towards each other: they open upwards where an angle is too large.",
    "results.squareness": "{code}: {value:+.1f} µm/m, by the {reference} lines of both axes.",
    "results.square_open": "The angle between +{first} and +{second} is {size:.1f} µm/m larger than 90°.",
    "results.square_closed": "The angle between +{first} and +{second} is {size:.1f} µm/m smaller than 90°.",
    "results.square_own": "The square itself is {value:+.1f} µm/m off 90°; by reversal this is taken out.",
    "results.parallelism": (
        "{code}: as read, the second line rises {angle:+.1f} µm/m against the first, {over_um:+.1f} µm over the "
        "{length_mm:.0f} mm that both cover, by their {reference} lines."
    ),
    "results.subjects": "First is {first}, second {second}.",
    "results.is_line": "a line",
    "results.is_axis": "the motion of an axis",
    "results.is_guideway": "a guideway",
    "results.no_link": (
        "Both lines are taken as seen from one set-up. Otherwise give the link that was measured between the two."
    ),
    "results.linked_beam": (
        "With one beam for both: {value:+.1f} µm/m, standard uncertainty {uncertainty:.1f} µm/m, {share:.0%} of its "
        "square is the link."
    ),
    "results.linked_bridge": (
        "With the bridge as link: {value:+.1f} µm/m, standard uncertainty {uncertainty:.1f} µm/m, {share:.0%} of its "
        "square is the link."
    ),
    "results.linked_level": (
        "With the level as link: {value:+.1f} µm/m, standard uncertainty {uncertainty:.1f} µm/m, {share:.0%} of its "
        "square is the link."
    ),
    "results.segments": (
        "{code}: {segments} segments joined at {stations} stations; straight within {value_um:.1f} µm about the end "
        "points."
    ),
    "results.segments_uncertainty": (
        "Joining makes the middle less certain: standard uncertainty up to {value_um:.2f} µm about the end points, at "
        "{at_mm:.0f} mm."
    ),
    "results.overlap": (
        "Segments {first} and {second} share {stations} stations and differ there by {rms_um:.2f} µm (root mean "
        "square)."
    ),
    "results.overlaps_agree": "The overlaps agree within the noise of the readings.",
    "results.overlaps_disagree": (
        "The overlaps differ by more than the noise of the readings. Measure them again before you trust the joint."
    ),
    "results.guideway": (
        "{code} from {rotation}: {end_points:.1f} µm about the end points, {least_squares:.1f} µm about the "
        "least-squares line, {minimum_zone:.1f} µm in the minimum zone."
    ),
    "results.flatness_minimum-zone": (
        "Flat within {value_um:.1f} µm (minimum zone), {points} points, {smallest_um:+.1f} to {largest_um:+.1f} µm."
    ),
    "results.flatness_least-squares": (
        "Flat within {value_um:.1f} µm about the least-squares plane, {points} points, {smallest_um:+.1f} to "
        "{largest_um:+.1f} µm."
    ),
    "results.flatness_three-points": (
        "Flat within {value_um:.1f} µm about the plane through three points, {points} points, {smallest_um:+.1f} to "
        "{largest_um:+.1f} µm."
    ),
    "results.closures": (
        "{lines} lines adjusted; line {name} misses by most, {worst_um:+.1f} µm. One step scatters by {sd_um:.2f} µm."
    ),
    "results.closures_each": "Misclosure by line, µm: {listed}.",
    "results.reflector": (
        "Angles of a reflector carriage: the shape of the way averaged over the carriage's feet, about any zero. An "
        "autocollimator sees no level, so the curvature of the earth does not come in."
    ),
    "results.level": (
        "{steps} steps of {base_mm:g} mm: {end_points:.1f} µm about the end points, {least_squares:.1f} µm about the "
        "least-squares line, {minimum_zone:.1f} µm in the minimum zone."
    ),
    "results.level_mean": (
        "Along: {mean_mm_per_m:+.4f} mm/m in the mean, {smallest_mm_per_m:+.4f} to {largest_mm_per_m:+.4f} mm/m."
    ),
    "results.level_across": (
        "Across: {mean_mm_per_m:+.4f} mm/m in the mean, changing by {total_mm_per_m:.4f} mm/m along the way."
    ),
    "results.level_place": "At {at_mm:.0f} mm: along {along:+.4f} mm/m, across {across:+.4f} mm/m.",
    "results.level_place_along": "At {at_mm:.0f} mm: along {along:+.4f} mm/m.",
    "results.level_place_across": "At {at_mm:.0f} mm: across {across:+.4f} mm/m.",
    "results.level_zero": (
        "The level's zero is at {zero:+.1f} µm/m and is taken out; its scatter makes the middle uncertain by "
        "{noise_um:.1f} µm."
    ),
    "results.earth_removed": (
        "The curvature of the earth, {bow_um:.1f} µm over this length, is taken out: compare with a beam."
    ),
    "results.earth_kept": (
        "As a level sees it: a beam would show {bow_um:.1f} µm more hump, the curvature of the earth. Use --beam to "
        "compare."
    ),
    "results.at_point": (
        "{code} as the tool sees it: {end_points:.1f} µm about the end points, {least_squares:.1f} µm about the "
        "least-squares line, {minimum_zone:.1f} µm in the minimum zone; as read {as_read:.1f} µm about the end points."
    ),
    "results.at_point_share": "{rotation} brings up to {largest_um:.1f} µm of change over the arm.",
    "results.level_up": "Level: positive along is {along}, positive across is {across}.",
    "results.ram": (
        "Ram out {length_mm:.0f} mm: it droops to {off:+.1f} µm without weight compensation ({off_slope:+.1f} µm/m), "
        "to {on:+.1f} µm with it ({on_slope:+.1f} µm/m)."
    ),
    "results.ram_lifted": (
        "The compensation lifts the end by {lift:+.1f} µm ({slope:+.1f} µm/m); at most {highest:.1f} µm above where it "
        "began."
    ),
    "results.roll_lines": "{code} from {source} on arms {arm_mm:+g} mm apart: {total:.1f} µm/m, largest less smallest.",
    "results.roll_noise": "The noise of the readings makes one value uncertain by {noise:.1f} µm/m.",
    "results.joint": (
        "{code}, joint at {at_mm:.0f} mm: step {step:+.1f} ± {step_u:.1f} µm, kink {kink:+.1f} ± {kink_u:.1f} µm/m "
        "(95 %) beside {shape}, from {before} stations before it and {after} behind; one reading scatters by "
        "{noise_um:.2f} µm."
    ),
    "results.joint_bow": "an even bow of the way",
    "results.joint_straight": "a straight way",
    "results.joint_seen_both": "Both stand out of the noise.",
    "results.joint_seen_step": "The step stands out of the noise, the kink does not.",
    "results.joint_seen_kink": "The kink stands out of the noise, the step does not.",
    "results.joint_seen_none": "Neither stands out of the noise.",
    "results.ways": (
        "Second way against first over a gauge of {gauge_mm:g} mm: height {smallest_um:+.1f} to {largest_um:+.1f} µm, "
        "cross-level {smallest:+.4f} to {largest:+.4f} mm/m, changing by {twist:.1f} µm/m; it rises {angle:+.1f} µm/m."
    ),
    "results.ways_place": "At {at_mm:.0f} mm: cross-level {cross:+.4f} mm/m.",
    "results.ways_surface": "Both as one surface: flat within {value_um:.1f} µm (minimum zone).",
    "results.ways_gauge": ("The gauge varies by {total_um:.1f} µm and opens by {angle:+.1f} µm/m along the ways."),
    "results.ways_link": "Tied by the bridge, which turned the second line by {turn:+.1f} µm/m.",
    "results.spindle": (
        "The spindle's axis leans {angle:+.1f} µm/m against the axis of motion, {over_um:+.1f} µm over "
        "{length_mm:.0f} mm, in the sign of the readings."
    ),
    "results.spindle_uncertainty": "The noise of the readings makes that uncertain by {uncertainty:.1f} µm/m.",
    "results.spindle_mandrel": "The mandrel itself: {angle:+.1f} µm/m, run-out up to {run_out_um:.1f} µm; taken out.",
    "results.spindle_sag": "Sag would have added {angle:+.1f} µm/m; it is taken out.",
    "results.straightedge": (
        "Machine: {end_points:.1f} µm about the end points, {least_squares:.1f} µm about the least-squares line, "
        "{minimum_zone:.1f} µm in the minimum zone. The straightedge itself: {own:.1f} µm about its end points."
    ),
    "results.straightedge_noise": (
        "Standard uncertainty of one value: machine up to {machine_um:.2f} µm, straightedge up to {own_um:.2f} µm."
    ),
    "results.straightedge_sag": (
        "Sag of the straightedge between {low_um:+.2f} and {high_um:+.2f} µm is taken out, with a standard uncertainty "
        "of {share:.0%} of it."
    ),
    "results.straightedge_no_sag": (
        "No sag was taken out. In the vertical plane it stays in the machine's figure: give the supports."
    ),
    "results.rests_passes": "Rests on passes: {passes}.",
    "results.rests_table": "Rests on {file}, passes: {passes}.",
    "results.rests_file": "Rests on {file}.",
    "results.rests_reference": "Reference: {reference}.",
    "results.rests_segments": "Segments: {segments}.",
    "results.rests_point": "Functional point: {point}.",
    "results.rests_point_mm": (
        "Functional point: {along:+g} mm along, {up:+g} mm up, {towards:+g} mm towards the operator of the position "
        "read."
    ),
    "results.rests_excluded": "Readings left out: {count} ({why}).",
    "results.rests_unstated": "Not stated: {what}.",
    "results.unstated_point": "functional point",
    "results.unstated_left_out": "readings left out",
    "results.unstated_axes": "how the axes lie",
    "results.rests_excluded_none": "No reading was left out.",
    "results.rests_positive": "{code} is positive {direction}.",
    "results.line.end-points": "end points",
    "results.line.least-squares": "least squares",
    "results.line.minimum-zone": "minimum zone",
    "results.line.three-points": "three points",
    "results.line.given": "a given line",
    "results.line.target": "a target curve",
    "results.line.every": "each of the three lines",
    "results.positioning": (
        "{code}, runs each way: {runs}; reversal B {b_um:.1f} µm (mean {mean_b_um:+.1f}), systematic deviation E "
        "{e_um:.1f} µm, mean deviation M {m_um:.1f} µm."
    ),
    "results.accuracy": (
        "Accuracy A {a_um:.1f} µm, repeatability R {r_um:.1f} µm (both directions); one way: A+ {up_um:.1f}, A− "
        "{down_um:.1f} µm."
    ),
}

"""Sentences of the correction."""

TEXT = {
    "correct.no_rest": "The bed finds no rest on its supports as described. Check mass, seats and supports.",
    "correct.not_held": (
        "{supports} supports cannot hold this bed. One row needs at least two, two rows at least three that do not "
        "stand in one line."
    ),
    "correct.side_jacks_missing": (
        'Side needs at least two side jacks; {supports} are described. Add supports with kind = "side-jack", or '
        "correct the side elsewhere."
    ),
    "correct.unknown_quantity": "{quantity!r} is not something that is measured of a bed. Use one of: {allowed}.",
    "correct.no_carriage": (
        "The readings are of the carriage, but the machine file has no [bed.carriage]. Add its pad spacing, or say "
        "that the guideway was measured."
    ),
    "correct.lengths_differ": "There are {positions} positions but {values} values of {name}. Give one for each.",
    "correct.station_off_bed": (
        "The station at {position_mm:g} mm lies off the bed, which reaches from 0 to {length_mm:g} mm. Positions here "
        "count along the bed: check the named mark and the direction."
    ),
    "correct.too_few_stations": "A plan needs at least three stations; there are {stations}. Measure more.",
    "correct.not_a_number": "Station {station} has no number for {name}. Leave the station out or measure it again.",
    "correct.negative_noise": "The noise of a reading cannot be {noise_um} µm. Give its standard deviation.",
    "correct.goal_not_positive": "The goal is {goal_um} µm. Give the straightness to be reached, above zero.",
    "correct.unknown_support": "There is no support {support} under this bed. There are: {supports}.",
    "correct.all_locked": (
        "All supports are locked or stand beyond the stations, so nothing can be turned. Unlock some, or measure the "
        "stretch above them."
    ),
    "correct.no_support_allowed": "At most {max_supports} supports may be touched: nothing can be planned.",
    "correct.no_plan": "No moves within the limits satisfy what is asked for. Allow larger moves or more supports.",
    "correct.belief_of_another_bed": (
        "What was learnt is about supports {believed}, but this bed stands on {supports}. Start afresh without it."
    ),
    "correct.moves_differ": "There are {moves} moves for {supports} supports. Give one each, zero where not turned.",
    "correct.roll_once": "Roll was measured on one of the two lines only. Give it before and after, or leave it out.",
    "correct.step_raise": "Support {support}: raise {move_um:.0f} µm.",
    "correct.step_raise_turns_clockwise": "Support {support}: raise {move_um:.0f} µm = {turns} turn clockwise.",
    "correct.step_raise_degrees_clockwise": "Support {support}: raise {move_um:.0f} µm = {degrees:.0f}° clockwise.",
    "correct.step_raise_turns_anticlockwise": "Support {support}: raise {move_um:.0f} µm = {turns} turn anticlockwise.",
    "correct.step_raise_degrees_anticlockwise": (
        "Support {support}: raise {move_um:.0f} µm = {degrees:.0f}° anticlockwise."
    ),
    "correct.step_lower": "Support {support}: lower {move_um:.0f} µm.",
    "correct.step_lower_turns_clockwise": "Support {support}: lower {move_um:.0f} µm = {turns} turn clockwise.",
    "correct.step_lower_degrees_clockwise": "Support {support}: lower {move_um:.0f} µm = {degrees:.0f}° clockwise.",
    "correct.step_lower_turns_anticlockwise": "Support {support}: lower {move_um:.0f} µm = {turns} turn anticlockwise.",
    "correct.step_lower_degrees_anticlockwise": (
        "Support {support}: lower {move_um:.0f} µm = {degrees:.0f}° anticlockwise."
    ),
    "correct.step_push": "Support {support}: push towards the operator {move_um:.0f} µm.",
    "correct.step_push_turns_clockwise": (
        "Support {support}: push towards the operator {move_um:.0f} µm = {turns} turn clockwise."
    ),
    "correct.step_push_degrees_clockwise": (
        "Support {support}: push towards the operator {move_um:.0f} µm = {degrees:.0f}° clockwise."
    ),
    "correct.step_push_turns_anticlockwise": (
        "Support {support}: push towards the operator {move_um:.0f} µm = {turns} turn anticlockwise."
    ),
    "correct.step_push_degrees_anticlockwise": (
        "Support {support}: push towards the operator {move_um:.0f} µm = {degrees:.0f}° anticlockwise."
    ),
    "correct.step_ease": "Support {support}: ease away from the operator {move_um:.0f} µm.",
    "correct.step_ease_turns_clockwise": (
        "Support {support}: ease away from the operator {move_um:.0f} µm = {turns} turn clockwise."
    ),
    "correct.step_ease_degrees_clockwise": (
        "Support {support}: ease away from the operator {move_um:.0f} µm = {degrees:.0f}° clockwise."
    ),
    "correct.step_ease_turns_anticlockwise": (
        "Support {support}: ease away from the operator {move_um:.0f} µm = {turns} turn anticlockwise."
    ),
    "correct.step_ease_degrees_anticlockwise": (
        "Support {support}: ease away from the operator {move_um:.0f} µm = {degrees:.0f}° anticlockwise."
    ),
    "correct.step_slacken": "Slacken the anchor of support {support} just enough for the adjuster to turn freely.",
    "correct.step_come_back": (
        "Go {play_um:.0f} µm further down and come back up by as much: every move of support {support} ends upwards."
    ),
    "correct.step_reading_rise": "The reading at {station_mm:.0f} mm should rise by about {change_um:.0f} µm.",
    "correct.step_reading_fall": "The reading at {station_mm:.0f} mm should fall by about {change_um:.0f} µm.",
    "correct.step_tighten": "Tighten the anchor of support {support} in stages and watch the reading while it sinks.",
    "correct.step_wait": "Wait {minutes} minutes before the reading counts.",
    "correct.confirm_axis_locked": "The axis is locked and cannot be moved by anyone else.",
    "correct.confirm_vertical_supported": "Vertical axes and hanging loads are supported mechanically.",
    "correct.confirm_cribbed": "The load is cribbed: nobody works under a load that only jacks hold.",
    "correct.confirm_makers_limit": "The maker allows moves of {move_um:.0f} µm at one support in one round.",
    "correct.under_headstock": (
        "Support {support} stands under the headstock: turning it changes spindle to carriage. Check that again."
    ),
    "correct.stays_hollow": (
        "Support {support} would not carry after this plan. Raise it by hand until it just carries."
    ),
    "correct.hollow_now": "Support {support} seems to carry nothing now. Try it by hand before the first turn.",
    "correct.goal_not_reached": (
        "This round is expected to reach {value_um:.0f} µm, not yet {goal_um:.0f} µm. Measure again and plan the next."
    ),
    "correct.not_by_supports": (
        "{value_um:.0f} µm are in the ways themselves and cannot be taken out by any support; the goal is "
        "{goal_um:.0f} µm. Scraping or a compensation table can follow."
    ),
    "correct.unseen": "The carriage averages over its pads: form shorter than {length_mm:.0f} mm is not seen here.",
    "correct.check_joint": (
        "Check the step across the joint at {bed_mm:.0f} mm with an indicator. A step is never levelled away."
    ),
    "correct.then_every_support_carries": "Try every support by hand: each must carry.",
    "correct.then_measure": (
        "Measure again. Expected: {value_um:.0f} µm, with 95 % between {low_um:.0f} and {high_um:.0f} µm."
    ),
    "correct.stage_rough": "Level roughly on supports {supports} only, all others clear of the bed.",
    "correct.stage_contact": "Bring supports {supports} up by hand until each just carries.",
    "correct.stage_twist": "Take the twist out: the cross level reads the same at all stations.",
    "correct.stage_height": "Bring the height straight.",
    "correct.stage_side": "Bring the side straight with the side jacks, then check twist and height again.",
    "correct.stage_side_without_jacks": (
        "The side is out, and there are no side jacks. Check bolts and joints before anything is scraped."
    ),
    "correct.stage_joints": "Check the step across each joint, then bolt and dowel.",
    "correct.stage_bolts": "Tighten the anchors from the middle outwards in three stages; measure between them.",
    "correct.no_shim": "A shim pack of {wanted_um} µm cannot be made. Give a thickness above zero.",
    "correct.stock_too_poor": (
        "The stock makes no pack within {within_um:g} µm of {wanted_um:g} µm. Add foils, or allow more."
    ),
    "correct.scrape_after_levelling": "Scrape only what no support can correct, after the last levelling round.",
    "correct.scrape_too_deep": "Up to {deepest_um:.0f} µm would have to go: that is for planing or grinding.",
    "correct.scrape_not_at_joint": (
        "Do not scrape the step at the joint at {bed_mm:.0f} mm away: bring the joint right."
    ),
    "correct.passes_needed": "A compensation table needs at least two passes; there are {passes}. Measure again.",
    "correct.bad_spacing": "A spacing of {spacing_mm:g} mm does not suit a line of {length_mm:g} mm.",
    "correct.table_after_levelling": "A table hides a bed that is not level. Level first.",
    "correct.table_sign_test": (
        "Before use: apply {step_um:+.0f} µm at one point and measure. The change tells the sign the controller needs."
    ),
    "correct.table_not_repeatable": (
        "Passes scatter by {scatter_um:.1f} µm, and only {repeatable_um:.1f} µm come back each time. A table is the "
        "wrong remedy: look for play or drift first."
    ),
    "correct.sign_test_failed": (
        "{applied_um:+.0f} µm were put in and the reading changed by {change_um:+.1f} µm: neither that nor "
        "its opposite. "
        "Check that the table is active at this point, and measure again."
    ),
    "correct.not_in_plan": "Support {support} is not to be turned in this plan.",
    "correct.station_does_not_answer": (
        "At {station_mm:.0f} mm the reading hardly answers to support {support}. Park the detector nearer to it."
    ),
    "correct.as-asked": "All was done as asked; the bed is stiffer or softer than believed ({probability:.0%}).",
    "correct.not-carrying": "Support {support} did not carry, or the move did not reach the bed ({probability:.0%}).",
    "correct.wrong-support": "Support {other} was turned in place of {support} ({probability:.0%}).",
    "correct.wrong-direction": "Support {support} was turned the wrong way ({probability:.0%}).",
    "correct.wrong-amount": "Support {support} was turned by a wrong amount ({probability:.0%}).",
    "correct.slipped": "Something slipped at support {support} ({probability:.0%}).",
}

"""Words on the pages."""

TEXT = {
    "web.name": "Waywright",
    "web.serving": "Waywright is at {address} (this computer only). Ctrl-c ends it; everything taken is kept.",
    "web.port_taken": "Port {port} is in use, perhaps by another Waywright. End that one, or choose another with --port.",
    "web.bad_pace": "The workshop does not run {pace} times as fast. Choose one of: {allowed}.",
    "web.way_through": "the way through the visit",
    "web.take": "Take",
    "web.judge": "Judge",
    "web.prove": "Prove",
    "web.machines": "Machines",
    "web.light": "light or dark",
    "web.cut_off": "The page has lost the server; it comes back by itself. A pass that runs goes on.",
    "web.state.as-found": "as found",
    "web.state.as-left": "as left",
    "web.welcome": "Take, judge, correct, prove",
    "web.welcome_words": (
        "Nothing is recorded here yet. Practise first: an invented workshop with a roll lathe starts on this computer, "
        "and everything works as on the floor, without any hardware. Or begin with your own machine."
    ),
    "web.owner_unknown": "owner not recorded",
    "web.technician_unknown": "technician not recorded",
    "web.invented": "Invented, for practice.",
    "web.pass_runs": "pass {number} runs now",
    "web.pass_interrupted": "pass {number} was interrupted after {stations} stations; it can go on",
    "web.passes_taken": "passes: {passes}",
    "web.nothing_taken": "nothing taken yet",
    "web.practise_title": "Practise",
    "web.practise_words": (
        "The invented workshop Hollin Reach: a 6.4 m bed on fourteen supports. A beam detector, a distance meter and a "
        "level send real lines; an operator drives, hesitates, and somebody walks through the beam."
    ),
    "web.pace_label": "how fast the workshop runs",
    "web.pace": "{factor:g} × real time",
    "web.practise": "practise with the simulated workshop",
    "web.workshop_opens": "the workshop opens …",
    "web.measure_title": "Measure",
    "web.measure_words": (
        "A quick look needs a name and the instruments; everything else can be added later, and the report says “not "
        "recorded” until then."
    ),
    "web.quick_look": "quick look",
    "web.new_machine": "new machine",
    "web.seen_from_above": "seen from above",
    "web.seen_from_the_side": "seen from the side",
    "web.phase_idle": "no instruments connected",
    "web.phase_connecting": "waiting for every instrument to be heard",
    "web.phase_ready": "instruments heard; no pass runs",
    "web.now_waiting": "waiting for the instruments",
    "web.now_": "waiting for the instruments",
    "web.now_moving": "the carriage moves",
    "web.now_averaging": "the carriage stands still, averaging",
    "web.now_taken": "taken: drive on",
    "web.now_resting": "the carriage stands still",
    "web.now_silent": "silent: {silent}",
}

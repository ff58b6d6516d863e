"""Sentences of the practice workshop."""

TEXT = {
    "simulation.no_scenario": ("There is no scenario {file!r}. Give the path of a TOML file, or one of: {known}."),
    "simulation.bad_scenario": "The scenario {file} cannot be used: {problem}. Correct the file and start again.",
    "simulation.did_not_start": (
        "The practice workshop did not start (exit code {exit_code}). What it said stands above; start it again."
    ),
    "simulation.ended": (
        "The practice workshop has ended (exit code {exit_code}) and no longer answers. Start it again."
    ),
    "simulation.no_instrument": "The practice workshop has no further instrument {name!r}. There are: {known}.",
    "simulation.not_left": "The operator drives: nobody leaves the machine alone now. Wait until he is home.",
    "simulation.not_turned": (
        "The support {support} was not turned: there is none of that name, or the carriage is being driven. "
        "Wait until the operator has finished and use the names painted on the floor."
    ),
    "simulation.serving": (
        "Practice workshop Hollin Reach (invented), scenario {title}, at {factor:g} times real time. "
        "The instruments are described in {folder}:"
    ),
    "simulation.endpoint": "  {name:<14} {place}",
    "simulation.press_enter": "Press Enter and the operator drives the carriage forward and back; Ctrl-C ends.",
    "simulation.driving": "The operator drives; the whole way takes about {duration_s:.0f} s of the workshop's time.",
    "simulation.round": "round {number}",
    "simulation.round_planned": "Round {number}: the plan and the sheet for the fitter",
    "simulation.fitter_turns": (
        "The fitter turns {supports}, one support at a time and as well as a fitter can; then the bed is left alone."
    ),
    "simulation.round_done": (
        "Round {number}: {before_um:.1f} µm before, {expected_um:.1f} µm expected, {value_um:.1f} µm read."
    ),
    "simulation.round_surprise": "The readings moved otherwise than they should. The likeliest causes:",
    "simulation.whole_reached": "As left the goal of {goal_um:g} µm is kept.",
    "simulation.whole_not_reached": (
        "As left the goal of {goal_um:g} µm is not kept; the report says what was reached. Plan another round."
    ),
    "simulation.stopped": "The practice workshop is closed.",
}

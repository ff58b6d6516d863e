"""What a kept line lacks for a test of its set-up."""

TEXT = {
    "guard_kept.not_recorded": (
        "{name} is not recorded for {line}. Say it (`--{name}`), or keep the test that tells it first (`guard "
        "steadiness --keep`, or the tolerance in the plan of the visit)."
    ),
    "guard_kept.no_standstill": (
        "{line} has no two readings of {least_s:.0f} s or more at different places. Take a pass with two stops, near "
        "the source and far from it, and `capture --averaging-s 300`."
    ),
    "guard_kept.say": "Say {name} (`--{name}`), or name a kept line that has it (`--line`).",
    "guard_kept.file_or_line": "Give a table, or a kept line (`--line`).",
}

"""Sentences of what is tried on the spot: stations measured again, the program's own checks."""

TEXT = {
    "witness.line_name": "{line}, witnessed",
    "witness.no_stations": '{said!r} is no list of stations. Write it as "0, 1200, 2400, 5200" (mm).',
    "witness.nothing_common": "Nothing of {line} was measured twice. Measure it again with the same instruments.",
    "witness.few_stations": "Only {stations} chosen stations were measured twice; {needed} are needed to compare.",
    "witness.left": "Chosen stations still to come: {places} mm.",
    "witness.not_compared": "Not compared, as one of the two has no station there: {places} mm.",
    "witness.agrees": "All {values} values agree within the uncertainty of both.",
    "witness.differs": "{outside} of {values} values differ by more than the uncertainty of both.",
    "witness.kept": "It stands in the report of the visit.",
    "witness.column_quantity": "quantity",
    "witness.column_position": "mm",
    "witness.column_first": "first µm",
    "witness.column_again": "again µm",
    "witness.column_difference": "difference µm",
    "witness.column_allowed": "allowed µm",
    "witness.self_check": "Waywright {version} · {made} · Python {python} · {system}",
    "witness.column_check": "published value",
    "witness.column_source": "source",
    "witness.column_published": "published",
    "witness.column_found": "this copy",
    "witness.all_passed": "All {checks} published values are reached.",
    "witness.some_failed": (
        "{failed} of {checks} published values are not reached. Do not use this copy; install it anew."
    ),
}

"""Sentences of test plans."""

TEXT = {
    "plan.no_tolerance": "No tolerance is agreed for it.",
    "plan.only_an_example": "Its tolerance is an example from a template, not a limit that anybody has agreed.",
    "plan.no_source": "Nobody has said where its tolerance comes from.",
    "plan.not_confirmed": "Nobody has confirmed its tolerance in the source.",
    "plan.not_agreed": "Nobody has agreed to the test plan as it stands.",
    "plan.confirmed_without_source": (
        "The tolerance of {key} cannot be confirmed without its source. Name the sheet or clause it stands in."
    ),
    "plan.nothing_to_agree": "The plan {title} has no tests yet. Add tests, then agree to it.",
    "plan.no_such_test": "The plan has no test {key}. It has: {known}.",
    "plan.no_template": "There is no plan template {name}. There are: {known}.",
    "plan.no_procedure": "There is no procedure {name}. There are: {known}.",
}

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
    "plan.there_already": "This visit has a plan already. Change it with `waywright plan edit`.",
    "plan.none_yet": "This visit has no plan yet. Begin one with `waywright plan new`.",
    "plan.key_taken": "The plan has a test {key} already. Change it with `waywright plan edit`, or use another name.",
    "plan.nothing_said": "Nothing to change was said. Name what changes, for example --rule or --datum.",
    "plan.binds": "binds",
    "plan.for_information": "for information only",
    "plan.example": "example, to be replaced",
    "plan.agreed_by": "Agreed by {name} ({party}) on {day}.",
    "plan.nobody_agreed": "Nobody has agreed to it yet: every verdict is for information only.",
    "plan.decision": "Decision rule: the burden of proof is with {burden}, at {confidence:.0%}.",
    "plan.bad_confidence": "{confidence:g} is no probability to decide at. Use one between 0.5 and 1, such as 0.95.",
    "plan.bad_reference": "{reference} is no reference line. There are: {known}.",
    "plan.unknown_party": "There is no side {party}. A plan is agreed to for: {known}.",
    "plan.no_rule": "The test {key} has no tolerance yet. Give its rule too.",
    "plan.state": "The machine is to be measured with {words}.",
    "plan.goes_wrong": "What goes wrong",
    "plan.mind": "Mind",
    "plan.no_key": "Every test of a plan needs a key, a short name such as height.",
}

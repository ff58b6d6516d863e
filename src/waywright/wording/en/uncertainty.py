"""Sentences of the uncertainty."""

TEXT = {
    "uncertainty.negative_seed": (
        "The seed of a simulation is a whole number from 0 up; got seed {seed}, stream {stream}."
    ),
    "uncertainty.too_few_draws": "A simulation needs at least {needed} draws; {draws} were asked for.",
    "uncertainty.sigma_not_positive": (
        "The reading noise is {sigma_um:g} um. Give its standard deviation in um; it is above zero."
    ),
    "uncertainty.no_inputs": "A model needs inputs with their distributions. Name at least one.",
    "uncertainty.bad_mean": "The mean of an input is one number, or one per station, all finite; got shape {shape}.",
    "uncertainty.bad_spread": "A spread of {value} cannot be used. It is finite and not negative.",
    "uncertainty.bad_degrees": "Degrees of freedom are above zero (infinite is allowed); got {value}.",
    "uncertainty.readings_missing": (
        "An input drawn once per reading needs its values at the stations as the mean, one number per reading."
    ),
    "uncertainty.model_shape": (
        "The model returned an array of shape {shape}; it has to return one value per draw, shape {needed}."
    ),
    "uncertainty.unknown_input": "There is no input {name!r}. Inputs are: {known}.",
    "uncertainty.correlated_readings": (
        "Input {name!r} is drawn once per reading; a coefficient of correlation belongs to inputs drawn once per trial."
    ),
    "uncertainty.bad_correlation": (
        "A coefficient of {coefficient} between {first!r} and {second!r} cannot be. Two different inputs, from -1 to 1."
    ),
    "uncertainty.impossible_correlation": (
        "No quantities can be correlated like this: the coefficients contradict each other. Check them pair by pair."
    ),
    "uncertainty.propagate_readings": (
        "Input {name!r} has a value per station; the law of propagation takes single numbers. Use Monte Carlo for it."
    ),
    "uncertainty.bad_probability": "A coverage probability lies between 0 and 1; got {probability}.",
    "uncertainty.bad_interval": 'A coverage interval is "shortest" or "symmetric"; got {kind!r}.',
    "uncertainty.bad_covariance": (
        "The errors of the readings have no usable covariance (shape {shape}, {stations} stations). "
        "A budget needs some scatter of each reading, and every value finite."
    ),
    "uncertainty.unit_of_contribution": "Contribution {name!r} is given in {unit!r}; the way it acts needs {needed!r}.",
    "uncertainty.value_of_contribution": (
        "Contribution {name!r} has the value {value}. "
        "Values are finite and not negative, degrees of freedom above zero."
    ),
    "uncertainty.word_of_contribution": "Contribution {name!r}: {word!r} is not known here. Use one of: {known}.",
    "uncertainty.contribution_twice": "Two contributions are named {name!r}. Give each a name of its own.",
    "uncertainty.contribution_needs": (
        "Contribution {name!r} works with {missing}, which was not given. Measure it, or set the contribution to zero."
    ),
    "uncertainty.help_passes": "Take {more:.0f} more passes.",
    "uncertainty.help_averaging": "Average each reading for {averaging_s:.0f} s.",
    "uncertainty.help_air": "Mix the air along the beam, or measure its gradient with thermometers at two heights.",
    "uncertainty.help_drift": "Take passes forward and backward in turn, so that even drift cancels.",
    "uncertainty.help_reversal": "Turn the straightedge over and take the mean of both positions.",
    "uncertainty.help_align": "Align the beam so that less of the detector's range is used, or apply its "
    "correction table.",
    "uncertainty.help_stations": "Take stations every {spacing_mm:.0f} mm.",
}

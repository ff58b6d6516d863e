"""Words on the drawings and their descriptions for those who hear them."""

TEXT = {
    "drawing.way_title": "Way drawing of {kind} {machine}",
    "drawing.curve_title": "Deviation curve: {quantity} ({code})",
    "drawing.positive": "{direction} is +",
    "drawing.about.end-points": "about the line through the end points",
    "drawing.about.least-squares": "about the least-squares line",
    "drawing.about.minimum-zone": "about the minimum-zone line",
    "drawing.about.given": "about the given line",
    "drawing.about.none": "as read",
    "drawing.exaggerated": "deviations {factor} × enlarged",
    "drawing.not_to_scale": "angles not to scale",
    "drawing.positions_grow_left": "positions in mm from the {mark}, growing to the left",
    "drawing.positions_grow_right": "positions in mm from the {mark}, growing to the right",
    "drawing.positions_from": "mm from the {mark}",
    "drawing.operator_side": "operator's side",
    "drawing.headstock": "headstock",
    "drawing.band": "{tolerance} {unit} allowed, laid where it fits best",
    "drawing.all_inside": "all stations inside",
    "drawing.outside": "outside (hollow): {outside}",
    "drawing.largest": "largest",
    "drawing.smallest": "smallest",
    "drawing.axis_grows_left": "← position, mm",
    "drawing.axis_grows_right": "position, mm →",
    "drawing.words_bed": "Bed of {length_m:.1f} m on {supports} supports.",
    "drawing.words_stations": "{taken} of {stations} stations are taken.",
    "drawing.words_extremes": (
        "{quantity}: largest {largest} {unit} at {largest_mm} mm, smallest {smallest} {unit} at {smallest_mm} mm."
    ),
    "drawing.words_move": "Support {support}: move {move} µm.",
    "drawing.unknown_view": "There is no view {view!r} of the way drawing. Use one of: {allowed}.",
    "drawing.unknown_mark": (
        "The position zero is tied to the mark {mark!r}, which {machine} does not have. "
        "Add the mark to the machine or choose another."
    ),
    "drawing.unknown_support": "{machine} has no support {support!r}. Use a name that is painted at a support.",
    "drawing.lengths": "There are {positions} positions and {values} values. Give one value for each position.",
    "drawing.no_series": "There is no curve to draw. Give at least one pass.",
}

"""Names of quantities, directions and units."""

TEXT = {
    "quantities.height": "height",
    "quantities.side": "side",
    "quantities.roll": "roll",
    "quantities.pitch": "pitch",
    "quantities.yaw": "yaw",
    "quantities.position": "position",
    "quantities.towards": "towards {direction}",
    "quantities.about": "tilt about {direction}",
    "quantities.up": "up",
    "quantities.down": "down",
    "quantities.towards-operator": "towards the operator",
    "quantities.away-from-operator": "away from the operator",
    "quantities.right": "to the right",
    "quantities.left": "to the left",
    "quantities.operator-side-up": "operator's side up",
    "quantities.operator-side-down": "operator's side down",
    "quantities.right-side-up": "right side up",
    "quantities.right-side-down": "right side down",
    "quantities.anticlockwise-from-above": "anticlockwise seen from above",
    "quantities.clockwise-from-above": "clockwise seen from above",
    "quantities.unknown_unit": "The unit {unit!r} is not known here. Use one of: {allowed}.",
    "quantities.bad_code": (
        "{code!r} is not an ISO 230-1 code of an error motion. Write E, the direction (X Y Z, or A B C for "
        "rotations) and the moving axis, for example EYZ or ECZ."
    ),
    "quantities.bad_axis": "{value!r} is not a signed axis. Write for example +Z or -Y.",
    "quantities.same_axis": (
        "The same axis cannot point up ({up}) and towards the operator ({operator}). Correct one of the two."
    ),
    "quantities.direction_across": (
        "{code} has no part in the direction {direction}. Choose a direction that lies along the axis of the code, "
        "or correct the machine's axes."
    ),
}

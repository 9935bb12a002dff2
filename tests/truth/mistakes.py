"""Entries of the demo that are wrong on purpose: record, axle, site, state, and what went wrong."""

WRONG = {
    ("tansy-quill-wide-rear", "rear", "inner-wheelhouse", "this side up, other down"): (
        "looked at the side that opens"
    ),
    ("brackenhurst-bar", "front", "anti-roll-bar", "toe-in lock at droop"): (
        "remembered from a car on its wheels"
    ),
    ("tollgate-in-question", "front", "strut-tube", "static"): "measured to the bare wheel",
}

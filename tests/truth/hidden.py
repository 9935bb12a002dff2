"""How far each site of the six cars truly lies from where its sheet has it, mean of all cars, mm.

Above zero the part is further from the wheel than the sheet says. Drawn once from the spread that
the sheet states, and drawn again where a stock car would have been left with hardly any room.
"""

HIDDEN: dict[tuple[str, str], dict[str, float]] = {
    ("ostvane-meridel", "front"): {
        "fender-lip": -1.5, "liner-front": -0.2, "bumper-tab": -1.5, "pinch-weld": -3.0,
        "frame-rail": -1.5, "strut-tube": 1.5, "spring-perch": -1.6, "radius-rod": 0.5,
        "anti-roll-bar": -4.2, "brake-hose": 3.9, "apron": -1.6,
    },
    ("ostvane-meridel", "rear"): {
        "quarter-lip": -0.1, "inner-wheelhouse": 7.6, "rear-rail": 4.3, "coil-spring": 0.9,
        "damper": 3.9, "bump-stop": 3.2, "lower-link": 1.5, "tailpipe": -0.7, "filler-neck": -3.3,
        "brake-hose": -0.1,
    },
    ("brevanor-hallin", "front"): {
        "fender-lip": 3.4, "liner-front": -4.4, "bumper-tab": -5.1, "pinch-weld": -5.0,
        "frame-rail": -3.1, "strut-tube": -3.0, "spring-perch": -3.1, "radius-rod": -3.7,
        "anti-roll-bar": -4.0, "brake-hose": 3.9, "apron": -2.6,
    },
    ("brevanor-hallin", "rear"): {
        "quarter-lip": 3.2, "inner-wheelhouse": 1.8, "leaf-spring": 1.8, "u-bolt-plate": 0.9,
        "damper": 0.4, "rear-rail": 5.7, "bump-stop": 5.3, "tailpipe": 2.1, "filler-neck": -7.8,
        "brake-hose": 3.6,
    },
    ("quillane-sarrik", "front"): {
        "fender-lip": -0.6, "liner-front": 2.5, "bumper-tab": 7.8, "pinch-weld": 0.3,
        "frame-rail": 2.2, "upper-ball-joint": -3.9, "upper-arm": 3.3, "lower-arm": -1.4,
        "anti-roll-bar": -3.5, "tie-rod-end": 1.3, "brake-hose": 2.2, "apron": -2.7,
    },
    ("quillane-sarrik", "rear"): {
        "quarter-lip": 7.8, "inner-wheelhouse": -1.9, "rear-rail": -1.2, "coil-over": 2.0,
        "watt-joint": 4.7, "lower-link": 1.0, "upper-link": -1.5, "axle-bar": 2.4,
        "bump-stop": -6.5, "tailpipe": -6.0, "brake-hose": 2.4,
    },
    ("dunmarrow-pelline", "front"): {
        "fender-lip": 7.8, "liner-front": -1.7, "bumper-tab": 7.8, "pinch-weld": 1.6,
        "frame-rail": 1.0, "strut-tube": -0.6, "spring-perch": -1.5, "tension-arm": -2.7,
        "anti-roll-bar-link": -0.3, "sensor-wire": 3.9, "brake-hose": 2.4, "apron": -2.0,
    },
    ("dunmarrow-pelline", "rear"): {
        "quarter-lip": 3.3, "inner-wheelhouse": 1.6, "coil-over": 1.4, "upper-link": -1.4,
        "toe-link": -1.2, "trailing-arm": 1.6, "rear-rail": -7.3, "filler-neck": -1.8,
        "sensor-wire": 2.6, "brake-hose": -0.3,
    },
    ("veltharn-orsey", "front"): {
        "fender-lip": -2.5, "liner-front": -0.8, "bumper-tab": -1.1, "pinch-weld": 1.5,
        "frame-rail": -3.9, "upright": 3.9, "upper-ball-joint": 1.9, "lower-arm": 2.0,
        "damper-fork": -0.3, "tie-rod-end": 1.2, "sensor-wire": 0.7, "brake-hose": -0.0,
    },
    ("veltharn-orsey", "rear"): {
        "quarter-lip": 6.5, "inner-wheelhouse": 7.0, "coil-over": 1.6, "upper-arm": -1.8,
        "toe-link": 3.3, "lower-arm": 0.8, "rear-rail": 0.9, "filler-neck": 7.8,
        "sensor-wire": -0.6, "brake-hose": -1.8,
    },
    ("kessmoor-tindle", "front"): {
        "fender-lip": 2.6, "liner-front": -4.1, "bumper-tab": 5.6, "pinch-weld": 7.8,
        "frame-rail": 0.6, "strut-tube": 0.5, "spring-perch": 0.5, "lower-arm": 2.0,
        "anti-roll-bar-link": 3.9, "drive-shaft-boot": 0.6, "sensor-wire": 0.8, "brake-hose": 1.5,
    },
    ("kessmoor-tindle", "rear"): {
        "quarter-lip": -2.9, "inner-wheelhouse": -1.3, "beam-arm": -0.2, "coil-spring": -1.1,
        "damper": -0.1, "rear-rail": -2.4, "silencer": 1.4, "filler-neck": -3.0,
        "sensor-wire": 3.9, "brake-hose": -0.3,
    },
}  # fmt: skip

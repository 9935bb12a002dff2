"""Cautions of the work itself, shown at the step where they matter. All are common practice.

`kind` is one of the kinds of templates/components/caution; each text defers to the vehicle maker,
the makers of wheel and tyre, and the law of the place.
"""

from generator.frozen import dataclass


@dataclass(frozen=True)
class Caution:
    """A caution: its kind, its text, the words of an article that call for it.

    `heading` stands in place of the kind's own.
    """

    kind: str
    text: str
    called_by: tuple[str, ...] = ()
    heading: str = ""


JACKING = Caution(
    "jacking",
    "Stand the car on level, hard ground and chock the wheels at the other end. A jack lifts; "
    "rated stands under the points the vehicle maker names do the holding. Keep every part of you "
    "out from under a car that only a jack holds, and lower it by degrees.",
    ("jack", "stands", "raise the car", "lift the car"),
)
SPRINGS = Caution(
    "springs",
    "A compressed coil spring holds enough energy to kill. Without the right compressor, or "
    "without having been shown how, leave it to a qualified workshop. Let a live axle down under "
    "control, with hoses and wires free.",
    ("spring",),
)
STEERING = Caution(
    "contact",
    "A tyre or wheel that touches a steering link, knuckle or stop can lock the steering. Any such "
    "contact, or a stop taken out so that a tyre becomes the stop: do not drive. Steering parts "
    "are welded or bent by approved practice only.",
    ("steering", "full lock", "lock to lock", "tie rod", "tie-rod"),
    "A tyre that touches can lock the steering",
)
HOSES = Caution(
    "contact",
    "A brake hose that touches a tyre, or is twisted, stretched or squeezed at any lock or height, "
    "will fail. Any contact: do not drive. Look again after every change of springs, dampers or "
    "spacers; brake work belongs to qualified people.",
    ("hose", "brake line"),
    "A brake hose that is touched will fail",
)
FASTENERS = Caution(
    "fasteners",
    "Right thread, right seat, right length, clean and dry faces. Tighten crosswise in stages with "
    "a calibrated wrench to the vehicle maker's torque, the wheel on the ground; check again after "
    "50 to 100 km (30 to 60 mi) and once more later. A stud or bolt that turns or stretches, a "
    "loose wheel: do not drive.",
    ("torque", "stud", "wheel nut", "wheel bolt", "thread"),
)
SPACERS = Caution(
    "spacers",
    "Look at the thread engagement first. Use flat, machined spacers that bear on the full face, "
    "one piece a wheel. They load bearings, studs and bolts more, change the steering, may end an "
    "approval, and may be unlawful where you drive.",
    ("spacer", "shim"),
)
LOADS = Caution(
    "loads",
    "Each wheel and tyre must carry at least half the permitted load of its axle, with the speed "
    "rating the law asks for. A lower load index than the car's listed one does not become right "
    "because the tyre fits.",
    ("load index", "load rating", "speed symbol", "speed rating"),
)
CUTTING = Caution(
    "cutting",
    "Rolling, cutting or hammering seams can break corrosion protection, jacking points and "
    "structure. What carries load is for a licensed repairer.",
    ("roll the lip", "rolled", "trim", "cut ", "hammer", "grind"),
)
BODY_CONTACT = Caution(
    "contact",
    "A rub mark that cuts the rubber makes a tyre unsafe inside, where nobody sees it. Scrap it.",
    ("rub mark", "rubbed", "rubbing"),
    "A cut tyre is done for",
)
LAW = Caution(
    "law",
    "This is a club's shared experience of single cars, no advice on roadworthiness. Cover of the "
    "tyre, track, ride height, spacers, approval marks and insurance differ by place: ask the "
    "authority, an approved inspector, the event's organiser and the insurer before driving.",
    ("law", "legal", "approval"),
)
YOUR_CAR = Caution(
    "contact",
    "What cleared on that car may touch on yours. Check yours through full travel and full lock "
    "before driving. On the first drive go slowly on an empty road, stop and look after 5, 20 and "
    "50 km (3, 12 and 30 mi); at any new noise, smell, vibration or pull, stop.",
    heading="Your car is not that car",
)
ALL = (
    JACKING, SPRINGS, STEERING, HOSES, FASTENERS, SPACERS, LOADS, CUTTING, BODY_CONTACT, LAW,
)  # fmt: skip


def called_for(text: str) -> tuple[Caution, ...]:
    """Give the cautions that the words of a text call for, in the order of the work.

    >>> [caution.kind for caution in called_for("Take the springs out.")]
    ['springs']
    """
    lowered = text.lower()
    return tuple(each for each in ALL if any(word in lowered for word in each.called_by))

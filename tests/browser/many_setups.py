"""Facets of ten thousand invented setups, with as much variety as records of a large club have.

Chances are fixed by a seed. Widths, offsets and tyres follow what the trade sells; titles and notes
are of common words, about sixty a record.
"""

from datetime import date, timedelta
from random import Random

from generator.site.facets import End, Trait
from generator.site.find_words import CHOICES
from generator.site.synonyms import alike

NUMBER = 10_000
_CARS = tuple(
    f"{maker} {model}"
    for maker in ("Ostvane", "Brevanor", "Kessmoor", "Veltharn", "Quillane", "Dunmarrow")
    for model in ("Meridel", "Hallin", "Tindle", "Orsey")
)
_WORD_LIST = (
    "autumn winter hillclimb daily road track first second try seven eight half inch wheels lips "
    "rolled pulled spacer stock springs lowered loaded coast narrow wide staggered square deep "
    "dish steel cast strut tube rail hose fender liner quarter panel inner wheelhouse clay ruler "
    "measured full bump lock left right both sides before after clears touches tight mark seam "
    "edge damper bar link camber toe caster stop shim trimmed axle centred moved careful slow "
    "fast bumpy loaded empty passengers luggage miles kilometres torque again checked twice"
)
_WORDS = tuple(_WORD_LIST.split())
_MEMBERS = tuple(f"Member {at}" for at in range(400))


def many_setups(number: int = NUMBER, seed: int = 7) -> tuple[Trait, ...]:
    """Make setups, the newest first."""
    chance = Random(seed)
    day = date(2026, 8, 1)
    made = []
    for at in range(number):
        day -= timedelta(days=chance.choice((0, 0, 0, 1, 1, 2)))
        made.append(_setup(chance, at, day))
    return tuple(made)


def _setup(chance: Random, at: int, day: date) -> Trait:
    car = chance.choice(_CARS)
    title = " ".join(chance.choices(_WORDS, k=6))
    member = chance.choice(_MEMBERS)
    front = _end(chance)
    rear = front if chance.random() < 0.7 else _end(chance)
    notes = " ".join(chance.choices(_WORDS, k=54))
    slug = "-".join([member.lower().replace(" ", "-"), *title.split()[:3], str(at)])
    return Trait(
        id=f"{car.lower().replace(' ', '-')}/{slug}",
        title=title.capitalize(),
        member=member,
        day=day,
        standing="" if chance.random() < 0.95 else "disputed",
        words={choice.key: _words(chance, car, choice.key) for choice in CHOICES},
        front=front,
        rear=rear,
        text=alike(f"{title} {member} {car} {front.wheel} {front.tyre} {notes}"),
    )


def _words(chance: Random, car: str, key: str) -> tuple[str, ...]:
    choice = next(each for each in CHOICES if each.key == key)
    if key == "chassis":
        return (car,)
    order = choice.order or ("same front and rear", "front and rear differ")
    if choice.is_many:
        return tuple(word for word in order if chance.random() < 0.3) or order[-1:]
    return (chance.choice(order),)


def _end(chance: Random) -> End:
    rim, width = chance.choice((13, 14, 15, 16, 17)), chance.choice((5.5, 6, 6.5, 7, 7.5, 8, 9))
    section, series = chance.choice(range(175, 266, 10)), chance.choice((40, 45, 50, 55, 60, 65))
    numbers = (
        width,
        round(chance.gauss(20.0, 12.0), 1),
        section + chance.gauss(0.0, 5.0),
        rim * 25.4 + 2.0 * section * series / 100.0 + chance.gauss(0.0, 4.0),
        chance.choice((0.0, 0.0, 0.0, 3.0, 5.0, 8.0, 10.0, 20.0)),
    )
    known = tuple(value if at == 0 or chance.random() < 0.95 else None
                  for at, value in enumerate(numbers))  # fmt: skip
    return End(f"{width:g} x {rim}", f"{section}/{series} R{rim}", "", known)

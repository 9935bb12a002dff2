"""What setups can be found by: words with the setups that have them, and numbers of each end.

`traits` says of one setup what each choice and each number is; `find_data` writes all setups in
columns. What is filtered by stands in one file, small enough to be loaded by everyone: words as
places in a list, and the rear as its difference from the front, which is mostly none. What a row
of the results shows, and the words, stand in two more, loaded once the reader asks something.
"""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.units import Ratio
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle
from generator.site import urls
from generator.site.data.writing import json_text
from generator.site.find_words import CHOICES, Choice, WordGiver
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.listing import SetupLine, setup_lines
from generator.site.page import DataFile
from generator.site.search_text import search_text
from generator.site.sides_shown import sides_listed
from generator.site.synonyms import synonym_groups

VERSION = 1
NO_FRONT = -1_000_000
"""Steps that no length has."""
_FIRST_DAY = date(1970, 1, 1)


@dataclass(frozen=True)
class Range:
    """A number that a reader may give limits for; `step` is what the file counts in, mm or in."""

    key: str
    label: str
    hint: str
    unit: str
    step: Ratio


RANGES = (
    Range("width", "Wheel width", "as stamped, between the flanges", "in", 0.01),
    Range("offset", "Effective offset", "offset less spacer", "mm", 0.1),
    Range("section", "Tyre section width", "as mounted, or as computed for the rim", "mm", 1.0),
    Range("diameter", "Tyre diameter", "as mounted, or as computed from the size", "mm", 1.0),
    Range("spacer", "Spacer thickness", "none written counts as none fitted", "mm", 0.1),
)


@dataclass(frozen=True)
class End:
    """One end of a car: sizes as written, and a number for each range; None is not known."""

    wheel: str
    tyre: str
    differs: str
    numbers: tuple[Ratio | None, ...]


@dataclass(frozen=True)
class Trait:
    """One setup as Find sees it; `words` are those of each choice, by its key."""

    id: str
    title: str
    member: str
    day: date
    standing: str
    words: Mapping[str, tuple[str, ...]]
    front: End
    rear: End
    text: str


@dataclass(frozen=True)
class Option:
    """One word of a choice and how many setups have it."""

    id: str
    word: str
    count: int


_Options: TypeAlias = tuple[Option, ...]


@dataclass(frozen=True)
class Offered:
    """A choice with the words that some setup has."""

    choice: Choice
    options: tuple[Option, ...]


@dataclass(frozen=True)
class FindData:
    """The files of Find, and the choices it offers."""

    facets: DataFile
    rows: DataFile
    texts: DataFile
    offered: tuple[Offered, ...]


def days_of(day: date) -> int:
    """Count the days since the first one that browsers count from.

    >>> days_of(date(1970, 1, 11))
    10
    """
    return (day - _FIRST_DAY).days


def traits(guide: Guide) -> tuple[Trait, ...]:
    """Say of every setup what it can be found by, the newest first."""
    setups = guide.setups()
    lines = setup_lines(guide, setups)
    replaced = replaced_by(guide.library)
    return tuple(
        _trait(guide, filed, line, replaced) for filed, line in zip(setups, lines, strict=True)
    )


def newest_first(found: Iterable[Trait]) -> tuple[Trait, ...]:
    """Put the traits of several chassis in the order that those of the whole guide have."""
    return tuple(sorted(found, key=lambda trait: (-trait.day.toordinal(), trait.id)))


def _trait(
    guide: Guide, filed: Filed[Setup], line: SetupLine, replaced: Mapping[str, Filed[Setup]]
) -> Trait:
    giver = WordGiver(guide, filed, line, replaced)
    return Trait(
        id=filed.id,
        title=line.title,
        member=line.member,
        day=line.day,
        standing=line.standing,
        words={choice.key: choice.words(giver) for choice in CHOICES},
        front=_end(guide, filed, "front"),
        rear=_end(guide, filed, "rear"),
        text=search_text(guide, filed),
    )


def _end(guide: Guide, filed: Filed[Setup], axle: str) -> End:
    fitted = getattr(filed.value, axle)
    assessment = guide.assessments.get(filed.id)
    fit = getattr(assessment, axle).fit.fitted if assessment else None
    wheel = fit.wheel if fit else None
    tyre = fit.tyre if fit else None
    numbers = (
        fitted.wheel.size.width_code,
        wheel.effective_offset.value if wheel else None,
        tyre.section_width.value if tyre else None,
        tyre.diameter.value if tyre else None,
        fitted.spacer.thickness.value if fitted.spacer else 0.0,
    )
    designation = fitted.tyre.size.designation
    chassis = guide.library.chassis.get(filed.value.chassis)
    sheet = getattr(chassis.value, axle) if chassis else None
    differs = sides_listed(Axle(axle), fitted, sheet)
    return End(str(fitted.wheel.size), designation, differs, numbers)


def offered(found: tuple[Trait, ...]) -> tuple[Offered, ...]:
    """List the choices with all words in their order and how many setups have each."""
    result = []
    for choice in CHOICES:
        counts: Counter[str] = Counter()
        # Ten thousand setups say the same few things.
        for words, setups in Counter(trait.words[choice.key] for trait in found).items():
            for word in words:
                counts[word] += setups
        known = [word for word in choice.order if word in counts]
        all_words = (*known, *sorted(set(counts) - set(known)))
        result.append(Offered(choice, _options(choice, all_words, counts)))
    return tuple(result)


def _options(choice: Choice, words: tuple[str, ...], counts: Mapping[str, int]) -> _Options:
    """Give the options of a choice; a word that has another's id in addresses gets a number."""
    ids: dict[str, str] = {}
    for word in words:
        plain = choice.word_id(word)
        taken = sum(plain == other.rsplit("~", 1)[0] for other in ids.values())
        ids[word] = f"{plain}~{taken + 1}" if taken else plain
    return tuple(Option(ids[word], word, counts[word]) for word in words)


def find_data(found: tuple[Trait, ...], data_as_of: str) -> FindData:
    """Write the files of Find; their names carry the hash of what is in them."""
    choices = offered(found)
    facets = {
        "version": VERSION,
        "asOf": data_as_of,
        "count": len(found),
        "choices": [_choice_column(each, found) for each in choices],
        "ranges": [_range_column(at, found) for at in range(len(RANGES))],
    }
    rows = {
        "version": VERSION,
        "setups": [trait.id for trait in found],
        "titles": [trait.title for trait in found],
        "days": [days_of(trait.day) for trait in found],
        "member": _coded([trait.member for trait in found]),
        "standing": _coded([trait.standing for trait in found]),
        "wheel": [_coded([getattr(trait, end).wheel for trait in found]) for end in _ENDS],
        "tyre": [_coded([getattr(trait, end).tyre for trait in found]) for end in _ENDS],
        "differs": [_coded([getattr(trait, end).differs for trait in found]) for end in _ENDS],
    }
    texts = {
        "version": VERSION,
        "texts": [trait.text for trait in found],
        "synonyms": synonym_groups(),
    }
    return FindData(
        _hashed("facets", facets), _hashed("rows", rows), _hashed("texts", texts), choices
    )  # fmt: skip


_ENDS = ("front", "rear")


def _hashed(stem: str, document: object) -> DataFile:
    text = json_text(document)
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()[:10]
    return DataFile(urls.find_file(f"{stem}.{digest}.json"), text)


def _choice_column(each: Offered, found: tuple[Trait, ...]) -> dict[str, object]:
    """Write a choice as one number a setup: the sum of two to the power of each word's place."""
    place = {option.word: at for at, option in enumerate(each.options)}
    key = each.choice.key
    is_many = each.choice.is_many
    said = [trait.words[key] for trait in found]
    code = {
        words: sum(1 << place[word] for word in words) if is_many else place[words[0]]
        for words in set(said)
    }
    return {
        "key": key,
        "label": each.choice.label,
        "many": is_many,
        "words": [[option.id, option.word] for option in each.options],
        "codes": [code[words] for words in said],
    }


def _range_column(at: int, found: tuple[Trait, ...]) -> dict[str, object]:
    """Write a number of the front in steps, null where not known, and how the rear differs.

    Where the front is not known, the rear differs from NO_FRONT; where only the rear is not known,
    its difference is null.
    """
    kind = RANGES[at]
    fronts = _steps([trait.front.numbers[at] for trait in found], kind.step)
    rears = _steps([trait.rear.numbers[at] for trait in found], kind.step)
    return {
        "key": kind.key,
        "label": kind.label,
        "unit": kind.unit,
        "perUnit": round(1.0 / kind.step),
        "noFront": NO_FRONT,
        "front": fronts,
        "rearLess": [_less(*pair) for pair in zip(rears, fronts, strict=True)],
    }


def _steps(values: Iterable[Ratio | None], step: Ratio) -> list[int | None]:
    return [None if value is None else round(value / step) for value in values]


def _less(rear: int | None, front: int | None) -> int | None:
    if rear is None:
        return 0 if front is None else None
    return rear - (NO_FRONT if front is None else front)


def _coded(texts: list[str]) -> dict[str, object]:
    """Write texts as places in the list of different ones."""
    words = sorted(set(texts))
    place = {word: at for at, word in enumerate(words)}
    return {"words": words, "codes": [place[text] for text in texts]}

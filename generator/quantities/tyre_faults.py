"""What can be wrong with a tyre designation, each with an example that shows it."""

from generator.quantities.misread import Explained

NOT_A_SIZE = Explained(
    "N101",
    "not a tyre size",
    "A size gives nominal section width, aspect ratio, construction and rim code [ISO4000-1]; each "
    "of them is needed to know how large the tyre is.",
    "Copy the size from the sidewall.",
    "205/55 Q16",
    "205/55 R 16",
)
UNKNOWN_SPEED = Explained(
    "N102",
    "an unknown speed symbol",
    "The letter stands for the highest speed of the tyre [UNR30]. I, O and X are not used, and Z "
    "stands only in the size, as ZR.",
    "Read the letter behind the load index again.",
    "205/55 R 16 91X",
    "205/55 R 16 91V",
)
ASPECT_MISSING = Explained(
    "N103",
    "the aspect ratio is missing",
    "Without the ratio of section height to width the diameter is unknown. Only the old "
    "full-profile sizes up to rim code 16 go without; they are looked up, not computed [UNR30].",
    "Write width, slash and ratio.",
    "225 R 17",
    "225/45 R 17",
)
ASPECT_UNKNOWN = Explained(
    "N104",
    "an aspect ratio that is not in use",
    "Aspect ratios go in steps of five from 20 to 95; 82 and, in letter sizes, 78 are the "
    "exceptions.",
    "Read the number behind the slash again.",
    "205/57 R 16",
    "205/55 R 16",
)
UNKNOWN_RIM = Explained(
    "N105",
    "an unknown rim code",
    "The rim code is the nominal rim diameter, 8 to 30, some with a half; three digits are a "
    "rim in mm, which fits only its own system [UNR30].",
    "Write the rim code, then a space before the load index.",
    "205/55R1691V",
    "205/55R16 91V",
)
WIDTH_UNLIKELY = Explained(
    "N106",
    "an unlikely section width",
    "The first number is the nominal section width in mm. Tyres of cars lie between 105 and 455; "
    "width and ratio are easily swapped.",
    "Write the width first.",
    "55/205 R 16",
    "205/55 R 16",
)
MORE_WORDS = Explained(
    "N107",
    "words behind the designation",
    "The designation ends with load index, speed symbol and load version. Design names, approval "
    "marks and pressures have their own fields, or none.",
    "Leave the rest out.",
    "205/55 R 16 91V summer",
    "205/55 R 16 91V",
)
BRACKETS = Explained(
    "N108",
    "brackets that do not fit",
    "Brackets round load index and speed symbol mean a speed above 300 km/h, so they stand round "
    "both and only with Y (from memory of [UNR30]).",
    "Write the brackets as on the sidewall, or leave them out.",
    "225/40 ZR 18 (92V)",
    "225/40 ZR 18 (92Y)",
)
LOAD_INDEX = Explained(
    "N109",
    "a load index that cannot be",
    "Load indices run up to 279. Of two, the first holds for single mounting and the second for "
    "twin mounting, which never allows more.",
    "Read both numbers again.",
    "215/65 R 16 C 107/109T",
    "215/65 R 16 C 109/107T",
)
CODES: tuple[Explained, ...] = (
    NOT_A_SIZE,
    UNKNOWN_SPEED,
    ASPECT_MISSING,
    ASPECT_UNKNOWN,
    UNKNOWN_RIM,
    WIDTH_UNLIKELY,
    MORE_WORDS,
    BRACKETS,
    LOAD_INDEX,
)

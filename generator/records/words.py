"""The words a record may choose from. The value is what is written in YAML and shown to people."""

from enum import Enum


class Axle(Enum):
    """Which end of the car."""

    FRONT = "front"
    REAR = "rear"


class Side(Enum):
    """Which side of the car; both where a member found no difference."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"


class State(Enum):
    """The position of the wheel in which a gap was looked at."""

    STATIC = "static"
    FULL_DROOP = "full droop"
    FULL_BUMP = "full bump"
    TOE_OUT_LOCK = "toe-out lock"
    TOE_IN_LOCK = "toe-in lock"
    TOE_OUT_LOCK_AT_BUMP = "toe-out lock at bump"
    TOE_IN_LOCK_AT_BUMP = "toe-in lock at bump"
    TOE_OUT_LOCK_AT_DROOP = "toe-out lock at droop"
    TOE_IN_LOCK_AT_DROOP = "toe-in lock at droop"
    THIS_UP = "this side up, other down"
    THIS_DOWN = "this side down, other up"
    SWEEP = "whole sweep"


class Tool(Enum):
    """What a length was measured with."""

    FEELER = "feeler gauge"
    DRILL_SHANK = "drill shank"
    CALIPERS = "calipers"
    STEEL_RULE = "steel rule"
    WEDGE = "wedge gauge"
    CLAY = "clay"
    FOAM = "foam block"
    TAPE = "tape witness"
    STRAIGHTEDGE = "straightedge"
    DEPTH_GAUGE = "depth gauge"
    EYE = "by eye"
    PHOTOGRAPH = "photograph"
    MEMORY = "from memory"


class InOut(Enum):
    """Whether the springs were in or out."""

    IN = "in"
    OUT = "out"


class OnOff(Enum):
    """Whether the anti-roll bar links were on or off."""

    ON = "on"
    OFF = "off"


class StopState(Enum):
    """What was done to a bump stop."""

    ORIGINAL = "original"
    TRIMMED = "trimmed"
    SPACED = "spaced"
    REPLACED = "replaced"
    REMOVED = "removed"


class SpacerKind(Enum):
    """How a spacer is made and held."""

    SHIM = "shim"
    SLIP_ON = "slip-on"
    PILOTED = "piloted"
    BOLT_ON = "bolt-on"


class Material(Enum):
    """What a spacer or a wheel is made of."""

    ALUMINIUM = "aluminium"
    STEEL = "steel"


class NutForm(Enum):
    """Whether a nut is open or closed; bolts for hubs without studs."""

    OPEN = "open"
    CLOSED = "closed"
    BOLT = "bolt"


class Lips(Enum):
    """State of the fender or quarter-panel lips."""

    STOCK = "stock"
    ROLLED = "rolled"
    PULLED = "pulled"
    CUT = "cut"


class Liner(Enum):
    """State of the fender liner."""

    STOCK = "stock"
    TRIMMED = "trimmed"
    FORMED = "formed"
    REMOVED = "removed"
    NONE = "none fitted"


class SuspensionKind(Enum):
    """How the wheel is carried."""

    STRUT = "strut"
    DOUBLE_WISHBONE = "double wishbone"
    MULTI_LINK = "multi-link"
    LIVE_AXLE = "live axle"
    TWIST_BEAM = "twist beam"


class Location(Enum):
    """What holds a live axle sideways."""

    PANHARD = "panhard rod"
    WATT = "watt linkage"
    LEAF = "leaf springs"
    LINKS = "links"


class Drive(Enum):
    """Which wheels are driven."""

    FRONT = "front"
    REAR = "rear"
    ALL = "all"


class Fixing(Enum):
    """Whether nuts on studs or bolts hold the wheel."""

    STUDS = "studs"
    BOLTS = "bolts"


class StopKind(Enum):
    """What ends the steering lock."""

    KNUCKLE_SCREW = "screw on the knuckle"
    KNUCKLE_LUG = "lug on the knuckle"
    RACK = "inside the rack"


class Attachment(Enum):
    """What a site is fixed to, and so how it moves against the wheel."""

    BODY = "body"
    STRUT = "strut"
    KNUCKLE = "knuckle"
    UPRIGHT = "upright"
    ARM = "arm"
    AXLE = "axle"


class Part(Enum):
    """What a site is made of, where a setup can change it by a word."""

    LIP = "lip"
    LINER = "liner"


class CamberBy(Enum):
    """Where camber was set."""

    MOUNT = "top mount or arm"
    KNUCKLE = "knuckle bolts"


class Facing(Enum):
    """Which face of the tyre or wheel a site lies at."""

    INBOARD = "inboard"
    OUTBOARD = "outboard"
    CROWN = "crown"


class RemedyKind(Enum):
    """What was done so that a wheel clears."""

    SPACER = "spacer"
    OFFSET = "other offset"
    TYRE = "other tyre"
    CAMBER = "camber"
    RIDE_HEIGHT = "ride height"
    STOP_TRIMMED = "bump stop trimmed"
    STOP_SPACED = "bump stop spaced"
    STEERING_SHIM = "steering stop shim"
    LIP_ROLLED = "lip rolled"
    LIP_PULLED = "lip pulled"
    LIP_CUT = "lip cut"
    LINER_TRIMMED = "liner trimmed"
    LINER_REMOVED = "liner removed"
    PINCH_WELD = "pinch weld flattened"
    WHEELHOUSE = "wheelhouse reshaped"
    AXLE_CENTRED = "axle centred"
    EXHAUST = "exhaust re-hung"
    BRACKET = "bracket moved"
    OTHER = "other"


class Outcome(Enum):
    """How a road test ended."""

    NO_MARK = "no mark"
    MARK = "mark found"
    NOT_DRIVEN = "not driven"


class Agreement(Enum):
    """How a second member bears a record out."""

    SAME_CAR = "measured the same car"
    OTHER_CAR = "fitted to another car"
    REVIEWED = "reviewed the photographs"


class Subject(Enum):
    """What an article can explain; the pages that speak of it lead there."""

    CHOICE = "width, offset and tyre"
    DELIVERY = "new wheels"
    MEASURING = "measuring gaps"
    MOCK_UP = "mock-up"
    CONTACT = "contact"
    FASTENERS = "spacers, studs and nuts"
    TORQUE = "torque"
    STOPS = "stops and centring"
    ROAD = "road test"
    RECORDS = "writing records"
    CHANCES = "flags and chances"


class UnitsShown(Enum):
    """Which units stand first."""

    METRIC = "metric"
    INCH = "inch"


class ForgeKind(Enum):
    """Kinds of forge whose addresses for a new file are known."""

    GITHUB = "github"
    GITLAB = "gitlab"
    FORGEJO = "forgejo"

// What somebody wants changed at one end of a car, and what is then on it: generator/evidence/
// candidate.py. An end as it comes with the chassis data and the starts:
//
//   {wheel: {width, diameter, offset, backspacing, …}, spacer, spacerKind, spacerCount, spacerNuts,
//    spacerPockets, faceMoved,
//    tyre: {size, sectionWidth, treadWidth, diameter, approved, pressure}, camber, camberBy, rideHeight,
//    stop: {state, trimmed, spaced, freeHeight, reserve}, shim, toeOutLock, toeInLock, rodChange, axleError,
//    body: {lips, lipsGained, liner, changed}, hardware, spoke, barrel, left, right}
//
// Wheel sizes are in inches, all other lengths in mm, angles in degrees. What was measured is
// [value, step of the last digit]. null is not known. A change has the keys of CHANGES.
import { NotKnown, facts } from "./facts.js";
import { tyreSizeOf } from "./tyre_size.js";

export const CHANGES = [
  "width", "diameter", "offset", "spacer", "tyre", "sectionWidth", "treadWidth", "tyreDiameter",
  "camber", "camberBy", "rideHeight", "stop", "trimmed", "spaced", "shim", "lips", "lipsGained",
];

const given = (change, key) => (change[key] ?? null) !== null;
const typed = (value) => (Array.isArray(value) ? value : [value, 0]);

const isSame = (one, other) =>
  one.width === other.width && one.diameter === other.diameter && one.offset?.[0] === other.offset[0];

const otherWheel = (wheel, change) => {
  if (!given(change, "offset")) throw new NotKnown("another wheel needs its offset");
  const other = {
    width: change.width ?? wheel.width,
    diameter: change.diameter ?? wheel.diameter,
    offset: typed(change.offset),
  };
  const kept = (name) => (isSame(wheel, other) ? (wheel[name] ?? null) : null);
  // Another wheel may be bored, seated and padded in another way: it is not known.
  return { ...other, pad: kept("pad"), bore: kept("bore"), seat: kept("seat"), seatWords: kept("seatWords") };
};

const otherTyre = (tyre, change) => {
  const before = tyreSizeOf(tyre.size);
  const isOther = given(change, "tyre") && tyreSizeOf(change.tyre).words !== before.words;
  const known = isOther ? { size: change.tyre, pressure: tyre.pressure ?? null } : { ...tyre };
  const said = { sectionWidth: "sectionWidth", treadWidth: "treadWidth", tyreDiameter: "diameter" };
  for (const [key, name] of Object.entries(said)) {
    if (given(change, key)) known[name] = typed(change[key]);
  }
  return known;
};

const otherStop = (stop, change) => {
  const trimmed = change.trimmed ?? stop?.trimmed ?? null;
  const spaced = change.spaced ?? stop?.spaced ?? null;
  let state = change.stop ?? null;
  if (state === null) state = trimmed ? "trimmed" : spaced ? "spaced" : "original";
  return { state, trimmed, spaced, freeHeight: null };
};

const otherBody = (body, change) => {
  const lips = change.lips ?? body?.lips ?? null;
  const gained = change.lipsGained ?? null;
  if ((lips === null || lips === "stock") && gained !== null) {
    throw new NotKnown("a lip that gained room is rolled, pulled or cut");
  }
  return { liner: null, changed: [], ...body, lips, lipsGained: gained };
};

const dropped = (change, isWheel) => {
  const isTyre =
    isWheel || ["tyre", "sectionWidth", "treadWidth", "tyreDiameter"].some((key) => given(change, key));
  return [
    ["spacer", given(change, "spacer")],
    ["sectionWidth", isTyre],
    ["diameter", isTyre],
    ["camber", given(change, "camber")],
    ["rideHeight", given(change, "rideHeight")],
    ["lips", given(change, "lips")],
    ["lipsGained", given(change, "lips") || given(change, "lipsGained")],
  ];
};

const alike = (values, names) => {
  if (!values) return null;
  const left = { ...values };
  for (const [name, isDropped] of names) if (isDropped) delete left[name];
  return Object.values(left).some((value) => value !== null) ? left : null;
};

// Keys of a change: see CHANGES; a length or angle is a number. Throws NotKnown.
export const changed = (fitted, change) => {
  if (!CHANGES.some((key) => given(change, key))) return fitted;
  const result = { ...fitted };
  const isSize = given(change, "width") || given(change, "diameter");
  if (isSize || given(change, "offset")) {
    result.wheel = otherWheel(fitted.wheel, change);
    result.spoke = null;
    result.barrel = null;
    if (result.hardware && !isSame(fitted.wheel, result.wheel)) {
      result.hardware = { ...result.hardware, turns: null, engagement: null };
    }
  }
  if (given(change, "spacer")) {
    const [before] = fitted.spacer || [0];
    result.spacer = change.spacer ? typed(change.spacer) : null;
    result.spacerKind = change.spacer ? (fitted.spacer && fitted.spacerKind) || facts.words.slipOn : null;
    [result.spacerCount, result.spacerNuts, result.spacerPockets] = [null, null, null];
    if (result.hardware && change.spacer !== before) {
      result.hardware = { ...result.hardware, turns: null, engagement: null };
    }
    if (result.spoke) result.spoke = spokeWith(fitted.spoke, change.spacer - before);
  }
  let { tyre } = fitted;
  if (isSize && (change.width ?? fitted.wheel.width) !== fitted.wheel.width) {
    tyre = { ...tyre, sectionWidth: null, treadWidth: null };
  }
  result.tyre = otherTyre(tyre, change);
  for (const key of ["camber", "camberBy", "shim", "rideHeight"]) {
    if (given(change, key)) result[key] = change[key];
  }
  if (given(change, "shim")) [result.toeOutLock, result.toeInLock] = [null, null];
  if (given(change, "stop") || given(change, "trimmed") || given(change, "spaced")) {
    result.stop = otherStop(fitted.stop, change);
  }
  if (given(change, "lips") || given(change, "lipsGained")) {
    result.body = otherBody(fitted.body, change);
  }
  const names = dropped(change, isSize);
  result.left = alike(fitted.left, names);
  result.right = alike(fitted.right, names);
  checkDiameters(result);
  return result;
};

const spokeWith = (said, by) => {
  if (said.low === null || said.high === null) return by === 0 ? said : null;
  return { ...said, low: said.low + by, high: said.high + by };
};

const checkDiameters = ({ wheel, tyre }) => {
  const size = tyreSizeOf(tyre.size);
  if (wheel.diameter !== size.rim) {
    throw new NotKnown(
      `the tyre ${size.words} is for a rim of ${size.rim}, and the wheel is ${wheel.diameter} in diameter`,
    );
  }
};

// What is on an end, from nothing but what is given. Throws NotKnown without wheel size and tyre.
export const fromNothing = (change) => {
  if (!given(change, "width") || !given(change, "diameter")) throw new NotKnown("no wheel size is given");
  if (!given(change, "tyre")) throw new NotKnown("no tyre is given");
  const bare = {
    wheel: {
      width: change.width,
      diameter: change.diameter,
      offset: given(change, "offset") ? typed(change.offset) : null,
    },
    tyre: { size: change.tyre },
  };
  const rest = { ...change, width: null, diameter: null, offset: null, tyre: null };
  const result = changed(bare, rest);
  checkDiameters(result);
  return result;
};

// An end as it is on one side of the car, where sides differ.
export const atSide = (fitted, side) => {
  const values = side === "left" ? fitted.left : side === "right" ? fitted.right : null;
  if (!values) return fitted;
  const known = (key) => (values[key] ?? null) !== null;
  const result = { ...fitted };
  if (known("spacer") && fitted.spacer) result.spacer = values.spacer;
  result.tyre = { ...fitted.tyre };
  for (const key of ["sectionWidth", "diameter"]) if (known(key)) result.tyre[key] = values[key];
  if (known("camber")) result.camber = values.camber;
  if (known("rideHeight") && fitted.hasRideHeight) result.rideHeight = values.rideHeight;
  if (fitted.body) {
    result.body = { ...fitted.body };
    for (const key of ["lips", "lipsGained"]) if (known(key)) result.body[key] = values[key];
  }
  return result;
};

// The sides that have to be looked at apart; "both" where they are alike.
export const sidesOf = (fitted, sheet) =>
  sheet.suspension.rod || (fitted && (fitted.left || fitted.right)) ? ["left", "right"] : ["both"];

export const measured = (value, u) =>
  (value ?? null) === null ? null : { value: value[0], u: Math.hypot(u, value[1] / facts.root12) };

// From sheet and candidate to one corner of a car: generator/assessment/corner.py.
// sheet: one end of the chassis data; fitted: what is on it at one side (see candidate.js).
import { NotKnown, facts } from "./facts.js";
import { camberOverTravel, knuckleMotion, linkage, tabulated, withCamber } from "./linkage.js";
import { centringAdjustment } from "./motion.js";
import { lockLostAtRack, lockLostAtStop } from "./travel.js";

const KEPT = 8;
const tables = new Map();

// What was done to the stop, or why that is not known.
export const stopChange = (fitted, suspension) => {
  const stop = fitted.stop;
  const nothing = { trimmed: 0, packed: 0, unknown: "" };
  if (!stop || stop.state === "original") return nothing;
  const lost = (unknown) => ({ ...nothing, unknown });
  if (stop.state === "removed") return lost("the bump stop was removed, so the travel is not known");
  if (!suspension.stop) return lost("the sheet does not describe the bump stop that was changed");
  const free = suspension.stop.free;
  const spaced = stop.spaced ?? 0;
  let trimmed = stop.trimmed ?? null;
  if (trimmed === null && (stop.freeHeight ?? null) !== null) trimmed = free - stop.freeHeight;
  if (trimmed === null && !spaced) {
    return lost(`how much of the ${stop.state} bump stop is left is not known`);
  }
  const cut = Math.max(trimmed ?? 0, 0);
  if (cut >= free) return lost("more was cut off the bump stop than the sheet says it has");
  return { trimmed: cut, packed: spaced + Math.max(-(trimmed ?? 0), 0), unknown: "" };
};

const limitsOf = (suspension, change) => {
  const { bump, droop, stop } = suspension;
  if (!stop) return { bump, droop };
  if (!(change.packed >= 0)) throw new NotKnown("packing under a bump stop is a length");
  const limits = { bump: bump + change.trimmed / stop.ratio - change.packed / stop.ratio, droop };
  if (!(limits.bump >= 0)) throw new NotKnown("the bump stop is packed by more than the travel there is");
  return limits;
};

const locksOf = (steering, fitted) => {
  if (!steering) return { toeOut: 0, toeIn: 0 };
  let { toeOut, toeIn } = steering;
  if (fitted.shim) {
    if (steering.byRack && steering.arm === null) {
      throw new NotKnown("the sheet has neither a stop arm nor a steering arm for the shim");
    }
    const lost = steering.byRack
      ? lockLostAtRack(fitted.shim, steering.arm, toeOut)
      : lockLostAtStop(fitted.shim, steering.stopArm);
    // Both wheels steer together: the other loses lock in the ratio of the locks.
    [toeOut, toeIn] = [toeOut - lost, toeIn - (lost * toeIn) / toeOut];
  }
  const locks = { toeOut: fitted.toeOutLock ?? toeOut, toeIn: fitted.toeInLock ?? toeIn };
  for (const lock of [locks.toeOut, locks.toeIn]) {
    if (!(lock >= 0 && lock < 90)) throw new NotKnown("the shim leaves no lock");
  }
  return locks;
};

const isRigid = (suspension) => suspension.kind === "axle" || suspension.kind === "beam";

const camberChange = (suspension, fitted, rest) => {
  if ((fitted.camber ?? null) === null || isRigid(suspension)) return 0;
  const byHeight = suspension.points
    ? camberOverTravel(suspension.points, rest)
    : suspension.camberGain * rest;
  return fitted.camber - suspension.staticCamber - byHeight;
};

const gainsOf = (suspension) => ({
  camber: suspension.camberGain,
  lateral: suspension.lateralGain,
  foreAft: suspension.foreAftGain,
  toe: suspension.toeGain,
});

const mirrored = (rod) => ({
  ...rod,
  body: [-rod.body[0], rod.body[1]],
  axle: [-rod.axle[0], rod.axle[1]],
});

const axleCorner = (sheet, fitted, side) => {
  const { suspension } = sheet;
  const error = fitted.axleError ?? null;
  let rod = null;
  if (suspension.rod) {
    const lowered = -(fitted.rideHeight ?? 0);
    const adjustment =
      error === null
        ? (fitted.rodChange ?? 0)
        : centringAdjustment(suspension.rod, lowered, error);
    rod = { ...suspension.rod, adjustment };
    if (side === "right") rod = mirrored(rod);
  }
  return {
    kind: "axle",
    faceDistance: sheet.faceDistance,
    foreAft: suspension.foreAftGain,
    height: suspension.heldHeight,
    aside: side === "right" ? -(error ?? 0) : (error ?? 0),
    rod,
  };
};

const linkedCorner = (suspension, angle, atKnuckle, limits, locks) => {
  const key = JSON.stringify([suspension.points, angle, atKnuckle, limits, locks]);
  const known = tables.get(key);
  if (known) return known;
  const { points } = suspension;
  const on = atKnuckle ? linkage(points) : withCamber(points, angle);
  const tilt = atKnuckle ? { angle, z: points.lower.joint[2] } : { angle: 0, z: 0 };
  const made = { kind: "linkage", table: tabulated(on, knuckleMotion(tilt), limits, locks) };
  if (tables.size >= KEPT) tables.delete(tables.keys().next().value);
  tables.set(key, made);
  return made;
};

// {corner, reach, camberChanged, camberBy, travelUnknown}. Throws NotKnown where there is none.
export const cornerMotion = (sheet, fitted, side) => {
  const { suspension } = sheet;
  const change = stopChange(fitted, suspension);
  const limits = limitsOf(suspension, change);
  const locks = locksOf(sheet.steering, fitted);
  const rest = -(fitted.rideHeight ?? 0);
  if (!(rest >= -limits.droop && rest <= limits.bump)) {
    throw new NotKnown("the car would rest beyond its stops");
  }
  const articulation = suspension.articulation;
  const reach = { limits, locks, static: rest, articulation };
  const angle = camberChange(suspension, fitted, rest);
  const atKnuckle = fitted.camberBy === facts.words.knuckle;
  const told = {
    reach,
    camberChanged: angle,
    camberBy: fitted.camberBy ?? null,
    travelUnknown: change.unknown,
  };
  const gains = gainsOf(suspension);
  if (suspension.kind === "axle") return { ...told, corner: axleCorner(sheet, fitted, side) };
  if (suspension.points) {
    return { ...told, corner: linkedCorner(suspension, angle, atKnuckle, limits, locks) };
  }
  if (suspension.kind === "beam") {
    const { singleCamber, singleToe } = suspension;
    return { ...told, corner: { kind: "beam", gains, singleCamber, singleToe } };
  }
  const tilt = { angle, z: facts.corner.lowerJoint };
  const none = { angle: 0, z: 0 };
  const steering = sheet.steering;
  const axis = steering
    ? { inclination: steering.inclination, caster: steering.caster, distance: steering.axisInset }
    : { inclination: 0, caster: 0, distance: 0 };
  const [knuckle, mount] = atKnuckle ? [tilt, none] : [none, tilt];
  return { ...told, corner: { kind: "independent", gains, axis, knuckle, mount } };
};

// Spread of a gap on a strut where nobody said where camber was set.
export const strutDoubt = (motion, height) => {
  if (motion.camberBy !== null || !motion.camberChanged) return 0;
  return Math.abs(height * Math.tan((motion.camberChanged * Math.PI) / 180)) / Math.sqrt(3);
};

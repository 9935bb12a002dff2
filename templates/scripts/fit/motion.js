// Poses of a wheel over positions, seen from the body that carries a site: generator/geometry/
// suspension.py and axle.py. A corner is {kind, …} as corner.js builds it.
//
//   poses(corner, positions, view)   Float64Array, twelve numbers a pose
//   views: "body", "arm", "strut", "hub"
import { NotKnown, radians } from "./facts.js";
import { tablePoses } from "./linkage.js";
import { attitude, composed, rotation, still, turnThrough } from "./rigid.js";

export const kingpin = ({ inclination, caster }) => {
  const axis = [-Math.tan(radians(caster)), -Math.tan(radians(inclination)), 1];
  return axis.map((part) => part / Math.hypot(...axis));
};

export const knuckleTilt = (tilt) =>
  tilt.angle ? turnThrough([1, 0, 0], -tilt.angle, [0, 0, tilt.z]) : still();

const mountTilt = (tilt, axis) => {
  if (!tilt.angle) return still();
  const joint = -axis.distance - tilt.z * Math.tan(radians(axis.inclination));
  return turnThrough([1, 0, 0], -tilt.angle, [0, joint, tilt.z]);
};

const travelled = (gains, z, out) => {
  attitude(gains.camber * z, gains.toe * z, out);
  out[9] = gains.foreAft * z;
  out[10] = gains.lateral * z;
  out[11] = z;
};

const independent = (corner, positions, view) => {
  const knuckle = knuckleTilt(corner.knuckle);
  const all = new Float64Array(12 * positions.length);
  const mount = mountTilt(corner.mount, corner.axis);
  const along = kingpin(corner.axis);
  const through = [0, -corner.axis.distance, 0];
  const [turn, turned, onArm, motion] = [still(), still(), still(), still()];
  positions.forEach(([travel, steer], at) => {
    const out = all.subarray(12 * at, 12 * at + 12);
    if (view === "strut") {
      out.set(knuckle);
      return;
    }
    turnThrough(along, steer, through, turn);
    composed(turn, knuckle, turned);
    if (view === "arm") {
      composed(mount, turned, out);
      return;
    }
    composed(mount, turned, onArm);
    travelled(corner.gains, travel, motion);
    composed(motion, onArm, out);
  });
  return all;
};

const located = (rod, heave, tilt) => {
  const [bodyY, bodyZ] = rod.body;
  const [axleY, axleZ] = rod.axle;
  const span = axleY - bodyY;
  const length = Math.sqrt(span ** 2 + (bodyZ - axleZ) ** 2) + rod.adjustment;
  const across = axleY * Math.cos(tilt) - axleZ * Math.sin(tilt);
  const up = heave + axleY * Math.sin(tilt) + axleZ * Math.cos(tilt);
  const square = length ** 2 - (up - bodyZ) ** 2;
  if (!(square >= 0)) throw new NotKnown("the lateral rod does not reach over all of the travel");
  return bodyY + Math.sign(span) * Math.sqrt(square) - across;
};

// How far to the left a lowered axle stands off the middle on its rod.
export const loweringShift = (rod, lowering) => located(rod, lowering, 0);

// The change of the rod's length that puts the axle `shift` to the left of the middle.
export const centringAdjustment = (rod, lowering, shift = 0) => {
  const [bodyY, bodyZ] = rod.body;
  const [axleY, axleZ] = rod.axle;
  const span = axleY - bodyY;
  const atRest = Math.sqrt(span ** 2 + (bodyZ - axleZ) ** 2);
  return Math.sqrt((span + shift) ** 2 + (bodyZ - axleZ - lowering) ** 2) - atRest;
};

const rigidAxle = (corner, positions) => {
  const all = new Float64Array(12 * positions.length);
  const half = 0.5 * corner.faceDistance;
  positions.forEach(([travel, , other], at) => {
    const out = all.subarray(12 * at, 12 * at + 12);
    const heave = 0.5 * (travel + other);
    const slope = (travel - other) / corner.faceDistance;
    if (!(Math.abs(slope) <= 1)) {
      throw new NotKnown("the wheels' travels differ by more than the axle is wide");
    }
    const tilt = Math.asin(slope);
    rotation(1, 0, 0, (tilt * 180) / Math.PI, out);
    const shift = corner.rod
      ? located(corner.rod, heave, tilt)
      : corner.aside + corner.height * Math.sin(tilt);
    out[9] = corner.foreAft * heave;
    out[10] = shift - half * (1 - Math.cos(tilt));
    out[11] = heave + half * Math.sin(tilt);
  });
  return all;
};

const twistBeam = (corner, positions) => {
  const all = new Float64Array(12 * positions.length);
  const { gains } = corner;
  positions.forEach(([travel, , other], at) => {
    const out = all.subarray(12 * at, 12 * at + 12);
    const twist = travel - other;
    const camber = gains.camber * travel + (corner.singleCamber - gains.camber) * twist;
    const toe = gains.toe * travel + (corner.singleToe - gains.toe) * twist;
    attitude(camber, toe, out);
    out[9] = gains.foreAft * travel;
    out[10] = gains.lateral * travel;
    out[11] = travel;
  });
  return all;
};

const unmoved = (count) => {
  const all = new Float64Array(12 * count);
  for (let at = 0; at < count; at += 1) {
    all[12 * at] = 1;
    all[12 * at + 4] = 1;
    all[12 * at + 8] = 1;
  }
  return all;
};

export const poses = (corner, positions, view) => {
  const isRigid = corner.kind === "axle" || corner.kind === "beam";
  if (view === "hub" || (isRigid && view !== "body")) return unmoved(positions.length);
  if (corner.kind === "axle") return rigidAxle(corner, positions);
  if (corner.kind === "beam") return twistBeam(corner, positions);
  if (corner.kind === "linkage") return tablePoses(corner.table, positions, view);
  return independent(corner, positions, view);
};

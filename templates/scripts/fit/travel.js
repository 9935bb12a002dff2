// How far a wheel travels and steers, and the positions that are looked at: generator/geometry/
// travel.py and sweep.py. Positions are arrays of [travel, steer, other side's travel].
import { NotKnown, clip, degrees, facts, radians } from "./facts.js";

const linspace = (start, end, count) => {
  const step = (end - start) / (count - 1);
  return Array.from({ length: count }, (_, at) => (at === count - 1 ? end : start + at * step));
};

export const lockLostAtStop = (thickness, arm) => {
  if (!(arm > 0 && Math.abs(thickness) <= arm)) {
    throw new NotKnown("the shim is thicker than the stop's arm is long");
  }
  return degrees(Math.asin(thickness / arm));
};

export const lockLostAtRack = (thickness, arm, lock) =>
  degrees(thickness / (arm * Math.cos(radians(lock))));

// Share of full lock that is swept at a travel.
const lockShare = (limits, travel) => {
  const start = facts.travel.lockBumpShare * limits.bump;
  if (travel <= start) return 1;
  const into = Math.min((travel - start) / (limits.bump - start), 1);
  return 1 - (1 - facts.travel.fullBumpLockShare) * into;
};

const steers = (reach) => Boolean(reach.locks.toeOut || reach.locks.toeIn);

const levelsOf = (limits) => {
  const { levels, levelsAbove, lockBumpShare } = { ...facts.sweep, ...facts.travel };
  const start = lockBumpShare * limits.bump;
  const above = linspace(start, limits.bump, levelsAbove + 1).slice(1);
  return [...linspace(-limits.droop, start, levels - levelsAbove), ...above];
};

const steering = (reach) => {
  const found = [];
  const shares = linspace(-1, 1, facts.sweep.steers);
  for (const level of levelsOf(reach.limits)) {
    const lock = lockShare(reach.limits, level);
    for (const share of shares) {
      const way = share > 0 ? reach.locks.toeOut : reach.locks.toeIn;
      found.push([level, lock * (way * share), level]);
    }
  }
  return found;
};

// The lowest and highest mean travel at a tilt.
const heaves = (limits, articulation, tilt) => {
  const full = 0.5 * (articulation.up - articulation.down);
  const share = Math.abs(tilt);
  return [-limits.droop + share * (full + limits.droop), limits.bump + share * (full - limits.bump)];
};

const tilting = (reach) => {
  const found = [];
  const heights = linspace(0, 1, facts.sweep.levels);
  for (const tilt of linspace(-1, 1, facts.sweep.tilts)) {
    const [lowest, highest] = heaves(reach.limits, reach.articulation, tilt);
    const lift = 0.5 * (reach.articulation.up + reach.articulation.down) * tilt;
    for (const height of heights) {
      const heave = lowest + (highest - lowest) * height;
      found.push([heave + lift, 0, heave - lift]);
    }
  }
  return found;
};

// The named states, in their order: {name, at}.
export const namedStates = (reach) => {
  const { bump } = reach.limits;
  const droop = -reach.limits.droop;
  const rest = reach.static;
  const words = facts.travel.states;
  const found = [
    { name: words.static, at: [rest, 0, rest] },
    { name: words.droop, at: [droop, 0, droop] },
    { name: words.bump, at: [bump, 0, bump] },
  ];
  if (steers(reach)) {
    const high = facts.travel.lockBumpShare * bump;
    for (const [travel, key] of [[rest, "AtStatic"], [high, "AtBump"], [droop, "AtDroop"]]) {
      found.push({ name: words[`out${key}`], at: [travel, reach.locks.toeOut, travel] });
      found.push({ name: words[`in${key}`], at: [travel, -reach.locks.toeIn, travel] });
    }
  }
  if (reach.articulation) {
    const { up, down } = reach.articulation;
    found.push({ name: words.thisUp, at: [up, 0, -down] });
    found.push({ name: words.thisDown, at: [-down, 0, up] });
  }
  return found;
};

export const swept = (reach) => {
  const grid = reach.articulation
    ? tilting(reach)
    : steers(reach)
      ? steering(reach)
      : linspace(-reach.limits.droop, reach.limits.bump, facts.sweep.alone).map((z) => [z, 0, z]);
  return [...grid, ...namedStates(reach).map((state) => state.at)];
};

const tiltingNear = (reach, near, steps) => {
  const { limits, articulation } = reach;
  const whole = articulation.up + articulation.down;
  const middle = 0.5 * (near[0] + near[2]);
  const tilts =
    whole > 0 ? steps.map((step) => clip((near[0] - near[2]) / whole + 2 * step, -1, 1)) : [0];
  const found = [];
  for (const tilt of tilts) {
    const [lowest, highest] = heaves(limits, articulation, tilt);
    const lift = 0.5 * whole * tilt;
    for (const step of steps) {
      // Between limits that have crossed, the upper one holds.
      const heave = Math.min(Math.max(middle + step * (limits.bump + limits.droop), lowest), highest);
      found.push([heave + lift, 0, heave - lift]);
    }
  }
  return found;
};

// Positions close around one, that one first.
export const refined = (reach, near, width) => {
  const steps = linspace(-1, 1, facts.sweep.near).map((step) => width * step);
  if (reach.articulation) return [near, ...tiltingNear(reach, near, steps)];
  const { limits, locks } = reach;
  const whole = limits.bump + limits.droop;
  const levels = steps.map((step) => clip(near[0] + step * whole, -limits.droop, limits.bump));
  if (!steers(reach)) return [near, ...levels.map((level) => [level, 0, level])];
  const found = [near];
  for (const level of levels) {
    const share = lockShare(limits, level);
    for (const step of steps) {
      const steer = near[1] + step * (locks.toeOut + locks.toeIn);
      found.push([level, clip(steer, -share * locks.toeIn, share * locks.toeOut), level]);
    }
  }
  return found;
};

export const travelWords = (travel, reach) => {
  const { nearly } = facts.poses;
  if (Math.abs(travel - reach.limits.bump) < nearly) return "full bump";
  if (Math.abs(travel + reach.limits.droop) < nearly) return "full droop";
  if (Math.abs(travel - reach.static) < nearly) return "standing height";
  const away = travel - reach.static;
  return `${Math.abs(away).toFixed(0)} mm ${away > 0 ? "up" : "down"} from standing`;
};

export const steerWords = (steer, reach) => {
  const { nearly } = facts.poses;
  if (Math.abs(steer) < nearly) return "straight ahead";
  const way = steer > 0 ? "toe-out" : "toe-in";
  const lock = steer > 0 ? reach.locks.toeOut : reach.locks.toeIn;
  if (Math.abs(Math.abs(steer) - lock) < nearly) return `full ${way} lock`;
  return `${Math.abs(steer).toFixed(0)}° ${way}`;
};

// A position in words, as generator/assessment/poses.py says it.
export const poseWords = ([travel, steer, other], reach) => {
  const parts = [travelWords(travel, reach)];
  if (steers(reach)) parts.push(steerWords(steer, reach));
  if (reach.articulation && Math.abs(travel - other) > facts.poses.nearly) {
    parts.push(travel > other ? "this side up, other down" : "this side down, other up");
  }
  return parts.join(", ");
};

// A corner solved from hard points, carried between solved poses by Chebyshev polynomials: the
// mathematics of generator/geometry/linkage.py and linkage_table.py, assessment/linked.py.
// A linkage is {rods, slides, lower, upper, mount, …}: see `linkage`.
import { NotKnown, degrees, facts, radians } from "./facts.js";
import { composed, rotation, still, turnThrough } from "./rigid.js";

const CONVERGED = 1e-10;
const HELD = 1e-8;
const NEWTON = 12;
const STEPS = 8;
const STEER_HELD = 1e-9;
const SECANTS = 40;

const sum = (a, b) => a.map((part, at) => part + b[at]);
const less = (a, b) => a.map((part, at) => part - b[at]);
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const size = (a) => Math.sqrt(dot(a, a));
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const turned = (m, p) => [
  m[0] * p[0] + m[1] * p[1] + m[2] * p[2],
  m[3] * p[0] + m[4] * p[1] + m[5] * p[2],
  m[6] * p[0] + m[7] * p[1] + m[8] * p[2],
];

const across = (line) => {
  const least = line.map(Math.abs).indexOf(Math.min(...line.map(Math.abs)));
  const unit = [0, 1, 2].map((axis) => (axis === least ? 1 : 0));
  const first = cross(line, unit);
  const second = cross(line, first);
  return [first, second].map((each) => each.map((part) => part / size(each)));
};

// points: {lower: {front, rear, joint}, upper | null, top, on, rod: {inner, outer}}; shift: how far
// across the car a setup moved the upper arm's pivots, or the top mount.
export const linkage = (points, shift = 0) => {
  const { lower, upper, rod } = points;
  const arms = upper && !shift ? [lower, upper] : [lower];
  const rods = arms.flatMap((arm) => [
    [arm.front, arm.joint, 0],
    [arm.rear, arm.joint, 0],
  ]);
  rods.push([rod.inner, rod.outer, 1]);
  const made = rods.map(([body, knuckle, racked]) => ({
    body,
    knuckle,
    racked,
    length: size(less(knuckle, body)),
  }));
  const legs =
    upper && shift
      ? [upper.front, upper.rear].map((pivot) => ({ pivot, length: size(less(upper.joint, pivot)) }))
      : [];
  const strut = upper ? null : { on: points.on, top: points.top, across: across(less(points.top, points.on)) };
  return { points, shift, rods: made, legs, strut, joint: upper ? upper.joint : null };
};

const equations = (on, motion, travel, rack, share, errors, rows) => {
  const shift = [motion[9], motion[10], motion[11]];
  let at = 0;
  const put = (error, turning, sliding) => {
    errors[at] = error;
    rows[at] = [...turning, ...sliding];
    at += 1;
  };
  for (const { body, knuckle, racked, length } of on.rods) {
    const carried = turned(motion, knuckle);
    const span = less(sum(carried, shift), [body[0], body[1] + rack * racked, body[2]]);
    const long = size(span);
    const along = span.map((part) => part / long);
    put(long - length, cross(carried, along), along);
  }
  for (const { pivot, length } of on.legs) {
    const carried = turned(motion, on.joint);
    const span = less(sum(carried, shift), [pivot[0], pivot[1] + share * on.shift, pivot[2]]);
    const long = size(span);
    const along = span.map((part) => part / long);
    put(long - length, cross(carried, along), along);
  }
  if (on.strut) {
    const { on: line, top, across: ways } = on.strut;
    const arm = less([top[0], top[1] + share * on.shift, top[2]], shift);
    for (const way of ways) {
      const carried = turned(motion, way);
      put(dot(carried, arm) - dot(way, line), cross(carried, arm), carried.map((part) => -part));
    }
  }
  put(motion[11] - travel, [0, 0, 0], [0, 0, 1]);
};

// Solve six linear equations in place; gives the sign of the determinant, 0 for a singular one.
const eliminate = (rows, right) => {
  let sign = 1;
  for (let column = 0; column < 6; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < 6; row += 1) {
      if (Math.abs(rows[row][column]) > Math.abs(rows[pivot][column])) pivot = row;
    }
    if (!(Math.abs(rows[pivot][column]) > 1e-300)) return 0;
    if (pivot !== column) {
      [rows[pivot], rows[column]] = [rows[column], rows[pivot]];
      [right[pivot], right[column]] = [right[column], right[pivot]];
      sign = -sign;
    }
    if (rows[column][column] < 0) sign = -sign;
    for (let row = column + 1; row < 6; row += 1) {
      const factor = rows[row][column] / rows[column][column];
      if (!factor) continue;
      for (let at = column; at < 6; at += 1) rows[row][at] -= factor * rows[column][at];
      right[row] -= factor * right[column];
    }
  }
  for (let row = 5; row >= 0; row -= 1) {
    for (let at = row + 1; at < 6; at += 1) right[row] -= rows[row][at] * right[at];
    right[row] /= rows[row][row];
  }
  return sign;
};

const noPosition = (travel) =>
  new NotKnown(`the linkage has no position on the way to a travel of ${travel.toFixed(1)} mm`);

// Improve a motion until all lengths hold; throws where they cannot, or on another branch.
const improved = (on, from, travel, rack, share) => {
  let motion = from;
  const errors = new Array(6);
  const rows = new Array(6);
  for (let turn = 0; turn < NEWTON; turn += 1) {
    equations(on, motion, travel, rack, share, errors, rows);
    const worst = Math.max(...errors.map(Math.abs));
    const step = errors.map((error) => -error);
    const branch = eliminate(rows, step);
    if (branch !== on.branch) throw noPosition(travel);
    if (worst < CONVERGED) return motion;
    const angle = Math.hypot(step[0], step[1], step[2]);
    const limit = Math.max(angle, 1);
    const turnOf =
      angle > 0 ? rotation(step[0], step[1], step[2], degrees(angle / limit)) : still();
    const shift = motion.slice(9);
    const next = composed(turnOf, motion);
    for (let axis = 0; axis < 3; axis += 1) next[9 + axis] = shift[axis] + step[3 + axis] / limit;
    motion = next;
    if (turn === NEWTON - 1 && worst < HELD) return motion;
  }
  throw noPosition(travel);
};

const rest = (on) => {
  if (on.atRest) return on.atRest;
  const errors = new Array(6);
  const rows = new Array(6);
  equations(on, still(), 0, 0, 0, errors, rows);
  on.branch = eliminate(rows, errors);
  if (!on.branch) throw noPosition(0);
  let motion = still();
  const steps = on.shift ? STEPS : 1;
  for (let step = 1; step <= steps; step += 1) motion = improved(on, motion, 0, 0, step / steps);
  on.atRest = motion;
  return motion;
};

const along = (on, from, [travel0, rack0], [travel1, rack1], steps) => {
  let motion = from;
  for (let step = 1; step <= steps; step += 1) {
    const share = step / steps;
    const travel = travel0 + share * (travel1 - travel0);
    motion = improved(on, motion, travel, rack0 + share * (rack1 - rack0), 1);
  }
  return motion;
};

export const solved = (on, travel, rack = 0) => {
  const from = rest(on);
  return travel || rack ? along(on, from, [0, 0], [travel, rack], STEPS) : from;
};

const camberOf = (motion) => degrees(Math.asin(Math.min(Math.max(-motion[7], -1), 1)));
const toeOf = (motion) => degrees(Math.atan2(-motion[1], motion[4]));

// Rack displacements for rising angles, and the hub's motions there.
const racksFor = (on, angles) => {
  const start = rest(on);
  const toe = toeOf(start);
  const trial = toeOf(along(on, start, [0, 0], [0, 1], 1));
  const slope = trial - toe;
  const found = new Map();
  for (const side of [angles.filter((a) => a >= toe), angles.filter((a) => a < toe).reverse()]) {
    let [rack, reached, motion, rate] = [0, toe, start, slope];
    for (const angle of side) {
      for (let turn = 0; Math.abs(angle - reached) >= STEER_HELD; turn += 1) {
        if (turn === SECANTS) throw new NotKnown(`the linkage cannot be steered to ${angle.toFixed(1)}°`);
        const move = (angle - reached) / rate;
        const steps = Math.max(1, Math.ceil(Math.abs(move) / 12));
        const ahead = along(on, motion, [0, rack], [0, rack + move], steps);
        const toeAhead = toeOf(ahead);
        if (Math.abs(move) > 1e-4) rate = (toeAhead - reached) / move;
        [rack, reached, motion] = [rack + move, toeAhead, ahead];
      }
      found.set(angle, { rack, motion });
    }
  }
  return angles.map((angle) => found.get(angle));
};

// Camber that travel alone gives.
export const camberOverTravel = (points, travel) => camberOf(solved(linkage(points), travel));

const straightAhead = (on) => camberOf(racksFor(on, [0])[0].motion);

// The linkage with its upper end moved across the car until camber changes by so much.
export const withCamber = (points, change) => {
  if (!change) return linkage(points);
  const upper = points.upper ? points.upper.joint[2] : points.top[2];
  let shift = (upper - points.lower.joint[2]) * Math.tan(radians(change));
  for (let trial = 0; trial < facts.linkage.trials; trial += 1) {
    const on = linkage(points, shift);
    const reached = straightAhead(on);
    if (Math.abs(reached - change) < facts.linkage.camberHeld) return on;
    if (!(reached * change > 0)) break;
    shift *= change / reached;
  }
  return linkage(points, shift);
};

const nodesOf = ([least, greatest], count) =>
  Array.from({ length: count }, (_, at) => {
    const place = Math.cos((Math.PI * (at + 0.5)) / count);
    return 0.5 * (least + greatest) + 0.5 * (greatest - least) * place;
  });

const turnVector = (m) => {
  const twice = [m[7] - m[5], m[2] - m[6], m[3] - m[1]];
  const sine = 0.5 * size(twice);
  const angle = Math.atan2(sine, 0.5 * (m[0] + m[4] + m[8] - 1));
  const stretch = sine > 1e-9 ? angle / sine : 1;
  return twice.map((part) => 0.5 * part * stretch);
};

const valuesOver = (on, levels, seats) =>
  seats.map(({ rack, motion }) => {
    const row = new Array(levels.length);
    const order = levels.map((_, at) => at).sort((a, b) => levels[a] - levels[b]);
    const up = order.filter((at) => levels[at] >= 0);
    const down = order.filter((at) => levels[at] < 0).reverse();
    for (const side of [up, down]) {
      let [here, from] = [0, motion];
      for (const at of side) {
        const steps = Math.max(1, Math.ceil(Math.abs(levels[at] - here) / 30));
        from = along(on, from, [here, rack], [levels[at], rack], steps);
        here = levels[at];
        row[at] = [...turnVector(from), from[9], from[10], from[11]];
      }
    }
    return row;
  });

const cosines = (count) =>
  Array.from({ length: count }, (_, order) =>
    Array.from({ length: count }, (__, at) => {
      const scale = (order === 0 ? 1 : 2) / count;
      return scale * Math.cos((order * Math.PI * (at + 0.5)) / count);
    }),
  );

// A table over travel and steer. knuckle: camber set at the knuckle, as a motion.
export const tabulated = (on, knuckle, limits, locks) => {
  const { travelNodes, steerNodes, leastSteer } = facts.linkage;
  const travel = [-limits.droop, limits.bump];
  const steer = [-Math.max(locks.toeIn, leastSteer), Math.max(locks.toeOut, leastSteer)];
  const levels = nodesOf(travel, travelNodes);
  const angles = nodesOf(steer, steerNodes);
  const rising = [...angles].sort((a, b) => a - b);
  const seats = racksFor(on, rising);
  const values = valuesOver(on, levels, angles.map((angle) => seats[rising.indexOf(angle)]));
  const [byTravel, bySteer] = [cosines(travelNodes), cosines(steerNodes)];
  const coefficients = new Float64Array(travelNodes * steerNodes * 6);
  for (let k = 0; k < 6; k += 1) {
    const half = bySteer.map((row) =>
      levels.map((_, i) => row.reduce((total, factor, j) => total + factor * values[j][i][k], 0)),
    );
    for (let a = 0; a < travelNodes; a += 1) {
      for (let b = 0; b < steerNodes; b += 1) {
        let total = 0;
        for (let i = 0; i < travelNodes; i += 1) total += byTravel[a][i] * half[b][i];
        coefficients[(a * steerNodes + b) * 6 + k] = total;
      }
    }
  }
  return { travel, steer, coefficients, knuckle };
};

const polynomials = ([least, greatest], value, out) => {
  const { slack } = facts.linkage;
  if (!(value >= least - slack && value <= greatest + slack)) throw noPosition(value);
  const middle = 0.5 * (least + greatest);
  const x = Math.min(Math.max((value - middle) / (0.5 * (greatest - least)), -1), 1);
  out[0] = 1;
  out[1] = x;
  for (let order = 2; order < out.length; order += 1) {
    out[order] = 2 * x * out[order - 1] - out[order - 2];
  }
};

export const tablePoses = (table, positions, view) => {
  const { travelNodes, steerNodes } = facts.linkage;
  const all = new Float64Array(12 * positions.length);
  const [byTravel, bySteer] = [new Float64Array(travelNodes), new Float64Array(steerNodes)];
  const motion = still();
  // The sum over travel serves all positions of one height, which follow each other.
  const along = new Float64Array(6 * steerNodes);
  let level = NaN;
  positions.forEach(([travel, steer], at) => {
    const out = all.subarray(12 * at, 12 * at + 12);
    if (view === "strut") {
      out.set(table.knuckle);
      return;
    }
    const height = view === "arm" ? 0 : travel;
    if (height !== level) {
      level = height;
      polynomials(table.travel, level, byTravel);
      along.fill(0);
      for (let a = 0, from = 0; a < travelNodes; a += 1) {
        for (let place = 0; place < along.length; place += 1, from += 1) {
          along[place] += byTravel[a] * table.coefficients[from];
        }
      }
    }
    polynomials(table.steer, steer, bySteer);
    const value = [0, 0, 0, 0, 0, 0];
    for (let b = 0, place = 0; b < steerNodes; b += 1) {
      for (let k = 0; k < 6; k += 1, place += 1) value[k] += bySteer[b] * along[place];
    }
    const angle = Math.hypot(value[0], value[1], value[2]);
    if (angle > 0) rotation(value[0], value[1], value[2], degrees(angle), motion);
    else motion.set(still());
    motion[9] = value[3];
    motion[10] = value[4];
    motion[11] = value[5];
    composed(motion, table.knuckle, out);
  });
  return all;
};

export const knuckleMotion = (tilt) =>
  tilt.angle ? turnThrough([1, 0, 0], -tilt.angle, [0, 0, tilt.z]) : still();

// The section of tyre and rim in the half-plane (u, r) as a closed polygon, and distances to it.
// The mathematics of generator/geometry/outline.py and clearance.py.
//
//   const outline = sectionOutline(section(position, tyre, seat, shift))
//   outline.points                            [u0, r0, u1, r1, …] clockwise, u outboard
//   distance(outline, u, r)                   negative inside
//   gradient(outline, u, r)                   change of that distance per mm of each dimension
import { NotKnown, facts } from "./facts.js";
import { treadOf } from "./tyre.js";

const CHUNK = 8;
const NAMES = ["sectionWidth", "treadWidth", "diameter", "rimWidth", "flangeInboard", "flangeOutboard"];

const derived = (section) => {
  const { flangeHeight, treadEdgeDrop } = facts.outline;
  const seat = section.seat / 2;
  const drop = treadEdgeDrop * section.treadWidth;
  const crown = (section.treadWidth ** 2 / 4 + drop ** 2) / (2 * drop);
  const edge = section.diameter / 2 - drop;
  const slope = section.treadWidth / 2 / (crown - drop);
  return {
    flangeTop: seat + flangeHeight,
    widest: (section.diameter + section.seat) / 4,
    closing: seat - facts.outline.barrelDepth,
    crown,
    edge,
    control: edge - (slope * (section.sectionWidth - section.treadWidth)) / 2,
  };
};

const told = (section, at) => {
  if (!(section.flangeInboard >= 0) || !(section.flangeOutboard >= 0)) return "flange";
  if (!(section.treadWidth > 0 && section.treadWidth <= section.sectionWidth)) return "tread";
  if (!(section.rimWidth > 0 && facts.outline.barrelDepth < section.seat / 2)) return "rim";
  if (!(at.flangeTop < at.widest && at.widest < at.control)) return "sidewall";
  return Number.isFinite(section.centre) ? "" : "centre";
};

const WORDS = {
  flange: "a flange is zero or thicker",
  tread: "the tread is wider than zero and no wider than the section",
  rim: "a rim has width and a barrel outside the spin axis",
  sidewall: "the tyre needs a sidewall between its flange and its shoulder",
  centre: "the centre plane needs a finite place",
};

// shift: how far another hub or disc moved the mounting face outboard.
export const section = (position, tyre, seat, shift = 0) => {
  const tread = treadOf(tyre);
  return {
    centre: position.centrePlane.value + shift,
    sectionWidth: Math.max(tyre.section.value, tread),
    treadWidth: tread,
    diameter: tyre.diameter.value,
    rimWidth: position.width.value,
    seat,
    flangeInboard: Math.max(position.flangeInboard.value, 0),
    flangeOutboard: Math.max(position.flangeOutboard.value, 0),
  };
};

const parabola = (out, start, control, end, steps) => {
  for (let step = 0; step < steps; step += 1) {
    const share = step / steps;
    const rest = 1 - share;
    for (const axis of [0, 1]) {
      out.push(
        rest * rest * start[axis] + 2 * share * rest * control[axis] + share * share * end[axis],
      );
    }
  }
};

const halfCurve = (given, at) => {
  const { crownSteps, shoulderSteps, sidewallSteps } = facts.outline;
  const half = given.sectionWidth / 2;
  const tread = given.treadWidth / 2;
  const bead = [given.rimWidth / 2, at.flangeTop];
  const out = [];
  parabola(out, bead, [half, (at.widest + bead[1]) / 2], [half, at.widest], sidewallSteps);
  parabola(out, [half, at.widest], [half, at.control], [tread, at.edge], shoulderSteps);
  const middle = given.diameter / 2 - at.crown;
  const whole = Math.atan2(tread, at.edge - middle);
  for (let step = 0; step <= crownSteps; step += 1) {
    const angle = whole * (1 - step / crownSteps);
    out.push(at.crown * Math.sin(angle), middle + at.crown * Math.cos(angle));
  }
  return out;
};

const vertices = (given) => {
  const at = derived(given);
  const wrong = told(given, at);
  if (wrong) throw new NotKnown(WORDS[wrong]);
  const curve = halfCurve(given, at);
  const lip = (flange) => {
    const edge = given.rimWidth / 2 + flange;
    return [edge, at.closing, edge, at.flangeTop];
  };
  const inboard = [...lip(given.flangeInboard), ...curve];
  const outboard = [...lip(given.flangeOutboard), ...curve.slice(0, -2)];
  const count = (inboard.length + outboard.length) / 2;
  const points = new Float64Array(2 * count);
  let row = 0;
  for (let from = 0; from < inboard.length; from += 2, row += 1) {
    points[2 * row] = given.centre - inboard[from];
    points[2 * row + 1] = inboard[from + 1];
  }
  for (let from = outboard.length - 2; from >= 0; from -= 2, row += 1) {
    points[2 * row] = given.centre + outboard[from];
    points[2 * row + 1] = outboard[from + 1];
  }
  return points;
};

// Stretches of edges with the box round each, so that far ones are passed over unmeasured.
const chunked = (points) => {
  const count = points.length / 2;
  const chunks = [];
  for (let first = 0; first < count; first += CHUNK) {
    const last = Math.min(first + CHUNK, count);
    let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
    for (let edge = first; edge <= last; edge += 1) {
      const at = 2 * (edge % count);
      left = Math.min(left, points[at]);
      right = Math.max(right, points[at]);
      low = Math.min(low, points[at + 1]);
      high = Math.max(high, points[at + 1]);
    }
    chunks.push(left, right, low, high);
  }
  return Float64Array.from(chunks);
};

export const sectionOutline = (given) => {
  const points = vertices(given);
  const count = points.length / 2;
  const turns = facts.outline.supports;
  const supports = new Float64Array(3 * turns);
  for (let turn = 0; turn < turns; turn += 1) {
    const angle = (Math.PI * turn) / (turns - 1);
    const [u, r] = [Math.cos(angle), Math.sin(angle)];
    let most = -Infinity;
    for (let at = 0; at < count; at += 1) {
      most = Math.max(most, u * points[2 * at] + r * points[2 * at + 1]);
    }
    supports.set([u, r, most], 3 * turn);
  }
  const boxes = chunked(points);
  return { section: given, points, count, supports, boxes, hint: { chunk: 0, support: 0 }, speeds: null };
};

// A number the distance is never below; stops at the first that lies above `enough`.
export const lowerBound = (outline, u, r, enough = Infinity) => {
  const { supports, hint } = outline;
  let at = hint.support;
  let best = supports[at] * u + (supports[at + 1] * r - supports[at + 2]);
  if (best > enough) return best;
  for (at = 0; at < supports.length; at += 3) {
    const found = supports[at] * u + (supports[at + 1] * r - supports[at + 2]);
    if (found > best) {
      best = found;
      if (found > enough) {
        hint.support = at;
        return found;
      }
    }
  }
  return best;
};

const inside = (points, count, u, r) => {
  let isIn = false;
  for (let at = 0; at < count; at += 1) {
    const next = at + 1 === count ? 0 : at + 1;
    const du = u - points[2 * at];
    const dr = r - points[2 * at + 1];
    const alongU = points[2 * next] - points[2 * at];
    const alongR = points[2 * next + 1] - points[2 * at + 1];
    if (dr < 0 !== dr < alongR && alongU * dr - alongR * du > 0 === alongR > 0) isIn = !isIn;
  }
  return isIn;
};

let nearestEdge = 0;

const squareToEdges = (outline, u, r) => {
  const { points, count, boxes, hint } = outline;
  let best = Infinity;
  const chunks = boxes.length / 4;
  // The stretch that was nearest last time comes first.
  const begin = hint.chunk;
  for (let turn = 0; turn < chunks; turn += 1) {
    const chunk = turn === 0 ? begin : turn <= begin ? turn - 1 : turn;
    const du = Math.max(boxes[4 * chunk] - u, 0, u - boxes[4 * chunk + 1]);
    const dr = Math.max(boxes[4 * chunk + 2] - r, 0, r - boxes[4 * chunk + 3]);
    if (du * du + dr * dr > best) continue;
    const first = chunk * CHUNK;
    const last = Math.min(first + CHUNK, count);
    for (let edge = first; edge < last; edge += 1) {
      const next = edge + 1 === count ? 0 : edge + 1;
      const u0 = points[2 * edge];
      const r0 = points[2 * edge + 1];
      const alongU = points[2 * next] - u0;
      const alongR = points[2 * next + 1] - r0;
      const size = Math.max(alongU * alongU + alongR * alongR, 1e-18);
      let share = ((u - u0) * alongU + (r - r0) * alongR) / size;
      share = share < 0 ? 0 : share > 1 ? 1 : share;
      const offU = u - u0 - share * alongU;
      const offR = r - r0 - share * alongR;
      const square = offU * offU + offR * offR;
      if (square < best) {
        best = square;
        nearestEdge = edge;
        hint.chunk = chunk;
      }
    }
  }
  return best;
};

export const distance = (outline, u, r) => {
  const away = Math.sqrt(squareToEdges(outline, u, r));
  if (lowerBound(outline, u, r, 0) > 0) return away;
  return inside(outline.points, outline.count, u, r) ? -away : away;
};

const STEP_OF_VERTICES = () => facts.outline.vertexStep;

const verticesAt = (given, name, by) => {
  try {
    return [vertices({ ...given, [name]: given[name] + by }), by];
  } catch (trouble) {
    if (!(trouble instanceof NotKnown)) throw trouble;
    return [vertices(given), 0];
  }
};

// How each vertex moves per mm of each dimension.
const speedsOf = (outline) => {
  if (outline.speeds) return outline.speeds;
  outline.speeds = NAMES.map((name) => {
    const [low, least] = verticesAt(outline.section, name, -STEP_OF_VERTICES());
    const [high, most] = verticesAt(outline.section, name, STEP_OF_VERTICES());
    return high.map((value, at) => (value - low[at]) / (most - least));
  });
  return outline.speeds;
};

// The outline's nearest point: {gap, u, r, edge, share, normalU, normalR}.
export const closest = (outline, u, r) => {
  const gap = distance(outline, u, r);
  squareToEdges(outline, u, r);
  const { points, count } = outline;
  const edge = nearestEdge;
  const next = edge + 1 === count ? 0 : edge + 1;
  const alongU = points[2 * next] - points[2 * edge];
  const alongR = points[2 * next + 1] - points[2 * edge + 1];
  const size = Math.max(alongU ** 2 + alongR ** 2, 1e-18);
  const to = (u - points[2 * edge]) * alongU + (r - points[2 * edge + 1]) * alongR;
  const share = Math.min(Math.max(to / size, 0), 1);
  const footU = points[2 * edge] + share * alongU;
  const footR = points[2 * edge + 1] + share * alongR;
  const isAway = Math.abs(gap) > 1e-9;
  const awayU = isAway ? u - footU : -alongR;
  const awayR = isAway ? r - footR : alongU;
  const length = Math.hypot(awayU, awayR) * (gap < -1e-9 ? -1 : 1);
  return { gap, u: footU, r: footR, edge, share, normalU: awayU / length, normalR: awayR / length };
};

export const gradient = (outline, u, r) => {
  const near = closest(outline, u, r);
  const after = near.edge + 1 === outline.count ? 0 : near.edge + 1;
  const rates = speedsOf(outline).map((speed) => {
    const of = (axis) =>
      (1 - near.share) * speed[2 * near.edge + axis] + near.share * speed[2 * after + axis];
    return -(of(0) * near.normalU + of(1) * near.normalR);
  });
  const told = Object.fromEntries(NAMES.map((name, at) => [name, rates[at]]));
  return { ...told, gap: near.gap, centre: -near.normalU };
};

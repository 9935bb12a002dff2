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
const MOST_STEPS = 12;
const SLACK = 1e-9;
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

// The lines along edges, each moved out until the whole section lies behind it: [u, r, distance, …].
const linesOf = (points) => {
  const lines = new Float64Array(1.5 * points.length);
  for (let edge = 0, line = 0; edge < points.length; edge += 2, line += 3) {
    const next = (edge + 2) % points.length;
    const [alongU, alongR] = [points[next] - points[edge], points[next + 1] - points[edge + 1]];
    const size = Math.max(Math.sqrt(alongU * alongU + alongR * alongR), 1e-9);
    const [u, r] = [-alongR / size, alongU / size];
    let most = -Infinity;
    for (let at = 0; at < points.length; at += 2) {
      const reached = u * points[at] + r * points[at + 1];
      if (reached > most) most = reached;
    }
    lines[line] = u;
    lines[line + 1] = r;
    lines[line + 2] = most;
  }
  return lines;
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
  const [lines, boxes] = [linesOf(points), chunked(points)];
  const isOuter = Uint8Array.from({ length: count }, (_, edge) =>
    lines[3 * edge + 2] - lines[3 * edge] * points[2 * edge] - lines[3 * edge + 1] * points[2 * edge + 1] < 1e-10 ? 1 : 0,
  );
  // What was nearest last time is looked at first; it changes speed alone.
  const hint = { chunk: 0, support: 0, box: 0, line: 0 };
  return { section: given, points, count, supports, lines, isOuter, boxes, hint, speeds: null };
};

// A number the distance is never below; stops at the first that lies above `enough`.
const lowerBound = (outline, u, r, enough) => {
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

// The same for all points of a box that begins at r and lies between two u.
export const boxBound = (outline, lowU, highU, r, enough) => {
  const { supports, hint } = outline;
  let at = hint.box;
  let best = supports[at] * (supports[at] > 0 ? lowU : highU) + (supports[at + 1] * r - supports[at + 2]);
  for (at = 0; at < supports.length && best <= enough; at += 3) {
    const found = supports[at] * (supports[at] > 0 ? lowU : highU) + (supports[at + 1] * r - supports[at + 2]);
    if (found > best) {
      best = found;
      hint.box = at;
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

// The square of the distance to one edge.
const squareToEdge = ({ points, count }, edge, u, r) => {
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
  return offU * offU + offR * offR;
};

// The square of the distance to the polygon's line, or `most` where it is no less.
const squareToEdges = (outline, u, r, most = Infinity) => {
  const { count, boxes, hint } = outline;
  let best = most;
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
      const square = squareToEdge(outline, edge, u, r);
      if (square < best) {
        best = square;
        nearestEdge = edge;
        hint.chunk = chunk;
        hint.line = 3 * edge;
      }
    }
  }
  return best;
};


// The distance of a point whose nearest place on the polygon is found by going along its edges from
// the one that was nearest last time; -1 where that cannot be told. The section lies behind the
// line of an outer edge, so no place is nearer than the foot of a point beside it. The number is to
// the last digit the one that all edges together give: which of two equals counts depends on it.
const walked = (outline, u, r) => {
  const { points, count, lines, isOuter, hint } = outline;
  let edge = hint.line / 3;
  let came = 0;
  for (let step = 0; step < MOST_STEPS && isOuter[edge]; step += 1) {
    const next = edge + 1 === count ? 0 : edge + 1;
    const before = edge === 0 ? count - 1 : edge - 1;
    const alongU = points[2 * next] - points[2 * edge];
    const alongR = points[2 * next + 1] - points[2 * edge + 1];
    const to = (u - points[2 * edge]) * alongU + (r - points[2 * edge + 1]) * alongR;
    const way = to < 0 ? -1 : to > alongU * alongU + alongR * alongR ? 1 : 0;
    if (way === 0 || way === -came) {
      const line = 3 * edge;
      // Past the end of one outer edge and before the start of the next, the corner is nearest.
      if (way === 0 && !(lines[line] * u + lines[line + 1] * r - lines[line + 2] > 0)) return -1;
      const square = squareToEdge(outline, edge, u, r);
      const [earlier, later] = [squareToEdge(outline, before, u, r), squareToEdge(outline, next, u, r)];
      const least = Math.min(square, earlier, later);
      nearestEdge = least === square ? edge : least === earlier ? before : next;
      hint.line = line;
      return Math.sqrt(least);
    }
    came = way;
    edge = way > 0 ? next : before;
  }
  return -1;
};

// The signed distance where it is less than `limit`; else a number that is no less, but for rounding.
export const distance = (outline, u, r, limit = Infinity) => {
  const { lines, hint } = outline;
  const beyond = limit + SLACK;
  const quick = lines[hint.line] * u + (lines[hint.line + 1] * r - lines[hint.line + 2]);
  if (quick > beyond) return quick;
  const near = walked(outline, u, r);
  if (near >= 0) return near;
  const bound = lowerBound(outline, u, r, beyond);
  if (bound > beyond) return bound;
  // A point beyond one of the lines is outside, and only what is nearer than the limit is sought.
  if (bound > 0) return Math.sqrt(squareToEdges(outline, u, r, beyond * beyond));
  const away = Math.sqrt(squareToEdges(outline, u, r));
  return inside(outline.points, outline.count, u, r) ? -away : away;
};

// The line of the edge to which the last distance was taken, as a place in `lines`.
export const lineOfNearest = () => 3 * nearestEdge;

// By how much no distance can differ between two sections: how far the corner moved that moved most.
export const movedBy = (one, other) => {
  if (one === other) return 0;
  if (one.count !== other.count) return Infinity;
  let most = 0;
  for (let at = 0; at < one.points.length; at += 2) {
    const moved = Math.hypot(one.points[at] - other.points[at], one.points[at + 1] - other.points[at + 1]);
    if (!(moved <= most)) most = moved;
  }
  return most;
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
  const { points, count } = outline;
  const edge = nearestEdge;
  const next = edge + 1 === count ? 0 : edge + 1;
  const alongU = points[2 * next] - points[2 * edge];
  const alongR = points[2 * next + 1] - points[2 * edge + 1];
  const size = Math.max(alongU ** 2 + alongR ** 2, 1e-18);
  const to = (u - points[2 * edge]) * alongU + (r - points[2 * edge + 1]) * alongR;
  const share = Math.min(Math.max(to / size, 0), 1);
  const [atU, atR] = [points[2 * edge] + share * alongU, points[2 * edge + 1] + share * alongR];
  const isAway = Math.abs(gap) > 1e-9;
  const awayU = isAway ? u - atU : -alongR;
  const awayR = isAway ? r - atR : alongU;
  const length = Math.hypot(awayU, awayR) * (gap < -1e-9 ? -1 : 1);
  return { gap, u: atU, r: atR, edge, share, normalU: awayU / length, normalR: awayR / length };
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

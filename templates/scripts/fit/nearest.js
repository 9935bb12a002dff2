// The least gap of a site over all that a wheel can do: generator/geometry/nearest.py. Poses and
// points that cannot be nearest are passed over by bounds that never err; what is found is the same.
//
//   const seen = look(coarse, corner, positions, view)       kept while the motion stays
//   leastOverSweep(seen, reach, outline)                     {gap, position, u, r}
//   gapAt(seen, position, outline)                           {gap, u, r} in one position
import { clip, facts } from "./facts.js";
import { poses } from "./motion.js";
import { boxBound, distance, lineOfNearest, movedBy } from "./outline.js";
import { refined } from "./travel.js";

const SLACK = 1e-9;
// Gaps no further apart count as equal, so that rounding does not choose between places.
const TIE = 1e-10;
const TOGETHER = 12;

// The middle of the points and the greatest way from it.
const extent = ({ points, count }) => {
  const middle = [0, 1, 2].map((axis) => {
    let total = 0;
    for (let at = 0; at < count; at += 1) total += points[3 * at + axis];
    return total / count;
  });
  let round = 0;
  for (let at = 0; at < 3 * count; at += 3) {
    round = Math.max(round, Math.hypot(points[at] - middle[0], points[at + 1] - middle[1], points[at + 2] - middle[2]));
  }
  return { middle, round };
};

// The boxes round stretches of points in the frame of their body: [middle, half its size, …].
const boxesOf = ({ points, count }) => {
  const boxes = [];
  for (let first = 0; first < count; first += TOGETHER) {
    const last = Math.min(first + TOGETHER, count);
    const ends = [0, 1, 2].map((axis) => {
      let [low, high] = [Infinity, -Infinity];
      for (let at = first; at < last; at += 1) {
        low = Math.min(low, points[3 * at + axis]);
        high = Math.max(high, points[3 * at + axis]);
      }
      return [0.5 * (low + high), 0.5 * (high - low)];
    });
    boxes.push(...ends.map(([middle]) => middle), ...ends.map(([, half]) => half));
  }
  return Float64Array.from(boxes);
};

// before: what was seen of the same place when the car stood otherwise; it changes speed alone.
export const look = (coarse, corner, positions, view, motions = poses(corner, positions, view), before = null) => {
  if (!coarse.boxes) Object.assign(coarse, { boxes: boxesOf(coarse) }, extent(coarse));
  const seen = { coarse, corner, positions, view, motions, hint: { pose: 0, point: 0 }, floors: null, outline: null };
  if (before?.floors && before.coarse === coarse && before.motions.length === motions.length) {
    seen.hint = { ...before.hint };
    seen.floors = before.floors.map((floor, pose) => floor - movedInPose(coarse, before.motions, motions, 12 * pose));
    seen.outline = before.outline;
  }
  return seen;
};

// How far no point of a place moves in the wheel's frame between two poses.
const movedInPose = ({ middle, round }, before, after, m) => {
  let turned = 0;
  for (let at = m; at < m + 9; at += 1) turned += (after[at] - before[at]) ** 2;
  const way = (motions) =>
    Math.hypot(middle[0] - motions[m + 9], middle[1] - motions[m + 10], middle[2] - motions[m + 11]);
  const went = Math.hypot(after[m + 9] - before[m + 9], after[m + 10] - before[m + 10], after[m + 11] - before[m + 11]);
  return went + Math.sqrt(turned) * (way(before) + round);
};

let [spotU, spotR] = [0, 0];

// Where a point comes in a pose, in the half-plane of the wheel.
const put = (from, at, motions, m) => {
  const x = from[at] - motions[m + 9];
  const y = from[at + 1] - motions[m + 10];
  const z = from[at + 2] - motions[m + 11];
  const a = motions[m] * x + motions[m + 3] * y + motions[m + 6] * z;
  const c = motions[m + 2] * x + motions[m + 5] * y + motions[m + 8] * z;
  spotU = motions[m + 1] * x + motions[m + 4] * y + motions[m + 7] * z;
  spotR = Math.sqrt(a * a + c * c);
};

// A number below the gap of all points of a box in a pose.
const boundOfBox = (boxes, box, motions, m, outline, enough) => {
  const x = boxes[box] - motions[m + 9];
  const y = boxes[box + 1] - motions[m + 10];
  const z = boxes[box + 2] - motions[m + 11];
  const [p, q, s] = [boxes[box + 3], boxes[box + 4], boxes[box + 5]];
  const reach = (row) =>
    Math.abs(motions[m + row]) * p + Math.abs(motions[m + row + 3]) * q + Math.abs(motions[m + row + 6]) * s;
  const middle = (row) => motions[m + row] * x + motions[m + row + 3] * y + motions[m + row + 6] * z;
  const a = Math.max(Math.abs(middle(0)) - reach(0), 0);
  const c = Math.max(Math.abs(middle(2)) - reach(2), 0);
  const [u, half] = [middle(1), reach(1)];
  return boxBound(outline, u - half, u + half, Math.sqrt(a * a + c * c), enough);
};

// What no gap of a pose was below with another section, and is not below with this one.
const floorsFor = (seen, outline) => {
  const { floors, positions } = seen;
  if (!floors) seen.floors = new Float64Array(positions.length).fill(-Infinity);
  else if (seen.outline !== outline) {
    const moved = movedBy(seen.outline, outline);
    for (let pose = 0; pose < floors.length; pose += 1) floors[pose] -= moved;
  }
  seen.outline = outline;
  return seen.floors;
};

// The gap in each pose that could be among those `within` of the least: [{pose, gap, point}].
const roughly = (seen, outline, within) => {
  const { coarse, motions, positions, hint } = seen;
  const { points, count, boxes } = coarse;
  const floors = floorsFor(seen, outline);
  put(points, 3 * hint.point, motions, 12 * hint.pose);
  let least = distance(outline, spotU, spotR);
  const found = [];
  let guess = hint.point;
  for (let pose = 0; pose < positions.length; pose += 1) {
    const m = 12 * pose;
    let best = least + within;
    if (floors[pose] > best + SLACK) continue;
    let nearest = -1;
    // What was nearest in the pose before is likely to be near again.
    put(points, 3 * guess, motions, m);
    best = Math.min(distance(outline, spotU, spotR, best + SLACK), best);
    let floor = Infinity;
    for (let first = 0, box = 0; first < count; first += TOGETHER, box += 6) {
      const bound = boundOfBox(boxes, box, motions, m, outline, best + SLACK);
      if (bound > best + SLACK) {
        if (bound < floor) floor = bound;
        continue;
      }
      const last = Math.min(first + TOGETHER, count);
      for (let point = first; point < last; point += 1) {
        put(points, 3 * point, motions, m);
        const gap = distance(outline, spotU, spotR, best + SLACK);
        if (gap < floor) floor = gap;
        if (gap < best - TIE || (nearest < 0 && gap <= best + TIE)) {
          best = gap;
          nearest = point;
        }
      }
    }
    floors[pose] = floor;
    if (nearest < 0) continue;
    if (best < least) least = best;
    guess = nearest;
    found.push({ pose, gap: best, point: nearest });
  }
  return { least, close: found.filter((each) => each.gap <= least + within) };
};

const movesOf = (sizes) => {
  const used = [0, 1, 2].filter((axis) => sizes[axis] > 0);
  const rows = [];
  const grow = (signs) => {
    if (signs.length < used.length) {
      for (const sign of [-1, 0, 1]) grow([...signs, sign]);
    } else if (signs.some((sign) => sign !== 0)) {
      const row = [0, 0, 0];
      used.forEach((axis, at) => {
        row[axis] = signs[at] / sizes[axis];
      });
      rows.push(row);
    }
  };
  grow([]);
  return { rows: used.length ? rows : [], dimensions: used.length };
};

const spot = new Float64Array(3);
const tried = [0, 0, 0];

const place = (shape, parameters, motions, m) => {
  shape.at(parameters, spot);
  put(spot, 0, motions, m);
};

// How the shape goes on a millimetre along each parameter that is used; null where it is bent.
const waysOf = (shape) => {
  if (shape.marks.length || Number.isFinite(shape.bend)) return null;
  const [begin, end] = [new Float64Array(3), new Float64Array(3)];
  shape.at([0, 0, 0], begin);
  return [0, 1, 2]
    .filter((axis) => shape.sizes[axis] > 0)
    .map((axis) => {
      shape.at([0, 1, 2].map((other) => (other === axis ? 1 : 0)), end);
      return { axis, size: shape.sizes[axis], along: end.map((part, at) => (part - begin[at]) / shape.sizes[axis]) };
    });
};

// A number that no gap is below within a way left along each parameter, from a place on the shape
// and the line of the section that it is nearest to: generator/geometry/floors.py.
const floorWithin = (shape, { parameters, line: at }, motions, m, outline, left) => {
  const ways = (shape.ways ??= { of: waysOf(shape) }).of;
  if (!ways) return -Infinity;
  shape.at(parameters, spot);
  const [x, y, z] = [spot[0] - motions[m + 9], spot[1] - motions[m + 10], spot[2] - motions[m + 11]];
  const a = motions[m] * x + motions[m + 3] * y + motions[m + 6] * z;
  const c = motions[m + 2] * x + motions[m + 5] * y + motions[m + 8] * z;
  const u = motions[m + 1] * x + motions[m + 4] * y + motions[m + 7] * z;
  const r = Math.sqrt(a * a + c * c);
  const whole = left * Math.sqrt(ways.length);
  if (!(r > 1 + whole)) return -Infinity;
  const { lines } = outline;
  const [across, out] = [lines[at], lines[at + 1]];
  let floor = across * u + (out * r - lines[at + 2]);
  for (const { axis, size, along } of ways) {
    const [p, q, s] = along;
    const around =
      a * (motions[m] * p + motions[m + 3] * q + motions[m + 6] * s) +
      c * (motions[m + 2] * p + motions[m + 5] * q + motions[m + 8] * s);
    const aside = motions[m + 1] * p + motions[m + 4] * q + motions[m + 7] * s;
    const steep = across * aside + (out * around) / r;
    const low = Math.max(-left, -parameters[axis] * size);
    const high = Math.min(left, (1 - parameters[axis]) * size);
    floor += Math.min(low * steep, high * steep);
  }
  // Where the line looks inwards, r leaves its even change by the way across.
  return out < 0 ? floor + (out * whole * whole) / (2 * (r - whole)) : floor;
};

// Search along a shape from one start in one pose, with halving steps. `hopeless`: a gap that has to
// be beaten; null where the start lies further above it than all steps together reach.
const searched = (shape, start, motions, m, outline, firstStep, hopeless = Infinity) => {
  const { rows, dimensions } = (shape.moves ??= movesOf(shape.sizes));
  place(shape, start, motions, m);
  const reach = rows.length ? 2 * firstStep * Math.sqrt(dimensions) : 0;
  const first = distance(outline, spotU, spotR, hopeless + reach + SLACK);
  if (first > hopeless + reach) return null;
  const own = [start[0], start[1], start[2]];
  const here = { gap: first, parameters: own, u: spotU, r: spotR, line: lineOfNearest() };
  if (!rows.length) return here;
  const halvings = Math.ceil(Math.log2(firstStep / facts.nearest.lastStep));
  for (let halving = 0; halving <= halvings; halving += 1) {
    const step = firstStep / 2 ** halving;
    // What is left of all steps can no longer reach the gap that has to be beaten.
    const left = 2 * step - firstStep / 2 ** halvings;
    if (here.gap > hopeless + left * Math.sqrt(dimensions) + SLACK) return null;
    if (here.gap > hopeless && floorWithin(shape, here, motions, m, outline, left) > hopeless + SLACK) {
      return null;
    }
    const [p, q, s] = own;
    for (let at = 0; at < rows.length; at += 1) {
      const move = rows[at];
      tried[0] = clip(p + step * move[0], 0, 1);
      tried[1] = clip(q + step * move[1], 0, 1);
      tried[2] = clip(s + step * move[2], 0, 1);
      place(shape, tried, motions, m);
      const gap = distance(outline, spotU, spotR, here.gap);
      if (!(gap < here.gap - TIE)) continue;
      here.gap = gap;
      here.u = spotU;
      here.r = spotR;
      here.line = lineOfNearest();
      [own[0], own[1], own[2]] = tried;
    }
  }
  return here;
};

const dimensionsOf = (shape) => (shape.moves ??= movesOf(shape.sizes)).dimensions;
const startOf = ({ parameters }, point) => parameters.subarray(3 * point, 3 * point + 3);

// The poses in which a place on the shape has less than a gap, the least first.
const nearestFirst = (shape, parameters, motions, count, outline, limit) => {
  shape.at(parameters, spot);
  const found = [];
  for (let at = 0; at < count; at += 1) {
    put(spot, 0, motions, 12 * at);
    const gap = distance(outline, spotU, spotR, limit);
    if (gap < limit) found.push({ at, gap });
  }
  return found.sort((one, other) => one.gap - other.gap || one.at - other.at);
};

// Of several poses with the same gap the first of the sweep counts, in whatever order they are met.
export const leastOverSweep = (seen, range, outline) => {
  const { coarse, corner, positions, motions, view, hint } = seen;
  const { firstStep, nearStep, widths, chordError } = facts.nearest;
  const { close } = roughly(seen, outline, chordError);
  close.sort((one, other) => one.gap - other.gap || one.pose - other.pose);
  Object.assign(hint, { pose: close[0].pose, point: close[0].point });
  let best = null;
  let from = -1;
  for (const { pose, point } of close) {
    const start = startOf(coarse, point);
    const found = searched(coarse.shape, start, motions, 12 * pose, outline, firstStep, best?.gap);
    if (!found) continue;
    const isAsNear = best && found.gap <= best.gap + TIE && pose < from;
    if (!best || found.gap < best.gap - TIE || isAsNear) [best, from] = [found, pose];
  }
  let position = positions[from];
  for (const width of widths) {
    const around = refined(range, position, width);
    const near = poses(corner, around, view);
    const start = best.parameters;
    let again = best;
    let moved = -1;
    // No search goes further than twice its first step along each parameter.
    const reach = 2 * nearStep * Math.sqrt(dimensionsOf(coarse.shape)) + SLACK;
    for (const { at, gap } of nearestFirst(coarse.shape, start, near, around.length, outline, best.gap + reach)) {
      if (gap > again.gap + reach) break;
      const found = searched(coarse.shape, start, near, 12 * at, outline, nearStep, again.gap);
      if (!found) continue;
      const isAsNear = found.gap <= again.gap + TIE && at < moved;
      if (found.gap < again.gap - TIE || isAsNear) [again, moved] = [found, at];
    }
    if (moved >= 0) position = around[moved];
    best = again;
  }
  return { gap: best.gap, position, u: best.u, r: best.r };
};

export const gapAt = (seen, position, outline) => {
  const one = look(seen.coarse, seen.corner, [position], seen.view);
  const rough = roughly(one, outline, 0).close[0];
  const start = startOf(one.coarse, rough.point);
  return searched(one.coarse.shape, start, one.motions, 0, outline, facts.nearest.firstStep);
};

// The least gap of a site over all that a wheel can do: generator/geometry/nearest.py. Poses and
// points that cannot be nearest are passed over by bounds that never err; what is found is the same.
//
//   const seen = look(coarse, corner, positions, view)       kept while the motion stays
//   leastOverSweep(seen, reach, outline)                     {gap, position, u, r}
//   gapAt(seen, position, outline)                           {gap, u, r} in one position
import { facts } from "./facts.js";
import { poses } from "./motion.js";
import { distance, lowerBound } from "./outline.js";
import { refined } from "./travel.js";

const SLACK = 1e-9;

// Where every point comes in every pose, in the half-plane of the wheel: [u, r, …].
const halfPlane = (points, count, motions, poseCount) => {
  const found = new Float64Array(2 * count * poseCount);
  for (let pose = 0, at = 0; pose < poseCount; pose += 1) {
    const m = 12 * pose;
    for (let point = 0; point < count; point += 1, at += 2) {
      const x = points[3 * point] - motions[m + 9];
      const y = points[3 * point + 1] - motions[m + 10];
      const z = points[3 * point + 2] - motions[m + 11];
      const a = motions[m] * x + motions[m + 3] * y + motions[m + 6] * z;
      const c = motions[m + 2] * x + motions[m + 5] * y + motions[m + 8] * z;
      found[at] = motions[m + 1] * x + motions[m + 4] * y + motions[m + 7] * z;
      found[at + 1] = Math.sqrt(a * a + c * c);
    }
  }
  return found;
};

export const look = (coarse, corner, positions, view) => {
  const motions = poses(corner, positions, view);
  const places = halfPlane(coarse.points, coarse.count, motions, positions.length);
  return { coarse, corner, positions, view, motions, places, hint: 0 };
};

// The gap in each pose that could be among those `within` of the least: [{pose, gap, point}].
const roughly = ({ coarse, places, positions, hint }, outline, within) => {
  const { count } = coarse;
  let least = distance(outline, places[2 * hint], places[2 * hint + 1]);
  const found = [];
  for (let pose = 0; pose < positions.length; pose += 1) {
    let best = least + within;
    let at = -1;
    for (let point = 0, place = 2 * pose * count; point < count; point += 1, place += 2) {
      const u = places[place];
      const r = places[place + 1];
      if (lowerBound(outline, u, r, best + SLACK) > best + SLACK) continue;
      const gap = distance(outline, u, r);
      if (gap < best || (at < 0 && gap <= best)) {
        best = gap;
        at = point;
      }
    }
    if (at < 0) continue;
    if (best < least) least = best;
    found.push({ pose, gap: best, point: at });
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
let [spotU, spotR] = [0, 0];

const place = (shape, parameters, motions, m) => {
  shape.at(parameters, spot);
  const x = spot[0] - motions[m + 9];
  const y = spot[1] - motions[m + 10];
  const z = spot[2] - motions[m + 11];
  const a = motions[m] * x + motions[m + 3] * y + motions[m + 6] * z;
  const c = motions[m + 2] * x + motions[m + 5] * y + motions[m + 8] * z;
  spotU = motions[m + 1] * x + motions[m + 4] * y + motions[m + 7] * z;
  spotR = Math.sqrt(a * a + c * c);
};

// Search along a shape from one start in one pose, with halving steps. `hopeless`: a gap that has to
// be beaten; null where the start lies further above it than all steps together reach.
const searched = (shape, start, motions, m, outline, firstStep, hopeless = Infinity) => {
  const { rows, dimensions } = (shape.moves ??= movesOf(shape.sizes));
  place(shape, start, motions, m);
  const reach = rows.length ? 2 * firstStep * Math.sqrt(dimensions) : 0;
  if (lowerBound(outline, spotU, spotR, hopeless + reach) > hopeless + reach + SLACK) return null;
  const first = distance(outline, spotU, spotR);
  if (first > hopeless + reach + SLACK) return null;
  const here = { gap: first, parameters: [start[0], start[1], start[2]], u: spotU, r: spotR };
  if (!rows.length) return here;
  const halvings = Math.ceil(Math.log2(firstStep / facts.nearest.lastStep));
  const own = here.parameters;
  for (let halving = 0; halving <= halvings; halving += 1) {
    const step = firstStep / 2 ** halving;
    // What is left of all steps can no longer reach the gap that has to be beaten.
    if (here.gap > hopeless + 2 * step * Math.sqrt(dimensions) + SLACK) return null;
    let best = here.gap;
    let bestU = 0;
    let bestR = 0;
    let p = 0;
    let q = 0;
    let s = 0;
    for (let at = 0; at < rows.length; at += 1) {
      const move = rows[at];
      for (let axis = 0; axis < 3; axis += 1) {
        const value = own[axis] + step * move[axis];
        tried[axis] = value < 0 ? 0 : value > 1 ? 1 : value;
      }
      place(shape, tried, motions, m);
      if (lowerBound(outline, spotU, spotR, best) >= best) continue;
      const gap = distance(outline, spotU, spotR);
      if (gap < best) {
        best = gap;
        bestU = spotU;
        bestR = spotR;
        p = tried[0];
        q = tried[1];
        s = tried[2];
      }
    }
    if (best < here.gap) {
      here.gap = best;
      here.u = bestU;
      here.r = bestR;
      own[0] = p;
      own[1] = q;
      own[2] = s;
    }
  }
  return here;
};

const startOf = ({ parameters }, point) => parameters.subarray(3 * point, 3 * point + 3);

// The hint lies in `seen` and changes speed alone.
export const leastOverSweep = (seen, reach, outline) => {
  const { coarse, corner, positions, motions, view } = seen;
  const { firstStep, nearStep, widths, chordError } = facts.nearest;
  const rough = roughly(seen, outline, chordError);
  let best = null;
  let position = null;
  for (const { pose, gap, point } of rough.close) {
    if (gap === rough.least) seen.hint = pose * coarse.count + point;
    const limit = best ? best.gap : Infinity;
    const start = startOf(coarse, point);
    const found = searched(coarse.shape, start, motions, 12 * pose, outline, firstStep, limit);
    if (found && (!best || found.gap < best.gap)) [best, position] = [found, positions[pose]];
  }
  for (const width of widths) {
    const around = refined(reach, position, width);
    const near = poses(corner, around, view);
    const start = best.parameters;
    let again = best;
    let moved = position;
    around.forEach((each, at) => {
      const found = searched(coarse.shape, start, near, 12 * at, outline, nearStep, again.gap);
      if (found && found.gap < again.gap) [again, moved] = [found, each];
    });
    [best, position] = [again, moved];
  }
  return { gap: best.gap, position, u: best.u, r: best.r };
};

export const gapAt = (seen, position, outline) => {
  const one = look(seen.coarse, seen.corner, [position], seen.view);
  const rough = roughly(one, outline, 0).close[0];
  const start = startOf(one.coarse, rough.point);
  return searched(one.coarse.shape, start, one.motions, 0, outline, facts.nearest.firstStep);
};

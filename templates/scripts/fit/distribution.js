// A distribution as a table: knots joined by straight lines, blurred by a normal in closed form.
// The mathematics of generator/evidence/distribution.py and joint.py.
//
//   const table = unpacked(packed)            {knots, below}
//   probabilityAbove(table, x, u)             P(c + e > x), e normal with spread u
//   range(table, u)                           {low, median, high}
//   jointClearance(demands, sharedU)          {probability, least, most}
import { facts } from "./facts.js";
import { FAR, cdf, density } from "./normal.js";

const CELL_BYTES = 6;
const STEADY = 1e-12;
const TURNS = 80;

// Knots are lattice places, masses whole shares of 2^32: see generator/site/live/packing.py.
export const unpacked = ({ start, step, cells }) => {
  const text = atob(cells);
  const count = text.length / CELL_BYTES;
  const knots = new Float64Array(count);
  const below = new Float64Array(count);
  let place = 0;
  let mass = 0;
  for (let row = 0; row < count; row += 1) {
    const at = row * CELL_BYTES;
    const byte = (offset) => text.charCodeAt(at + offset);
    place += byte(0) + 256 * byte(1);
    mass += byte(2) + 256 * byte(3) + 65536 * byte(4) + 16777216 * byte(5);
    knots[row] = start + step * place;
    below[row] = mass / 4294967295;
  }
  below[count - 1] = 1;
  return { knots, below };
};

const straight = (xs, ys, x) => {
  const last = xs.length - 1;
  if (!(x > xs[0])) return x <= xs[0] ? ys[0] : NaN;
  if (x >= xs[last]) return ys[last];
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle] <= x) low = middle;
    else high = middle;
  }
  return ys[low] + ((ys[high] - ys[low]) / (xs[high] - xs[low])) * (x - xs[low]);
};

// Below and, with it, the slope: both from the same pieces.
const blurred = (table, x, u) => {
  const { knots, below } = table;
  const flat = facts.distribution.flat;
  const last = knots.length - 1;
  let at = 0;
  while (at < last && (x - knots[at + 1]) / u >= FAR) at += 1;
  let total = below[at] - below[0];
  let slope = 0;
  let z = (x - knots[at]) / u;
  let ends = cdf(z);
  let rise = z >= FAR ? z : z * ends + density(z);
  for (; at < last && z > -FAR; at += 1) {
    const next = (x - knots[at + 1]) / u;
    const other = cdf(next);
    const nextRise = next >= FAR ? next : next <= -FAR ? 0 : next * other + density(next);
    const cell = (knots[at + 1] - knots[at]) / u;
    const mass = below[at + 1] - below[at];
    const piece =
      cell < flat ? (ends + other + 4 * cdf(0.5 * (z + next))) / 6 : (rise - nextRise) / cell;
    total += piece * mass;
    slope += ((ends - other) / (cell * u)) * mass;
    z = next;
    ends = other;
    rise = nextRise;
  }
  return { total: Math.min(Math.max(total, 0), 1), slope };
};

export const probabilityBelow = (table, x, u = 0) => {
  if (Number.isNaN(x) || Number.isNaN(u)) return NaN;
  if (!(u > 0)) return straight(table.knots, table.below, x);
  return blurred(table, x, u).total;
};

export const probabilityAbove = (table, x, u = 0) => 1 - probabilityBelow(table, x, u);

const quantile = (table, share, u) => {
  let low = table.knots[0] - 6 * u;
  let high = table.knots[table.knots.length - 1] + 6 * u;
  let x = straight(table.below, table.knots, share);
  for (let turn = 0; turn < TURNS; turn += 1) {
    const { total, slope } = blurred(table, x, u);
    const error = total - share;
    if (Math.abs(error) < STEADY || high - low < STEADY) return x;
    if (error > 0) high = x;
    else low = x;
    const step = slope > 0 ? error / slope : NaN;
    const ahead = x - step;
    x = ahead > low && ahead < high ? ahead : 0.5 * (low + high);
  }
  return x;
};

export const range = (table, u = 0) => {
  const of = (share) =>
    u > 0 ? quantile(table, share, u) : straight(table.below, table.knots, share);
  const [low, median, high] = facts.distribution.range.map(of);
  return { low, median, high };
};

// What is asked of one site: table, gap, own spread, wanted gap, and the gap's change for one
// millimetre of the width that all sites share.
const chancesOf = ({ table, gap, own, wanted, sensitivity }, points) => {
  const ends = [points[0], points[points.length - 1]].map(
    (shared) => probabilityAbove(table, wanted - gap - sensitivity * shared, own),
  );
  // A site that is certain at both ends is certain between them.
  if (Math.min(...ends) >= 1 - 1e-12) return null;
  return points.map((shared) => probabilityAbove(table, wanted - gap - sensitivity * shared, own));
};

export const jointClearance = (demands, sharedU) => {
  const { reach, step } = facts.joint;
  const count = sharedU > 0 ? Math.round((2 * reach) / step) + 1 : 1;
  const nodes = Array.from({ length: count }, (_, at) => (sharedU > 0 ? -reach + at * step : 0));
  // Weights so far out that all of them together are below 1e-9 are left out.
  const used = nodes.filter((t) => Math.abs(t) < 6.2);
  const weights = used.map((t) => (sharedU > 0 ? density(t) * step : 1));
  const points = used.map((t) => t * sharedU);
  const product = new Float64Array(used.length).fill(1);
  const alone = demands.map((demand) => {
    const chances = chancesOf(demand, points);
    if (chances === null) return 1;
    let sum = 0;
    for (let at = 0; at < used.length; at += 1) {
      product[at] *= chances[at];
      sum += chances[at] * weights[at];
    }
    return Math.min(Math.max(sum, 0), 1);
  });
  let together = 0;
  for (let at = 0; at < used.length; at += 1) together += product[at] * weights[at];
  const short = alone.reduce((sum, chance) => sum + 1 - chance, 0);
  return {
    probability: Math.min(Math.max(together, 0), 1),
    least: Math.max(0, 1 - short),
    most: Math.min(...alone),
  };
};

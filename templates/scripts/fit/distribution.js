// A distribution as a table: knots joined by straight lines, blurred by a normal in closed form.
// The mathematics of generator/evidence/distribution.py and joint.py.
//
//   const table = unpacked(packed)            {knots, below, slopes, mean, variance}
//   probabilityAbove(table, x, u)             P(c + e > x), e normal with spread u
//   range(table, u)                           {low, median, high}
//   jointClearance(demands, sharedU)          {probability, least, most}
import { facts } from "./facts.js";
import { FAR, cdf, density, integral } from "./normal.js";

const CELL_BYTES = 6;
// A Newton step this small is the last: its square is what is left.
const CLOSE = 1e-7;
const ENDS = 9;
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
  return { knots, below, ...shapeOf(knots, below) };
};

// The slope of each straight piece, and mean and variance of all.
const shapeOf = (knots, below) => {
  const slopes = new Float64Array(knots.length - 1);
  let mean = 0;
  let squares = 0;
  for (let at = 0; at < slopes.length; at += 1) {
    const [low, high] = [knots[at], knots[at + 1]];
    const mass = below[at + 1] - below[at];
    slopes[at] = mass / (high - low);
    mean += (mass * (low + high)) / 2;
    squares += (mass * (low * low + low * high + high * high)) / 3;
  }
  return { slopes, mean, variance: squares - mean * mean };
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

// The first place whose knot lies above x; the last place where none does.
const firstAbove = (knots, x) => {
  let low = 0;
  let high = knots.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (knots[middle] > x) high = middle;
    else low = middle + 1;
  }
  return low;
};

// A straight piece of slope s gives s·u·(Ψ(z) − Ψ(z − d)); pieces far below x count whole, those far
// above it nothing.
const blurred = ({ knots, below, slopes }, x, u) => {
  const last = knots.length - 1;
  let at = Math.max(firstAbove(knots, x - FAR * u) - 1, 0);
  let total = 0;
  let before = integral((x - knots[at]) / u);
  const whole = below[at];
  for (; at < last && before > 0; at += 1) {
    const next = integral((x - knots[at + 1]) / u);
    total += slopes[at] * (before - next);
    before = next;
  }
  return Math.min(Math.max(whole + u * total, 0), 1);
};

// The density of what `blurred` gives.
const blurredDensity = ({ knots, slopes }, x, u) => {
  const last = knots.length - 1;
  let at = Math.max(firstAbove(knots, x - FAR * u) - 1, 0);
  let total = 0;
  let before = cdf((x - knots[at]) / u);
  for (; at < last && before > 0; at += 1) {
    const next = cdf((x - knots[at + 1]) / u);
    total += slopes[at] * (before - next);
    before = next;
  }
  return total;
};

export const probabilityBelow = (table, x, u = 0) => {
  if (Number.isNaN(x) || Number.isNaN(u)) return NaN;
  if (!(u > 0)) return straight(table.knots, table.below, x);
  return blurred(table, x, u);
};

export const probabilityAbove = (table, x, u = 0) => 1 - probabilityBelow(table, x, u);

// Newton's steps from the quantile of the bare table, stretched by the blur about the mean: exact for
// a normal table. Halving where a step would leave the bracket.
const quantile = (table, share, u) => {
  const { knots, mean, variance } = table;
  let low = knots[0] - ENDS * u;
  let high = knots[knots.length - 1] + ENDS * u;
  const bare = straight(table.below, knots, share);
  let x = mean + (bare - mean) * Math.sqrt(1 + (u * u) / variance);
  for (let turn = 0; turn < TURNS; turn += 1) {
    const error = blurred(table, x, u) - share;
    if (error > 0) high = x;
    else low = x;
    const ahead = x - error / blurredDensity(table, x, u);
    const isInside = ahead >= low && ahead <= high;
    const next = isInside ? ahead : 0.5 * (low + high);
    const step = Math.abs(next - x);
    x = next;
    if (step < CLOSE) return x;
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
// millimetre of the width that all sites share. A site that is certain at both ends is certain
// between them.
const chancesOf = ({ table, gap, own, wanted, sensitivity }, points) => {
  const at = (shared) => probabilityAbove(table, wanted - gap - sensitivity * shared, own);
  if (Math.min(at(points[0]), at(points[points.length - 1])) >= 1 - 1e-12) return null;
  return points.map(at);
};

const isSame = (one, other) => Object.keys(one).every((name) => one[name] === other[name]);

export const jointClearance = (demands, sharedU) => {
  const { reach, step } = facts.joint;
  const count = sharedU > 0 ? Math.round((2 * reach) / step) + 1 : 1;
  const nodes = Array.from({ length: count }, (_, at) => (sharedU > 0 ? -reach + at * step : 0));
  // Weights so far out that all of them together are below 1e-9 are left out.
  const used = nodes.filter((t) => Math.abs(t) < 6.2);
  const weights = used.map((t) => (sharedU > 0 ? density(t) * step : 1));
  const points = used.map((t) => t * sharedU);
  const product = new Float64Array(used.length).fill(1);
  const asked = [];
  const alone = demands.map((demand) => {
    // Both sides of a car often ask the same.
    const known = asked.find((each) => isSame(each.demand, demand));
    const { chances } = known ?? { chances: chancesOf(demand, points) };
    if (!known) asked.push({ demand, chances });
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

// Shapes of the places a wheel can touch, as maps from three parameters to a point, and points along
// them: generator/geometry/shapes.py and sampling.py. A shape as it comes with the chassis data:
//   {kind: "block", x, y, z}   each a number, {from, to} or, running together, {ramp: [from, to]}
//   {kind: "arc", x, z, radius, begin, end, y}   {kind: "line", points}   {kind: "point", at}
import { facts, radians } from "./facts.js";

const ends = (said) => {
  if (typeof said === "number") return [said, said];
  return said.ramp || [said.from, said.to];
};

const isRamp = (said) => typeof said === "object" && Boolean(said.ramp);

const block = (given) => {
  const coordinates = [given.x, given.y, given.z];
  const ramps = coordinates.map((said, axis) => (isRamp(said) ? axis : -1)).filter((at) => at >= 0);
  const parameter = coordinates.map((said, axis) => (isRamp(said) ? ramps[0] : axis));
  const spans = coordinates.map(ends);
  const squares = [0, 0, 0];
  spans.forEach(([start, end], axis) => {
    squares[parameter[axis]] += (end - start) ** 2;
  });
  const [[x0, x1], [y0, y1], [z0, z1]] = spans;
  const [px, py, pz] = parameter;
  return {
    sizes: squares.map(Math.sqrt),
    marks: [],
    bend: Infinity,
    at: (p, out) => {
      out[0] = x0 + (x1 - x0) * p[px];
      out[1] = y0 + (y1 - y0) * p[py];
      out[2] = z0 + (z1 - z0) * p[pz];
    },
  };
};

const arc = (given) => {
  const [low, high] = ends(given.y);
  const along = given.radius * radians(Math.abs(given.end - given.begin));
  const ramp = isRamp(given.y);
  return {
    sizes: ramp ? [Math.sqrt(along ** 2 + (high - low) ** 2), 0, 0] : [along, Math.abs(high - low), 0],
    marks: [],
    bend: given.radius,
    at: (p, out) => {
      const angle = radians(given.begin + (given.end - given.begin) * p[0]);
      out[0] = given.x + given.radius * Math.cos(angle);
      out[1] = low + (high - low) * (ramp ? p[0] : p[1]);
      out[2] = given.z + given.radius * Math.sin(angle);
    },
  };
};

const line = ({ points }) => {
  const reached = [0];
  for (let at = 1; at < points.length; at += 1) {
    const step = Math.hypot(...points[at].map((part, axis) => part - points[at - 1][axis]));
    reached.push(reached[at - 1] + step);
  }
  const whole = reached[reached.length - 1];
  return {
    sizes: [whole, 0, 0],
    marks: reached.slice(1, -1).map((place) => place / whole),
    bend: Infinity,
    at: (p, out) => {
      const place = p[0] * whole;
      let piece = 0;
      while (piece < points.length - 2 && place >= reached[piece + 1]) piece += 1;
      const share = (place - reached[piece]) / (reached[piece + 1] - reached[piece]);
      for (let axis = 0; axis < 3; axis += 1) {
        out[axis] = points[piece][axis] + share * (points[piece + 1][axis] - points[piece][axis]);
      }
    },
  };
};

const point = ({ at }) => ({ sizes: [0, 0, 0], marks: [], bend: Infinity, at: (_, out) => out.set(at) });

const KINDS = { block, arc, line, point };

export const shaped = (given) => KINDS[given.kind](given);

// A shape moved as a whole, as a rolled lip.
export const shifted = (shape, by) => ({
  ...shape,
  at: (p, out) => {
    shape.at(p, out);
    for (let axis = 0; axis < 3; axis += 1) out[axis] += by[axis];
  },
});

const rowOf = (stops, size, spacing) => {
  if (!(size > 0)) return [0];
  const row = [stops[0]];
  for (let at = 1; at < stops.length; at += 1) {
    const [start, end] = [stops[at - 1], stops[at]];
    const count = Math.max(1, Math.ceil(((end - start) * size) / spacing));
    const step = (end - start) / count;
    for (let place = 1; place <= count; place += 1) {
      row.push(place === count ? end : start + place * step);
    }
  }
  return row;
};

// Points of a whole shape: {shape, points: [x, y, z, …], parameters: [p, q, r, …], count}.
export const sampled = (shape, chordError) => {
  const directions = Math.max(1, shape.sizes.filter((size) => size > 0).length);
  const curved = 1 / facts.sampling.leastRounding + 1 / shape.bend;
  const spacing = Math.sqrt((8 * chordError) / (directions * curved));
  const rows = shape.sizes.map((size, axis) =>
    rowOf([0, ...(axis === 0 ? shape.marks : []), 1], size, spacing),
  );
  const isSolid = rows.every((row) => row.length > 2);
  const parameters = [];
  for (const p of rows[0]) {
    for (const q of rows[1]) {
      for (const r of rows[2]) {
        const isOnFace = [p, q, r].some((each) => each === 0 || each === 1);
        if (!isSolid || isOnFace) parameters.push(p, q, r);
      }
    }
  }
  const count = parameters.length / 3;
  const points = new Float64Array(3 * count);
  for (let at = 0; at < count; at += 1) {
    shape.at(parameters.slice(3 * at, 3 * at + 3), points.subarray(3 * at, 3 * at + 3));
  }
  return { shape, points, parameters: Float64Array.from(parameters), count };
};

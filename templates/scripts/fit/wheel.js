// Where a wheel stands on its hub, with how every result depends on each thing that was given.
// The mathematics of generator/geometry/wheel.py: u from the mounting face, outboard positive.
import { facts } from "./facts.js";

const NAMES = ["width", "inboard", "outboard", "offset", "spacer", "overall", "back"];

export const exact = (value) => ({ value, u: 0 });

const added = (one, other, by = 1) => one.map((weight, at) => weight + by * other[at]);

const covariance = (one, other, given) => {
  let sum = 0;
  for (let at = 0; at < given.length; at += 1) sum += one[at] * other[at] * given[at].u ** 2;
  return sum;
};

const estimate = (weights, given) => {
  let value = 0;
  for (let at = 0; at < given.length; at += 1) value += weights[at] * given[at].value;
  return { value, u: Math.sqrt(Math.max(covariance(weights, weights, given), 0)) };
};

// An observation is brought into all sums by least variance.
const conditioned = (sums, predicted, observed, given) => {
  const closure = added(observed, predicted, -1);
  const variance = covariance(closure, closure, given);
  if (!(variance > 0)) return;
  const gains = Object.entries(sums).map(([name, sum]) => [
    name,
    -covariance(sum, closure, given) / variance,
  ]);
  for (const [name, gain] of gains) sums[name] = added(sums[name], closure, gain);
};

const overallOf = (sums) => added(added(sums.width, sums.inboard), sums.outboard);
const backOf = (sums) => added(added(sums.offset, sums.inboard), sums.width, 0.5);

// wheel: estimates {value, u} or null: width, offset, backspacing, overallWidth, flangeInboard,
// flangeOutboard; offset or backspacing is known. spacer: an estimate.
export const wheelPosition = (wheel, spacer) => {
  const assumed = { value: facts.wheel.flange, u: facts.wheel.flangeU };
  const given = [
    wheel.width,
    wheel.flangeInboard || assumed,
    wheel.flangeOutboard || assumed,
    wheel.offset || exact(0),
    spacer,
    wheel.overallWidth || exact(0),
    wheel.backspacing || exact(0),
  ];
  const base = Object.fromEntries(
    NAMES.map((name, at) => [name, NAMES.map((_, place) => (place === at ? 1 : 0))]),
  );
  const sums = {
    width: base.width,
    inboard: base.inboard,
    outboard: base.outboard,
    offset: base.offset,
  };
  if (wheel.overallWidth) conditioned(sums, overallOf(sums), base.overall, given);
  if (!wheel.offset) {
    sums.offset = added(added(base.back, sums.width, -0.5), sums.inboard, -1);
  } else if (wheel.backspacing) {
    conditioned(sums, backOf(sums), base.back, given);
  }
  return positionOf(sums, base.spacer, given);
};

const positionOf = (sums, spacer, given) => {
  const back = backOf(sums);
  const front = added(overallOf(sums), back, -1);
  const centre = added(spacer, sums.offset, -1);
  const placing = [centre, sums.width, sums.inboard, sums.outboard];
  const of = (weights) => estimate(weights, given);
  return {
    width: of(sums.width),
    flangeInboard: of(sums.inboard),
    flangeOutboard: of(sums.outboard),
    offset: of(sums.offset),
    backspacing: of(back),
    frontSpacing: of(front),
    effectiveOffset: of(added(sums.offset, spacer, -1)),
    centrePlane: of(centre),
    inboardLip: of(added(spacer, back, -1)),
    outboardLip: of(added(spacer, front)),
    covariance: placing.map((one) => placing.map((other) => covariance(one, other, given))),
  };
};

// weights: derivatives by centre plane, width, inboard and outboard flange.
export const positionUncertainty = (position, weights) => {
  let total = 0;
  position.covariance.forEach((row, i) =>
    row.forEach((cell, j) => {
      total += weights[i] * weights[j] * cell;
    }),
  );
  return Math.sqrt(Math.max(total, 0));
};

// The tyre's side planes: {inboard, outboard}, each {value, u}.
export const tyreFaces = (position, section) => {
  const half = 0.5 * section.value;
  const u = Math.hypot(position.centrePlane.u, 0.5 * section.u);
  return {
    inboard: { value: position.centrePlane.value - half, u },
    outboard: { value: position.centrePlane.value + half, u },
  };
};

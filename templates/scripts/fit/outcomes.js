// A number held against its bound: generator/geometry/bound.py. Estimates are {value, u}. `said` tells
// what the number is, with {} where it stands; what has a way, such as further out, is told by size.
import { facts } from "./facts.js";

export const minus = (one, other) => ({ value: one.value - other.value, u: Math.hypot(one.u, other.u) });
export const plus = (one, other) => ({ value: one.value + other.value, u: Math.hypot(one.u, other.u) });

const outcomeOf = (value, u, bound, margin) => {
  const { coverage, dust } = facts.checks;
  if (u > 0 && coverage * u - Math.abs(margin) > dust) return "too close to say";
  const isOnBound = Math.abs(value - bound) <= Math.max(dust * Math.max(Math.abs(value), Math.abs(bound)), dust);
  // Written so that a number that is none can never hold.
  return margin >= 0 || isOnBound ? "holds" : "fails";
};

const told = (code, { end = null, side = "both" }, rest) => ({
  code, end, side, outcome: "not known", value: null, u: null, bound: null, most: false, unit: "", said: "", words: "", ...rest,
});

const against = (code, where, { value, u = 0 }, bound, rest) =>
  told(code, where, { value, u, bound, ...rest, outcome: outcomeOf(value, u, bound, rest.most ? bound - value : value - bound) });

export const atLeast = (code, where, estimate, bound, unit, said) => against(code, where, estimate, bound, { unit, said, most: false });
export const atMost = (code, where, estimate, bound, unit, said) => against(code, where, estimate, bound, { unit, said, most: true });

// Between two bounds: the one that is nearer, the least where both are as near.
export const between = (code, where, estimate, least, greatest, unit, said) =>
  estimate.value - least <= greatest - estimate.value
    ? atLeast(code, where, estimate, least, unit, said)
    : atMost(code, where, estimate, greatest, unit, said);

export const notKnown = (code, where, words) => told(code, where, { words });
export const holding = (code, where, words) => told(code, where, { outcome: "holds", words });
export const failing = (code, where, words) => told(code, where, { outcome: "fails", words });
export const stated = (code, where, { value, u = 0 }, unit, said, words = "") =>
  told(code, where, { outcome: "for information", value, u, unit, said, words });

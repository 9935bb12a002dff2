// Values that are equal when what they hold is equal, and sets and dictionaries of them.
import { LookupError } from "./errors.js";

const numbers = new WeakMap();
let counted = 0;

const numberOf = (value) => {
  if (!numbers.has(value)) {
    counted += 1;
    numbers.set(value, counted);
  }
  return numbers.get(value);
};

// Two values have one key if, and only if, they are equal.
export const keyOf = (value) => {
  if (value === null || value === undefined) return "n";
  if (typeof value !== "object") return `${typeof value}:${value}`;
  if (Array.isArray(value)) return `[${value.map((each) => JSON.stringify(keyOf(each))).join()}]`;
  const compared = value.constructor?.compared;
  if (!compared) return `o${numberOf(value)}`;
  const parts = compared.map((name) => JSON.stringify(keyOf(value[name])));
  return `k${numberOf(value.constructor)}(${parts.join()})`;
};

export const eq = (one, other) => {
  if (one === other) return true;
  if (one === null || other === null || typeof one !== "object" || typeof other !== "object") return false;
  if (one instanceof PySet && other instanceof PySet) return one.size === other.size && one.isWithin(other);
  if (one.isDay && other.isDay) return one.valueOf() === other.valueOf();
  if (Array.isArray(one)) {
    return Array.isArray(other) && one.length === other.length && one.every((each, at) => eq(each, other[at]));
  }
  const compared = one.constructor?.compared;
  return Boolean(compared) && one.constructor === other.constructor && compared.every((name) => eq(one[name], other[name]));
};

export const has = (owner, value) => {
  if (typeof owner === "string") return owner.includes(value);
  if (owner instanceof PySet || owner instanceof PyDict) return owner.contains(value);
  for (const each of owner) if (eq(each, value)) return true;
  return false;
};

export class PySet {
  constructor(values = []) {
    this.held = new Map();
    for (const value of values) this.add(value);
  }
  get size() {
    return this.held.size;
  }
  [Symbol.iterator]() {
    return this.held.values();
  }
  add(value) {
    const key = keyOf(value);
    if (!this.held.has(key)) this.held.set(key, value);
  }
  contains(value) {
    return this.held.has(keyOf(value));
  }
  isWithin(other) {
    return [...this].every((value) => other.contains(value));
  }
  isdisjoint(others) {
    return ![...others].some((value) => this.contains(value));
  }
  union(other) {
    return new PySet([...this, ...other]);
  }
  common(other) {
    return new PySet([...this].filter((value) => other.contains(value)));
  }
  without(other) {
    return new PySet([...this].filter((value) => !other.contains(value)));
  }
}

export class PyDict {
  constructor(pairs = []) {
    this.held = new Map();
    for (const [key, value] of pairs) this.set(key, value);
  }
  get size() {
    return this.held.size;
  }
  *[Symbol.iterator]() {
    for (const [key] of this.held.values()) yield key;
  }
  pairs() {
    return [...this.held.values()];
  }
  set(key, value) {
    this.held.set(keyOf(key), [key, value]);
  }
  contains(key) {
    return this.held.has(keyOf(key));
  }
  get(key, standard = null) {
    const found = this.held.get(keyOf(key));
    return found ? found[1] : standard;
  }
  item(key) {
    const found = this.held.get(keyOf(key));
    if (!found) throw LookupError(String(key));
    return found[1];
  }
}

// What Python and JavaScript do differently, for the rules that the guide translates from its own
// code: truth of empty things, equality by value, texts counted in characters, slices, methods of
// texts and lists, numbers in texts. Names are those of Python.
import { LookupError, ValueError } from "./errors.js";
import { PyDict, PySet, eq, has, keyOf } from "./values.js";
import { format, round, str } from "./figures.js";
import { IGNORECASE, ASCII, re } from "./patterns.js";
import { get_close_matches } from "./likeness.js";
import { date, decimal, timedelta, unicodedata } from "./letters.js";
import { method } from "./methods.js";

export class Keywords {
  constructor(values) {
    Object.assign(this, values);
  }
}

const keywords = (values) => new Keywords(values);

// Takes the named arguments off the end of what an outside function was given.
const parted = (values) => {
  const last = values.at(-1);
  return last instanceof Keywords ? [values.slice(0, -1), last] : [values, {}];
};

const truth = (value) => {
  if (value === null || value === undefined) return false;
  if (Array.isArray(value)) return value.length > 0;
  if (value instanceof PySet || value instanceof PyDict) return value.size > 0;
  return typeof value === "object" || typeof value === "function" ? true : Boolean(value);
};

const either = (value, other) => (truth(value) ? value : other());
const both = (value, other) => (truth(value) ? other() : value);

const names = (fields) => fields.map(([name]) => name);

// Sets the fields of a value; those that were not given have their defaults.
const fill = (made, kind, fields, values) => {
  for (const [at, [name, standard]] of fields.entries()) {
    let value = values[at];
    if (value === undefined) {
      if (!standard) throw new TypeError(`${kind} needs ${name}`);
      value = standard();
    }
    made[name] = value;
  }
};

const dress = (prototype, parts) => {
  for (const [name, code, parameters, isProperty] of parts) {
    code.parameters = parameters;
    if (isProperty) Object.defineProperty(prototype, name, { get: code });
    else Object.defineProperty(prototype, name, { value: code });
  }
};

const kind = (name, fields, parts, base, more) => {
  const start = parts.find(([part]) => part === "__init__")?.[1];
  const make = function (...values) {
    const made = Object.create(make.prototype);
    if (start) start.apply(made, values);
    else fill(made, name, fields, values);
    made.__post_init__?.();
    return made;
  };
  if (base) make.prototype = Object.create(base.prototype);
  Object.defineProperty(make.prototype, "constructor", { value: make, enumerable: false });
  make.parameters = start ? start.parameters : names(fields);
  make.compared = fields.filter(([, , isCompared]) => isCompared).map(([field]) => field);
  if (more.isPlain && !more.isTuple) make.compared = null;
  make.title = name;
  dress(make.prototype, parts);
  if (more.isTuple) {
    make.prototype[Symbol.iterator] = function* () {
      for (const field of names(fields)) yield this[field];
    };
  }
  return make;
};

const enumeration = (name, members, parts) => {
  const all = [];
  const make = (value) => {
    const found = all.find((member) => eq(member.value, value));
    if (!found) throw ValueError(`${value} is not a valid ${name}`);
    return found;
  };
  make.prototype = { constructor: make };
  dress(make.prototype, parts);
  for (const [member, value] of members) {
    const made = Object.create(make.prototype);
    Object.assign(made, { name: member, value });
    Object.defineProperty(made, "isMember", { value: name });
    make[member] = made;
    all.push(made);
  }
  make[Symbol.iterator] = () => all[Symbol.iterator]();
  make.title = name;
  return make;
};

const ordered = (code, values, named) => {
  const missing = code.parameters === undefined;
  if (missing) throw new TypeError(`${code.name} takes no names`);
  const all = [...values];
  for (const [name, value] of Object.entries(named)) {
    const at = code.parameters.indexOf(name);
    if (at < 0) throw new TypeError(`${code.name} has no ${name}`);
    all[at] = value;
  }
  return Array.from(all);
};

const called = (code, values, named) => code(...ordered(code, values, named));
const called_on = (owner, name, values, named) =>
  owner[name](...ordered(owner[name], values, named));

const isinstance = (value, kinds) => {
  if (Array.isArray(kinds)) return kinds.some((each) => isinstance(value, each));
  if (kinds === text) return typeof value === "string";
  if (kinds === int) return Number.isInteger(value);
  if (kinds === bool) return typeof value === "boolean";
  if (kinds === list || kinds === tuple) return Array.isArray(value);
  if (value === null || typeof value !== "object") return false;
  return Object.prototype.isPrototypeOf.call(kinds.prototype, value);
};

const characters = (value) => (/[\ud800-\udfff]/.test(value) ? [...value] : null);

const len = (value) => {
  if (typeof value === "string") return characters(value)?.length ?? value.length;
  if (Array.isArray(value)) return value.length;
  return value.size ?? [...value].length;
};

const at = (owner, index) => {
  if (Array.isArray(owner)) {
    const found = owner.at(index);
    if (found === undefined) throw LookupError("index out of range");
    return found;
  }
  if (typeof owner === "string") return (characters(owner) ?? owner).at(index);
  return owner.item(index);
};

const slice = (owner, low, high) => {
  const cut = (row) => row.slice(low ?? 0, high ?? row.length);
  if (typeof owner !== "string") return cut(owner);
  const parts = characters(owner);
  return parts ? cut(parts).join("") : cut(owner);
};

const put = (owner, key, value) => {
  if (Array.isArray(owner)) owner[key] = value;
  else owner.set(key, value);
};

const add = (one, other) => (Array.isArray(one) ? [...one, ...other] : plus(one, other));
const plus = (one, other) => (one?.plusDays && typeof other !== "number" ? one.plusDays(other) : one + other);

const sub = (one, other) => {
  if (typeof one === "number") return one - other;
  return one instanceof PySet ? one.without(other) : one.minus(other);
};

const mod = (one, other) => ((one % other) + other) % other;
const union = (one, other) => (typeof one === "number" ? one | other : one.union(other));
const common = (one, other) => (typeof one === "number" ? one & other : one.common(other));

// Orders numbers, texts, truths and rows of them as Python does.
const compare = (one, other) => {
  if (Array.isArray(one) && Array.isArray(other)) {
    for (const [place, value] of one.entries()) {
      if (place >= other.length) return 1;
      const found = compare(value, other[place]);
      if (found) return found;
    }
    return one.length - other.length;
  }
  return one < other ? -1 : one > other ? 1 : 0;
};

const sorted = (...given) => {
  const [[values], { key = (value) => value, reverse = false }] = parted(given);
  const marked = [...values].map((value) => [key(value), value]);
  marked.sort(([one], [other]) => (reverse ? compare(other, one) : compare(one, other)));
  return marked.map(([, value]) => value);
};

const best = (way) => (...given) => {
  const [values, { key = (value) => value, default: standard }] = parted(given);
  const all = [...(values.length === 1 ? values[0] : values)];
  if (!all.length) {
    if (standard === undefined) throw ValueError("nothing to choose from");
    return standard;
  }
  return all.reduce((held, each) => (way(compare(key(each), key(held))) ? each : held));
};

const zip = function* (...given) {
  const [rows] = parted(given);
  const lists = rows.map((row) => [...row]);
  for (const [place, value] of lists[0].entries()) yield [value, ...lists.slice(1).map((row) => row[place])];
};

const next = (source, standard) => {
  const { done, value } = source.next();
  if (!done) return value;
  if (standard === undefined) throw new Error("there is no next value");
  return standard;
};

const float = (value) => {
  if (typeof value === "number") return value;
  const number = Number(String(value).trim() || "nan");
  if (Number.isNaN(number)) throw ValueError(`could not convert to float: ${value}`);
  return number;
};

const int = (value) => Math.trunc(float(value));
const bool = (value) => truth(value);
const text = (value) => str(value);
text.maketrans = (pairs) => pairs;
const list = (values = []) => [...values];
const tuple = (values = []) => [...values];
const set = (values = []) => new PySet(values);
const dict = (pairs = []) => new PyDict(pairs);
dict.fromkeys = (keys) => new PyDict([...keys].map((key) => [key, null]));

// Shewchuk's partial sums: exact, and rounded once.
const fsum = (values) => {
  const partials = [];
  for (let x of values) {
    let kept = 0;
    for (let y of partials) {
      if (Math.abs(x) < Math.abs(y)) [x, y] = [y, x];
      const high = x + y;
      const low = y - (high - x);
      if (low) partials[kept++] = low;
      x = high;
    }
    partials.length = kept;
    partials.push(x);
  }
  return partials.reduceRight((total, part) => total + part, 0);
};

const sqrt = (value) => {
  if (!(value >= 0)) throw ValueError("math domain error");
  return Math.sqrt(value);
};

const isclose = (...given) => {
  const [[one, other], { rel_tol = 1e-9, abs_tol = 0 }] = parted(given);
  if (one === other) return true;
  const room = Math.max(rel_tol * Math.max(Math.abs(one), Math.abs(other)), abs_tol);
  return Math.abs(one - other) <= room;
};

const Fraction = (over, under = 1) => {
  if (typeof over !== "string") return over / under;
  const [top, bottom = "1"] = over.split("/");
  return Number(top) / Number(bottom);
};

const replace = (...given) => {
  const [[value], named] = parted(given);
  const { constructor } = value;
  return constructor(...constructor.parameters.map((name) => (name in named ? named[name] : value[name])));
};

export const library = {
  Fraction, IGNORECASE, LookupError, Mapping: PyDict, ValueError,
  add, at, both, called, called_on, common, date, decimal, dict, either, enumeration, eq, float,
  format, fsum, get_close_matches, has, int, isclose, isinstance, keywords, kind, len, list, method,
  mod, next, put, re, replace, round, set, slice, sorted, sqrt, sub, timedelta, truth, tuple,
  unicodedata, union, zip, bool,
  ASCII,
  str: text,
  frozenset: set,
  inf: Infinity,
  abs: Math.abs,
  hypot: Math.hypot,
  floor: Math.floor,
  isfinite: Number.isFinite,
  min: best((order) => order < 0),
  max: best((order) => order > 0),
  all: (values) => [...values].every(truth),
  any: (values) => [...values].some(truth),
  map: (code, values) => [...values].map((value) => code(value)),
  ord: (sign) => sign.codePointAt(0),
  type: (value) => value.constructor,
  getter: (owner) => (key) => at(owner, key),
  getattr: (owner, name) => owner[name],
  reversed: (values) => [...values].reverse(),
  enumerate: (values) => [...values].map((value, place) => [place, value]),
  fields: (values) => Object.fromEntries(values.pairs()),
  range: (...ends) => {
    const [low, high] = ends.length > 1 ? ends : [0, ends[0]];
    return Array.from({ length: Math.max(0, high - low) }, (_, place) => low + place);
  },
  keyOf,
};

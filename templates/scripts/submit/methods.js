// Methods of Python's texts, numbers and lists, by their names.
import { PyDict, PySet, eq } from "./values.js";

const BLANKS = " \t\n\r\v\f\u00a0\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\u1680\u0085\u001c-\u001f";
const set = (signs) => (signs === undefined ? BLANKS : signs.replace(/[\\\]^-]/g, "\\$&"));
const lstrip = (text, signs) => text.replace(new RegExp(`^[${set(signs)}]+`, "u"), "");
const rstrip = (text, signs) => text.replace(new RegExp(`[${set(signs)}]+$`, "u"), "");
const isAll = (text, test) => text !== "" && [...text].every((sign) => test.test(sign));
const split = (text, by) => (by === undefined ? text.split(/\s+/u).filter(Boolean) : text.split(by));
const three = (text, at, by) =>
  at < 0 ? null : [text.slice(0, at), by, text.slice(at + by.length)];
const strip = (text, signs) => lstrip(rstrip(text, signs), signs);
const starts = (text, heads) => [heads].flat().some((head) => text.startsWith(head));
const ends = (text, tails) => [tails].flat().some((tail) => text.endsWith(tail));

const OF_TEXT = {
  casefold: (text) => text.toLowerCase().replaceAll("ß", "ss").replaceAll("ς", "σ"),
  count: (text, part) => text.split(part).length - 1,
  encode: (text) => new TextEncoder().encode(text),
  endswith: ends,
  find: (text, part) => text.indexOf(part),
  index: (text, part) => text.indexOf(part),
  isalnum: (text) => isAll(text, /^[\p{L}\p{N}]$/u),
  isalpha: (text) => isAll(text, /^\p{L}$/u),
  isascii: (text) => /^[\0-\x7f]*$/.test(text),
  isdecimal: (text) => isAll(text, /^\p{Nd}$/u),
  isdigit: (text) => isAll(text, /^\p{Nd}$/u),
  isprintable: (text) => !/[\p{C}\p{Zl}\p{Zp}]|(?! )\p{Zs}/u.test(text),
  join: (text, parts) => [...parts].join(text),
  lower: (text) => text.toLowerCase(),
  lstrip,
  partition: (text, by) => three(text, text.indexOf(by), by) ?? [text, "", ""],
  removeprefix: (text, head) => (text.startsWith(head) ? text.slice(head.length) : text),
  removesuffix: (text, tail) => (tail && text.endsWith(tail) ? text.slice(0, -tail.length) : text),
  replace: (text, part, by) => text.replaceAll(part, () => by),
  rfind: (text, part) => text.lastIndexOf(part),
  rpartition: (text, by) => three(text, text.lastIndexOf(by), by) ?? ["", "", text],
  rstrip,
  split,
  splitlines: (text) => text.split(/\r\n|[\n\r]/),
  startswith: starts,
  strip,
  translate: (text, table) => [...text].map((sign) => table.get(sign) ?? sign).join(""),
  upper: (text) => text.toUpperCase(),
};

const OF_LIST = {
  append: (list, value) => void list.push(value),
  count: (list, value) => list.filter((each) => eq(each, value)).length,
  extend: (list, values) => void list.push(...values),
  index: (list, value) => list.findIndex((each) => eq(each, value)),
  insert: (list, at, value) => void list.splice(at, 0, value),
};

const OF_DICT = {
  get: (dict, key, standard) => dict.get(key, standard),
  items: (dict) => dict.pairs(),
  keys: (dict) => [...dict],
  values: (dict) => dict.pairs().map(([, value]) => value),
};

const OF_NUMBER = { is_integer: (number) => Number.isInteger(number) };

const tableOf = (owner) => {
  if (typeof owner === "string") return OF_TEXT;
  if (typeof owner === "number") return OF_NUMBER;
  if (Array.isArray(owner)) return OF_LIST;
  return owner instanceof PyDict ? OF_DICT : null;
};

export const method = (owner, name, values) => {
  const table = tableOf(owner);
  if (!table || owner instanceof PySet) return owner[name](...values);
  const code = table[name];
  if (!code) throw new TypeError(`no method ${name}`);
  return code(owner, ...values);
};

// What is tried, to and from the address. Whatever the address holds is data: what is not understood
// or out of range is left out and said so. Lengths are in mm there, angles in degrees, rims in inches.
import { Misread, tyreSizeOf } from "./fit/tyre_size.js";

const LONGEST = 4000;
const SLUG = /^[a-z0-9][a-z0-9-]{0,99}$/;
const NUMBER = /^-?(\d{1,4}(\.\d{1,4})?|\.\d{1,4})$/;
const LETTERS = { f: "front", r: "rear" };

export const blank = () => ({ start: "stock", front: {}, rear: {} });

// A value for a field, or undefined where the text is none.
export const valueOf = (field, text) => {
  if (field.kind === "word") return field.options.includes(text) ? text : undefined;
  if (field.kind === "tyre") {
    try {
      return text.length <= 60 ? tyreSizeOf(text).words : undefined;
    } catch (trouble) {
      if (trouble instanceof Misread) return undefined;
      throw trouble;
    }
  }
  if (!NUMBER.test(text)) return undefined;
  const value = Number(text);
  return value >= field.low && value <= field.high ? value : undefined;
};

export const readAddress = (search, fields, starts) => {
  const state = blank();
  const notes = [];
  if (search.length > LONGEST) {
    return { state, notes: ["The address is longer than any this page makes; nothing was taken from it."] };
  }
  let left = 0;
  for (const [key, value] of new URLSearchParams(search)) {
    if (key === "units") continue;
    if (key === "start") {
      if (value === "stock" || value === "nothing" || (SLUG.test(value) && starts.includes(value))) {
        state.start = value;
      } else left += 1;
      continue;
    }
    const end = Object.hasOwn(LETTERS, key[0]) && key[1] === "." ? LETTERS[key[0]] : null;
    const field = end && fields.find((each) => each.key === key.slice(2));
    const isHere = field && !(field.frontOnly && end === "rear");
    const read = isHere ? valueOf(field, value) : undefined;
    if (read === undefined) left += 1;
    else state[end][field.key] = read;
  }
  if (left) notes.push("Part of the address was not understood or out of range, and was left out.");
  return { state, notes };
};

export const writeAddress = (state, fields) => {
  const parts = new URLSearchParams();
  if (state.start !== "stock") parts.set("start", state.start);
  for (const [letter, end] of Object.entries(LETTERS)) {
    for (const { key } of fields) {
      const value = state[end][key];
      if (value !== undefined && value !== null) parts.set(`${letter}.${key}`, String(value));
    }
  }
  const units = new URLSearchParams(location.search).get("units");
  if (units === "metric" || units === "inch" || units === "both") parts.set("units", units);
  const text = parts.toString();
  return text ? "?" + text : location.pathname;
};

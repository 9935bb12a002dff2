// What the reader asked of Find, to and from the address. Whatever the address holds is data: what
// is not understood is left out and said so.
import { END_WAYS, SORTS } from "./engine.js";

const LONGEST = 4000;
const MOST_COMPARED = 4;
const ID = /^[a-z0-9-]{1,100}\/[a-z0-9-]{1,100}$/;
const LIMITS = /^(-?\d{1,4}(?:\.\d{1,3})?)?\.\.(-?\d{1,4}(?:\.\d{1,3})?)?$/;
const OTHERS = new Set(["units"]);

export const blank = () => ({
  words: "",
  choices: {},
  ranges: {},
  end: "either",
  sort: "newest",
  page: 1,
  picked: [],
});

const readLimits = (text, notes) => {
  const match = LIMITS.exec(text);
  if (!match || text === "..") return null;
  const [low, high] = [match[1], match[2]].map((part) => (part === undefined ? null : Number(part)));
  if (low !== null && high !== null && low > high) {
    notes.add("The limits of a number stood the wrong way round and were swapped.");
    return [high, low];
  }
  return [low, high];
};

const oneOf = (words) => (state, key, value) => {
  if (!words.includes(value)) return false;
  state[key] = value;
  return true;
};

const PLAIN = {
  words: (state, _, value) => {
    state.words = value.slice(0, 200);
    return true;
  },
  end: oneOf(END_WAYS),
  sort: oneOf(SORTS),
  page: (state, _, value) => {
    if (!/^[1-9]\d{0,4}$/.test(value)) return false;
    state.page = Number(value);
    return true;
  },
};

const take = (state, data, key, value, notes) => {
  if (Object.hasOwn(PLAIN, key)) return PLAIN[key](state, key, value);
  if (key === "pick") {
    const isNew = ID.test(value) && !state.picked.includes(value);
    if (isNew && state.picked.length < MOST_COMPARED) state.picked.push(value);
    return isNew;
  }
  const choice = data.choices.find((each) => each.key === key);
  if (choice) {
    const chosen = (state.choices[key] ??= []);
    const isNew = choice.ids.includes(value) && !chosen.includes(value);
    if (isNew) chosen.push(value);
    return isNew;
  }
  const limits = data.ranges.some((each) => each.key === key) ? readLimits(value, notes) : null;
  if (limits) state.ranges[key] = limits;
  return limits !== null;
};

export const readAddress = (search, data) => {
  const state = blank();
  const notes = new Set();
  if (search.length > LONGEST) {
    notes.add("The address is longer than any this page makes; nothing was taken from it.");
    return { state, notes: [...notes] };
  }
  let left = 0;
  for (const [key, value] of new URLSearchParams(search)) {
    if (!OTHERS.has(key) && !take(state, data, key, value, notes)) left += 1;
  }
  if (left) notes.add("Part of the address was not understood and was left out.");
  return { state, notes: [...notes] };
};

export const writeAddress = (state) => {
  const parts = new URLSearchParams();
  if (state.words) parts.set("words", state.words);
  for (const [key, ids] of Object.entries(state.choices)) {
    for (const id of ids) parts.append(key, id);
  }
  for (const [key, limits] of Object.entries(state.ranges)) {
    parts.set(key, limits.map((limit) => (limit === null ? "" : String(limit))).join(".."));
  }
  if (state.end !== "either") parts.set("end", state.end);
  if (state.sort !== "newest") parts.set("sort", state.sort);
  if (state.page > 1) parts.set("page", String(state.page));
  for (const id of state.picked) parts.append("pick", id);
  const units = new URLSearchParams(location.search).get("units");
  if (units === "metric" || units === "inch" || units === "both") parts.set("units", units);
  const text = parts.toString();
  return text ? "?" + text : location.pathname;
};

// The answer of a number field: a number, null for nothing, or what to type instead.
export const readNumber = (text) => {
  const bare = text.trim().replace("\u2212", "-").replace(/^\+/, "");
  if (bare === "") return { value: null };
  if (/^-?\d{1,4},\d{1,3}$/.test(bare)) {
    const typed = bare.replace(",", ".");
    return { told: "write " + typed + " with a point, if that is meant" };
  }
  if (!/^-?(\d{1,4}(\.\d{0,3})?|\.\d{1,3})$/.test(bare)) return { told: "write a number such as 7.5" };
  return { value: Number(bare) };
};

// The fields of a trial: what stands in them, how it is read, and what a press of a key adds.
import { readNumber } from "./find_state.js";
import { MM_PER_INCH, isInch } from "./numbers.js";
import { valueOf } from "./try_state.js";
import { fitOf } from "./fit/verdict.js";
import { tyreSizeOf } from "./fit/tyre_size.js";

const ENDS = ["front", "rear"];
// In inches a press adds a handy part of one: for 1, 2 and 5 mm.
const INCH_STEPS = { 1: 0.05, 2: 0.1, 5: 0.25 };

const first = (value) => (Array.isArray(value) ? value[0] : (value ?? null));

// What an end has for a field before anything is changed.
const startValue = (fitted, key) => {
  if (!fitted) return null;
  const { wheel, tyre, stop, body } = fitted;
  const known = {
    width: wheel.width,
    diameter: wheel.diameter,
    // As it was written; worked out only where it follows from other lengths.
    offset: () =>
      first(wheel.offsetMeasured) ?? first(wheel.offset) ?? fitOf(fitted).wheel?.offset.value,
    spacer: first(fitted.spacer) ?? 0,
    tyre: tyre.size,
    sectionWidth: first(tyre.sectionWidth),
    treadWidth: first(tyre.treadWidth),
    tyreDiameter: first(tyre.diameter),
    stop: stop?.state,
    trimmed: stop?.trimmed,
    spaced: stop?.spaced,
    lips: body?.lips,
    lipsGained: body?.lipsGained,
  };
  const value = key in known ? known[key] : fitted[key];
  return (typeof value === "function" ? value() : value) ?? null;
};

const isLengthInInches = (field) => field.kind === "length" && isInch();

const shownText = (field, value) => {
  if (value === null || value === undefined) return "";
  if (typeof value !== "number") return String(value);
  const shown = Math.round(value * 100) / 100;
  return String(isLengthInInches(field) ? Math.round((shown / MM_PER_INCH) * 1000) / 1000 : shown);
};

const fieldOf = (trial, input) => {
  const at = input.id.indexOf("-");
  const end = input.id.slice(0, at);
  const field = trial.facts.fields.find(({ key }) => key === input.id.slice(at + 1));
  return field && ENDS.includes(end) ? { end, field } : null;
};

export const fillFields = (trial) => {
  trial.element.querySelector("#start").value = trial.state.start;
  for (const unit of trial.element.querySelectorAll("[data-unit-of=length]")) {
    unit.textContent = isInch() ? "in" : "mm";
  }
  for (const end of ENDS) {
    const base = trial.base(end);
    for (const field of trial.facts.fields) {
      const input = document.getElementById(`${end}-${field.key}`);
      if (!input) continue;
      const own = trial.state[end][field.key];
      input.value = field.kind === "word" ? (own ?? "") : shownText(field, own ?? startValue(base, field.key));
      if (field.kind === "word") input.options[0].text = `as it starts${startWords(base, field.key)}`;
      tell(input, "");
    }
  }
  trial.misread.clear();
};

const startWords = (base, key) => {
  const value = startValue(base, key);
  return value === null ? "" : `: ${value}`;
};

// What is judged stands in a field when it is left, also where it was emptied; what cannot be read
// stays as it was typed.
export const tidyField = (trial, input) => {
  const found = fieldOf(trial, input);
  if (!found || found.field.kind === "word" || trial.misread.has(input.id)) return;
  const { end, field } = found;
  input.value = shownText(field, trial.state[end][field.key] ?? startValue(trial.base(end), field.key));
};

const FIRST = ["width", "diameter", "offset", "spacer", "tyre"];

// What makes the rear like the front: wheel, spacer and tyre, and what else was changed there.
export const frontForRear = (trial) => {
  const { shim, ...change } = trial.state.front;
  for (const key of FIRST) {
    const front = trial.state.front[key] ?? startValue(trial.base("front"), key);
    const isAlike = front === startValue(trial.base("rear"), key);
    if (front === null || isAlike) change[key] = undefined;
    else change[key] = front;
  }
  return change;
};

const tell = (input, words) => {
  const error = document.getElementById(`${input.id}-error`);
  error.hidden = !words;
  error.querySelector("span").textContent = words;
  if (words) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
};

const UNITS = { angle: "degrees", inches: "in" };
const unitOf = (field) => UNITS[field.kind] ?? (isInch() ? "in" : "mm");

// The largest and the least that is taken, rounded inwards.
const rangeWords = (field) => {
  const share = isLengthInInches(field) ? MM_PER_INCH : 1;
  const places = isLengthInInches(field) ? 100 : field.kind === "length" ? 1 : 100;
  const [low, high] = [Math.ceil((field.low / share) * places) / places, Math.floor((field.high / share) * places) / places];
  const [from, to] = [low, high].map((value) => String(value).replace("-", "\u2212"));
  return `outside ${from} to ${to} ${unitOf(field)}, where the guide can say something`;
};

// A number may have its unit behind it; a length may be in the other unit.
const WITH_UNIT = /^(.*?)\s*(mm|in|"|\u2033|deg|\u00b0)$/i;
const SHARES = { mm: 1, in: MM_PER_INCH, '"': MM_PER_INCH, "\u2033": MM_PER_INCH };

const apart = (field, text) => {
  const found = WITH_UNIT.exec(text.trim());
  const own = isLengthInInches(field) ? MM_PER_INCH : 1;
  if (!found) return { bare: text, share: own };
  const unit = found[2].toLowerCase();
  const isAngle = !(unit in SHARES);
  if (field.kind === "length" && !isAngle) return { bare: found[1], share: SHARES[unit] };
  const isOwn = field.kind === "angle" ? isAngle : field.kind === "inches" && !isAngle && unit !== "mm";
  return isOwn ? { bare: found[1], share: 1 } : { bare: text, share: own };
};

const read = (field, text) => {
  if (field.kind === "word") return { value: text || null };
  if (field.kind === "tyre") {
    if (!text.trim()) return { value: null };
    const value = valueOf(field, text.trim());
    return value === undefined ? { told: "write a tyre size such as 205/55 R 16" } : { value };
  }
  const { bare, share } = apart(field, text);
  const { value, told } = readNumber(bare);
  if (told) return { told: told.replace("7.5", `7.5, in ${unitOf(field)}`) };
  if (value === null) return bare === text ? { value } : { told: `write a number such as 7.5, in ${unitOf(field)}` };
  const scaled = value * share;
  if (!(scaled >= field.low && scaled <= field.high)) return { told: rangeWords(field) };
  return { value: Math.round(scaled * 1e4) / 1e4 };
};

// Take a field's answer into the state; gives the end that is to be judged again, or null.
export const readField = (trial, input) => {
  const found = fieldOf(trial, input);
  if (!found) return null;
  const { end, field } = found;
  const { value, told } = read(field, input.value);
  tell(input, told || "");
  trial.misread.delete(input.id);
  if (told) {
    // What cannot be read counts no longer, nor what stood there before.
    trial.misread.add(input.id);
    delete trial.state[end][field.key];
    return end;
  }
  const before = startValue(trial.base(end), field.key);
  const isBefore = value !== null && shownText(field, value) === shownText(field, before);
  if (value === null || isBefore) delete trial.state[end][field.key];
  else trial.state[end][field.key] = value;
  return end;
};

const nextTyre = (text, way) => {
  const size = tyreSizeOf(text);
  if (size.form !== "metric") return null;
  return `${size.width + 10 * way}/${size.aspect} R ${size.rimCode}`;
};

// One press of a key or button; gives the end, or null where there is nothing to step.
export const stepField = (trial, input, times) => {
  const found = input && fieldOf(trial, input);
  if (!found || found.field.kind === "word") return null;
  const { end, field } = found;
  const now = trial.state[end][field.key] ?? startValue(trial.base(end), field.key);
  if (field.kind === "tyre") {
    const next = now && nextTyre(now, Math.sign(times));
    if (!next || valueOf(field, next) === undefined) return null;
    input.value = next;
    return readField(trial, input);
  }
  const inches = isLengthInInches(field);
  const step = inches ? (INCH_STEPS[field.step] ?? 0.05) * MM_PER_INCH : field.step;
  const from = typeof now === "number" ? now : Math.min(Math.max(0, field.low), field.high);
  const value = Math.min(Math.max(from + times * step, field.low), field.high);
  input.value = shownText(field, value);
  return readField(trial, input);
};

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
      tell(input, "");
    }
  }
};

const tell = (input, words) => {
  const error = document.getElementById(`${input.id}-error`);
  error.hidden = !words;
  error.querySelector("span").textContent = words;
  if (words) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
};

const rangeWords = (field) =>
  `outside ${shownText(field, field.low)} to ${shownText(field, field.high)}, where the guide can say something`;

const read = (field, text) => {
  if (field.kind === "word") return { value: text || null };
  if (field.kind === "tyre") {
    if (!text.trim()) return { value: null };
    const value = valueOf(field, text.trim());
    return value === undefined ? { told: "write a tyre size such as 205/55 R 16" } : { value };
  }
  const { value, told } = readNumber(text);
  if (told) return { told };
  if (value === null) return { value };
  const scaled = isLengthInInches(field) ? value * MM_PER_INCH : value;
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
  if (told) return null;
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

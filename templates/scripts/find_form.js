// The form of Find: what the reader asks, with lengths in the reader's own unit, and beside each
// choice how many setups it would leave.
import { blank, readNumber } from "./find_state.js";
import { MM_PER_INCH, figure, isInch } from "./numbers.js";

const SIDES = ["from", "to"];

export const inReaders = (range, value) => {
  if (value === null) return "";
  const shown = range.unit === "mm" && isInch() ? value / MM_PER_INCH : value;
  return String(Number(shown.toFixed(3)));
};

const inGuides = (range, value) =>
  value !== null && range.unit === "mm" && isInch()
    ? Number((value * MM_PER_INCH).toFixed(2))
    : value;

export const unitOf = (range) => (range.unit === "mm" && isInch() ? "in" : range.unit);

export class Form {
  constructor(element, data, part) {
    this.element = element;
    this.data = data;
    this.part = part;
    this.inputs = new Map(
      data.choices.map((choice) => [
        choice.key,
        new Map(
          [...element.querySelectorAll(`input[name="${choice.key}"]`)].map((each) => [
            each.value,
            { input: each, count: each.parentElement.querySelector(".choices-count") },
          ]),
        ),
      ]),
    );
  }

  // Puts the state into the form.
  fill(state) {
    const { words, end, sort } = this.element.elements;
    if (words.value !== state.words) words.value = state.words;
    end.value = state.end;
    sort.value = state.sort;
    for (const [key, options] of this.inputs) {
      const chosen = state.choices[key] || [];
      for (const [id, { input }] of options) input.checked = chosen.includes(id);
      if (chosen.length) this.part(key).open = true;
    }
    for (const range of this.data.ranges) {
      const limits = state.ranges[range.key] || [null, null];
      for (const [at, name] of SIDES.entries()) {
        const input = this.element.elements[`${range.key}-${name}`];
        input.value = inReaders(range, limits[at]);
        this.fault(input, "");
      }
      for (const unit of this.part(range.key).querySelectorAll(".field-unit")) {
        unit.textContent = unitOf(range);
      }
      if (state.ranges[range.key]) this.part(range.key).open = true;
    }
  }

  // Takes the state from the form; a number that cannot be read limits nothing.
  read() {
    const { words, end, sort } = this.element.elements;
    const state = blank();
    state.words = words.value.slice(0, 200);
    state.end = end.value;
    state.sort = sort.value;
    for (const [key, options] of this.inputs) {
      const chosen = [...options].filter(([, each]) => each.input.checked).map(([id]) => id);
      if (chosen.length) state.choices[key] = chosen;
    }
    const notes = [];
    for (const range of this.data.ranges) {
      const limits = SIDES.map((name) => this.limit(range, name));
      if (limits[0] !== null && limits[1] !== null && limits[0] > limits[1]) {
        limits.reverse();
        notes.push(`${range.label}: the limits stand the wrong way round and were swapped.`);
      }
      if (limits[0] !== null || limits[1] !== null) state.ranges[range.key] = limits;
    }
    return { state, notes };
  }

  limit(range, name) {
    const input = this.element.elements[`${range.key}-${name}`];
    const { value = null, told = "" } = readNumber(input.value);
    this.fault(input, told);
    return inGuides(range, value);
  }

  fault(input, told) {
    const line = this.element.querySelector(`#${input.id}-error`);
    if (line.hidden && !told) return;
    line.hidden = !told;
    line.lastElementChild.textContent = told;
    input.toggleAttribute("aria-invalid", Boolean(told));
    input.closest(".field").classList.toggle("has-error", Boolean(told));
  }

  count(counts) {
    for (const [at, choice] of this.data.choices.entries()) {
      const options = this.inputs.get(choice.key);
      for (const [place, id] of choice.ids.entries()) {
        const { count, input } = options.get(id);
        const text = `(${figure(counts[at][place], 0)})`;
        if (count.textContent !== text) count.textContent = text;
        const isIdle = counts[at][place] === 0 && !input.checked;
        input.parentElement.classList.toggle("is-idle", isIdle);
      }
    }
  }
}

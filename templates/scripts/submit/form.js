// The form, made from the fields of a record: labels, help, units, ranges and examples stand in
// the declarations of the fields and nowhere else.
import { make } from "../numbers.js";
import { at, keyed } from "./record.js";

const shownName = (name) => {
  const words = name.replaceAll("_", " ");
  return words[0].toUpperCase() + words.slice(1);
};

// So many optional values stand open beside those that are needed; the rest is folded, unless
// folding would save too few lines to be worth a press.
const SHOWN_OPTIONAL = 3;
const FEWEST_FOLDED = 3;

// What is open at first: the car and who measured it, and one end; the rest is a press away.
const OPEN_AT_FIRST = ["[\"about\"]", "[\"front\"]"];

export const idOf = (route) => `field-${route.join("-")}`;

// What help says more than the name does: neither the name alone nor the name before a comma.
const one = (words) => words.toLowerCase().replace(/^the /, "").replace(/( end|s)$/, "");
const helpOf = ({ name, isList, declared: { help } }) => {
  const [head, ...rest] = help.split(/(?<=[,:]) /);
  if (!isList && one(head.slice(0, -1)) === one(shownName(name)) && rest.length) return rest.join(" ");
  return one(help) === one(shownName(name)) ? "" : help;
};

// The kind of a value, as far as name and help do not say it: of a length that is called one, its
// units; of words that are called what they are, nothing.
const kindOf = ({ kind, name }, help) => {
  const told = `${shownName(name)} ${help}`.toLowerCase();
  const isTold = (words) => words.toLowerCase().match(/[^\s,:]+/g).every((word) => told.includes(word));
  if (kind === "one line of text" || kind === "name" || isTold(kind)) return "";
  const [, what, rest] = /^(.+?)((?: in|:) .+)$/.exec(kind) ?? [null, kind, ""];
  if (rest && isTold(what)) return rest.replace(/^[ :]+/, "");
  return rest && isTold(rest) ? what : kind;
};

const said = (help) => (help ? [make("p", { class: "field-hint" }, help)] : []);

// How many single values there are in a part of a record.
const leaves = (value) => {
  if (value === undefined || value === null) return 0;
  if (typeof value === "string") return value.trim() ? 1 : 0;
  return Object.values(value).reduce((sum, each) => sum + leaves(each), 0);
};

// What tells one item of a list from another.
const itemWords = (item) => {
  const said = ["site", "where", "axle", "side", "state", "file", "kind"].map((name) => item?.[name]);
  return said.filter((each) => typeof each === "string" && each && each !== "both").join(", ");
};

const hint = (field) => {
  const { usual, example } = field.declared;
  const help = helpOf(field);
  const parts = help ? [help] : [];
  const isWritten = !field.inner && !field.choices.length && field.kind !== "yes or no";
  const kind = isWritten ? kindOf(field, field.declared.help) : "";
  if (kind) parts.push(kind);
  if (usual) parts.push(`usually ${usual[0]} to ${usual[1]}${field.unit ? ` ${field.unit}` : ""}`);
  if (example && isWritten) parts.push(`such as ${example}`);
  // A number stays with its unit.
  return parts.join("; ").replace(/(\d) (?=[^\s;]+(?:;|$))/g, "$1\u00a0");
};

export class Form {
  // `ask` gives words to choose from for a field, such as the sites of the sheet.
  constructor(definitions, place, ask) {
    this.models = definitions.models;
    this.later = new Set(definitions.later);
    this.place = place;
    this.ask = ask;
    this.opened = new Set(OPEN_AT_FIRST);
    this.entries = new Map();
    this.folds = [];
  }

  render(record) {
    const focused = document.activeElement?.id;
    this.record = record;
    this.entries.clear();
    this.folds = [];
    const fields = this.models.Setup.fields.filter((field) => !this.later.has(field.name));
    const plain = fields.filter((field) => field.name !== "chassis" && !field.inner && !field.isList && field.reader.split(".").at(-1) !== "read_prose");
    const rest = fields.filter((field) => field.name !== "chassis" && !plain.includes(field));
    this.place.replaceChildren(
      this.section({ key: keyed(["about"]), names: plain.map((field) => field.name) }, "About", "the car, and who measured it", [this.values(plain, [])]),
      ...rest.map((field) => this.top(field)),
    );
    if (focused) document.getElementById(focused)?.focus();
  }

  // A part of the record under its heading, folded; what is in it is counted beside the heading.
  section(fold, title, about, parts) {
    const id = `part-${title.toLowerCase().replaceAll(" ", "-")}`;
    const details = this.fold(fold, [make("h2", { id }, title)], make("div", {}, ...said(about), ...parts));
    details.className = "submit-fold";
    return make("section", { class: "submit-part", "aria-labelledby": id }, details);
  }

  top(field) {
    const route = [field.name];
    const title = shownName(field.name);
    const fold = { key: keyed(route), route };
    if (field.isList || !field.inner) return this.section(fold, title, helpOf(field), [this.entry(field, route, true)]);
    const parts = [this.group(field.inner, route)];
    if (field.name === "rear") {
      parts.unshift(make("p", {}, make("button", { type: "button", class: "button", "data-do": "same" }, "Same as the front")));
    }
    return this.section(fold, title, helpOf(field), parts);
  }

  // A group: what it cannot do without, its single values side by side, then what it may have.
  group(name, route) {
    const { fields } = this.models[name];
    const single = fields.filter((field) => !field.inner);
    const groups = (isRequired) =>
      fields
        .filter((field) => field.inner && !field.isList && field.isRequired === isRequired)
        .map((field) => this.inner(field, [...route, field.name]));
    const grid = single.length ? [this.values(single, route)] : [];
    return make("div", { class: "submit-group" }, ...groups(true), ...grid, ...groups(false));
  }

  // Single values: those that are needed first, then the usual ones, then the rest in a fold.
  values(fields, route) {
    const optional = fields.filter((field) => !field.isRequired);
    const rest = optional.slice(SHOWN_OPTIONAL);
    const isFolded = rest.length >= FEWEST_FOLDED;
    const shown = [...fields.filter((field) => field.isRequired), ...(isFolded ? optional.slice(0, SHOWN_OPTIONAL) : optional)];
    const parts = [this.grid(shown, route), ...(isFolded ? [this.folded(rest, route)] : [])];
    return make("div", { class: "submit-group" }, ...parts);
  }

  folded(fields, route) {
    const names = fields.map((field) => field.name);
    const about = make("span", { class: "field-hint" }, names.map((name) => name.replaceAll("_", " ")).join(", "));
    const fold = this.fold({ key: keyed([...route, "more"]), route, names }, ["More ", about], this.grid(fields, route));
    fold.className = "submit-inner";
    return fold;
  }

  // key: by which it stays open or shut; route: of what is in it, names: the fields of that which are.
  fold({ key, route = [], names = null }, head, body) {
    const count = make("span", { class: "submit-count" });
    const details = make("details", { open: this.opened.has(key) }, make("summary", {}, ...head, "\u00a0", count), body);
    details.addEventListener("toggle", () => this.opened[details.open ? "add" : "delete"](key));
    this.folds.push({ details, count, route, names });
    return details;
  }

  // Says beside every fold how much is filled in there, what is missing, and what is to be mended.
  count(record, faults) {
    for (const { count, details, route, names } of this.folds) {
      const isHere = (where) => route.every((step, at) => where[at] === step) && (!names || names.includes(where[route.length]));
      const held = names ? names.map((name) => at(record, [...route, name])) : [at(record, route)];
      const number = held.reduce((sum, each) => sum + leaves(each), 0);
      const here = faults.filter(({ shown, missing }) => isHere(missing ? [...shown, missing] : shown));
      const needed = here.filter(({ code }) => code === "F01").length;
      const wrong = here.filter(({ code, severity }) => code !== "F01" && severity === "error").length;
      const odd = here.filter(({ severity }) => severity === "warning").length;
      const words = [[number, "filled"], [needed, "needed"], [wrong, "to mend"], [odd, "to look at"]];
      const told = words.filter(([many]) => many).map(([many, word]) => `${many} ${word}`).join(", ") || "empty";
      if (count.textContent !== told) count.textContent = told;
      details.classList.toggle("has-faults", wrong > 0);
    }
  }

  grid(fields, route) {
    return make("div", { class: "submit-grid" }, ...fields.map((field) => this.entry(field, [...route, field.name])));
  }

  inner(field, route) {
    const title = shownName(field.name);
    const body = this.group(field.inner, route);
    if (field.isRequired) {
      return make("fieldset", { class: "submit-inner" }, make("legend", {}, title), ...said(helpOf(field)), body);
    }
    const help = helpOf(field);
    const about = help ? [" ", make("span", { class: "field-hint" }, help)] : [];
    const fold = this.fold({ key: keyed(route), route }, [title, ...about], body);
    fold.className = "submit-inner";
    return fold;
  }

  entry(field, route, isTop = false) {
    if (field.isList && field.choices.length) return this.ticks(field, route);
    if (field.isList) return this.list(field, route, isTop);
    return this.single(field, route, shownName(field.name), hint(field));
  }

  single(field, route, label, help) {
    const id = idOf(route);
    const value = at(this.record, route);
    const control = this.control(field, id, typeof value === "string" ? value : "");
    control.dataset.route = keyed(route);
    const error = make("div", { class: "submit-faults", id: `${id}-faults` });
    control.setAttribute("aria-describedby", `${id}-hint ${id}-faults`);
    if (field.isRequired) control.setAttribute("aria-required", "true");
    const wrap = make(
      "div",
      { class: "field" },
      make("label", { for: id }, label, ...(field.isRequired ? [" ", make("span", { class: "submit-needed" }, "needed")] : [])),
      make("p", { class: "field-hint", id: `${id}-hint` }, help),
      control,
      error,
    );
    this.entries.set(keyed(route), { control, error, wrap, field });
    return wrap;
  }

  control(field, id, value) {
    const base = { id, autocomplete: "off", spellcheck: "false" };
    const words = field.choices.length ? field.choices : field.kind === "yes or no" ? ["yes", "no"] : [];
    if (words.length) {
      const odd = value && !words.includes(value) ? [value] : [];
      const options = ["", ...words, ...odd].map((word) => make("option", { value: word, selected: word === value }, word || "not said"));
      const select = make("select", base, ...options);
      select.value = value;
      return select;
    }
    if (field.kind.startsWith("longer text")) {
      const area = make("textarea", { ...base, rows: 8, spellcheck: "true" });
      area.value = value;
      return area;
    }
    const known = this.ask(field.name);
    const list = known.length ? `known-${field.name}` : null;
    if (list && !document.getElementById(list)) {
      this.place.after(make("datalist", { id: list }, ...known.map((word) => make("option", { value: word }))));
    }
    const input = make("input", { ...base, type: "text", list });
    input.value = value;
    return input;
  }

  ticks(field, route) {
    const chosen = at(this.record, route);
    const has = (word) => Array.isArray(chosen) && chosen.includes(word);
    return make(
      "fieldset",
      { class: "choices submit-ticks" },
      make("legend", {}, shownName(field.name)),
      ...field.choices.map((word, place) =>
        make("label", {}, make("input", { type: "checkbox", id: `${idOf(route)}-${place}`, value: word, checked: has(word), "data-tick": keyed(route), autocomplete: "off" }), make("span", {}, word)),
      ),
    );
  }

  list(field, route, isTop) {
    const items = at(this.record, route) ?? [];
    const one = shownName(field.name).replace(/ies$/, "y").replace(/s$/, "").toLowerCase();
    const rows = items.map((item, place) => {
      const there = [...route, place];
      const label = `${one} ${place + 1}`;
      const body = field.inner ? this.grid(this.models[field.inner].fields, there) : this.single(field, there, label[0].toUpperCase() + label.slice(1), hint(field));
      const title = label[0].toUpperCase() + label.slice(1);
      const remove = make("button", { type: "button", class: "button", "data-do": "remove", "data-at": keyed(there) }, `Remove ${label}`);
      if (!field.inner) return make("li", { class: "submit-item" }, body, remove);
      const about = make("span", { class: "field-hint" }, itemWords(item));
      const fold = this.fold({ key: keyed(there), route: there }, [make("h3", {}, title), " ", about], body);
      fold.className = "submit-inner";
      return make("li", { class: "submit-item" }, fold, remove);
    });
    const add = make("button", { type: "button", class: "button", id: `${idOf(route)}-add`, "data-do": "add", "data-at": keyed(route), "data-group": field.inner ?? "" }, field.inner ? `Add a ${one}` : `Add a line to ${field.name.replaceAll("_", " ")}`);
    const extra = field.name === "gaps" ? [" ", make("button", { type: "button", class: "button", "data-do": "sites" }, "Add a line for each site of the sheet")] : [];
    return make(
      "div",
      { class: "submit-list" },
      ...(isTop ? [] : [make("p", { class: "submit-label" }, shownName(field.name)), make("p", { class: "field-hint" }, hint(field))]),
      make("ol", { class: "plain" }, ...rows),
      make("p", { class: "row" }, add, ...extra),
    );
  }

  // Names an item of a list by its number and by what tells it from another.
  itemName(route) {
    const words = itemWords(at(this.record, route));
    return `${route.at(-1) + 1}${words ? ` (${words})` : ""}`;
  }

  // Finds the entry of a route, or the nearest one above or inside it.
  near(route) {
    for (let end = route.length; end > 0; end -= 1) {
      const found = this.entries.get(keyed(route.slice(0, end)));
      if (found) return found;
    }
    const head = keyed(route).slice(0, -1);
    const inside = [...this.entries.keys()].find((key) => key.startsWith(`${head},`));
    if (inside) return this.entries.get(inside);
    return route.length > 1 ? this.near(route.slice(0, -1)) : null;
  }
}

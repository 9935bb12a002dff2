// Find: words, choices and limits over all setups of the guide. The form (find_form.js) holds what
// the reader asks, the address repeats it, and the table shows one page of what was found.
import { prepare, search } from "./engine.js";
import { Form, inReaders, unitOf } from "./find_form.js";
import { resultRow } from "./find_rows.js";
import { blank, readAddress, writeAddress } from "./find_state.js";
import { figure, make, plural } from "./numbers.js";
import { hits, wanted } from "./words.js";

const MOST_COMPARED = 4;
const QUIET = 300;
const FIRST_ROWS = 3;

const load = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(address + ": " + answer.status);
  return answer.json();
};

// What the reader looks at is painted first; all else follows in a task of its own.
const afterPaint = (act) => requestAnimationFrame(() => setTimeout(act));

class Find {
  constructor(element, data) {
    this.element = element;
    this.data = data;
    this.rows = null;
    this.texts = null;
    const parts = new Map(
      [...element.querySelectorAll("[data-part]")].map((each) => [each.dataset.part, each]),
    );
    this.part = (name) => parts.get(name);
    this.form = new Form(element.querySelector("form"), data, this.part);
    this.templates = new Map(
      [...element.querySelectorAll("template")].map((each) => [each.dataset.word, each]),
    );
    this.state = blank();
  }

  begin() {
    const { element } = this.form;
    element.addEventListener("submit", (event) => event.preventDefault());
    element.addEventListener("input", (event) => this.asked(event));
    element.addEventListener("reset", (event) => {
      event.preventDefault();
      this.drop({ ...blank(), picked: this.state.picked, sort: this.state.sort });
    });
    element.addEventListener("focusin", () => this.need());
    this.part("table").addEventListener("change", (event) => this.picked(event));
    this.element.addEventListener("click", (event) => this.clicked(event));
    addEventListener("popstate", () => this.fromAddress());
    document.addEventListener("gapbook:units", () => this.fill());
    const isPlain = [...new URLSearchParams(location.search).keys()].every((key) => key === "units");
    if (isPlain) this.fill();
    else this.fromAddress();
    this.element.dataset.ready = "";
  }

  fromAddress() {
    const { state, notes } = readAddress(location.search, this.data);
    this.state = state;
    this.fill();
    this.tell(notes);
    this.show();
  }

  fill() {
    this.form.fill(this.state);
  }

  tell(notes) {
    const place = this.part("notes");
    place.hidden = notes.length === 0;
    place.replaceChildren(...notes.map((note) => make("p", {}, note)));
  }

  asked(event) {
    const { state, notes } = this.form.read();
    this.state = { ...state, picked: this.state.picked };
    this.tell(notes);
    const isTyping = event.target.type === "text" || event.target.type === "search";
    // One step back undoes a whole word, not its last letter.
    this.go(isTyping && this.typedIn === event.target);
    this.typedIn = isTyping ? event.target : null;
  }

  drop(state) {
    this.state = state;
    this.typedIn = null;
    this.fill();
    this.tell([]);
    this.go(false);
  }

  go(isSameStep) {
    this.show();
    const address = writeAddress(this.state);
    afterPaint(() => {
      if (isSameStep) history.replaceState(null, "", address);
      else history.pushState(null, "", address);
    });
  }

  // The rows' names and the words are loaded once the reader asks something.
  async need() {
    if (this.asking) return;
    this.asking = true;
    const { rows, texts } = this.element.dataset;
    try {
      const words = load(texts);
      this.rows = await load(rows);
      if (this.isAsked) this.show();
      this.texts = await words;
      if (this.isAsked && this.state.words.trim()) this.show();
    } catch {
      this.asking = false;
      this.tell(["The setups could not be loaded; try again, or open the page of a chassis."]);
    }
  }

  found() {
    const { words } = this.state;
    if (!words.trim()) return null;
    if (!this.texts) return new Uint8Array(this.data.count).fill(1);
    const key = words.trim();
    if (this.hitsFor !== key) {
      this.hitsFor = key;
      this.hits = hits(this.texts.texts, wanted(words, this.texts.synonyms));
    }
    return this.hits;
  }

  show() {
    const { data, state } = this;
    this.isAsked = true;
    this.need();
    const result = search(data, state, this.found());
    const size = Number(this.element.dataset.pageSize);
    const pages = Math.max(1, Math.ceil(result.total / size));
    state.page = Math.min(state.page, pages);
    const first = (state.page - 1) * size;
    const rows = [...result.rows.subarray(first, first + size)];
    this.part("table").hidden = result.total === 0;
    this.part("results").setAttribute("aria-busy", "true");
    this.part("rest")?.remove();
    this.put(rows, FIRST_ROWS);
    this.help(result);
    this.announce(result.total, pages);
    this.latest = result;
    afterPaint(() => {
      // A later question has its own answer under way.
      if (this.latest === result) this.finish(result, rows, pages);
    });
  }

  // Writes rows of the results, as many as asked; those below keep their place until they follow.
  put(rows, most) {
    if (!this.rows) return;
    const body = this.part("rows");
    const setting = { templates: this.templates, picked: this.state.picked };
    while (body.rows.length > rows.length) body.lastElementChild.remove();
    for (const [at, row] of rows.slice(0, most).entries()) {
      const shown = body.rows[at];
      if (shown?.dataset.row === String(row)) continue;
      const made = resultRow(this.data, this.rows, row, setting);
      made.dataset.row = row;
      if (shown) shown.replaceWith(made);
      else body.append(made);
    }
  }

  finish(result, rows, pages) {
    this.put(rows, rows.length);
    this.form.count(result.counts());
    this.pages(pages);
    this.tray();
    const set = [...this.filters()].filter(({ key }) => key !== "words").length;
    this.part("set").textContent = set ? `: ${set} set` : "";
    this.element.querySelector("[data-do=see]").textContent = `See ${plural(result.total, "setup")}`;
    this.part("results").setAttribute("aria-busy", String(!this.rows));
  }

  announce(total, pages) {
    const { count } = this.data;
    const all = total === count ? plural(count, "setup") : `${figure(total, 0)} of ${plural(count, "setup")}`;
    const told = pages > 1 ? `${all}, page ${this.state.page} of ${pages}` : all;
    this.part("caption").textContent = told;
    // Who types hears the number once, when the typing pauses.
    clearTimeout(this.saying);
    this.saying = setTimeout(() => {
      this.part("status").textContent = told;
    }, QUIET);
  }

  pages(pages) {
    const place = this.part("pages");
    place.hidden = pages === 1;
    const step = (page, label, rel) => {
      if (page < 1 || page > pages) return make("li", {}, make("span", {}, label));
      const href = writeAddress({ ...this.state, page });
      return make("li", {}, make("a", { href, rel, "data-page": page }, label));
    };
    const here = make("span", {}, `${this.state.page} of ${pages}`);
    place.firstElementChild.replaceChildren(
      step(this.state.page - 1, "Previous", "prev"),
      make("li", {}, here),
      step(this.state.page + 1, "Next", "next"),
    );
  }

  // Names what each filter hides, when all of them together leave nothing.
  help(result) {
    const place = this.part("help");
    place.hidden = result.total > 0;
    if (result.total > 0) {
      place.replaceChildren();
      return;
    }
    const ways = [...this.filters()].filter(({ bit }) => result.without.get(bit));
    ways.sort((one, other) => result.without.get(other.bit) - result.without.get(one.bit));
    const lines = ways.map(({ bit, key, told }) =>
      make(
        "li",
        {},
        make("button", { type: "button", class: "button", "data-drop": key }, `Drop ${told}`),
        " ",
        `leaves ${plural(result.without.get(bit), "setup")}`,
      ),
    );
    place.replaceChildren(
      make("p", {}, make("strong", {}, "No setup has all of this.")),
      ...(lines.length
        ? [make("p", {}, `Without ${lines.length > 1 ? "one of these" : "this"} there would be some:`), make("ul", { class: "find-ways" }, ...lines)]
        : [make("p", {}, "No single part of it is the reason: drop two, or start again with all.")]),
    );
  }

  *filters() {
    const { data, state } = this;
    if (state.words.trim()) {
      yield { bit: data.wordsBit, key: "words", told: `the words “${state.words.trim()}”` };
    }
    for (const choice of data.choices) {
      const chosen = state.choices[choice.key];
      if (!chosen) continue;
      const names = chosen.map((id) => choice.words[choice.ids.indexOf(id)][1]);
      yield { bit: choice.bit, key: choice.key, told: `“${choice.label}: ${names.join(" or ")}”` };
    }
    for (const range of data.ranges) {
      const limits = state.ranges[range.key];
      if (!limits) continue;
      const [low, high] = limits.map((limit) => inReaders(range, limit));
      const told = low === "" ? `up to ${high}` : high === "" ? `from ${low}` : `${low} to ${high}`;
      yield { bit: range.bit, key: range.key, told: `“${range.label} ${told} ${unitOf(range)}”` };
    }
  }

  clicked(event) {
    const link = event.target.closest("a[data-page]");
    if (link && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
      event.preventDefault();
      this.state.page = Number(link.dataset.page);
      this.go(false);
      this.toResults();
      return;
    }
    const button = event.target.closest("button");
    if (button?.dataset.drop) this.without(button.dataset.drop);
    if (button?.dataset.do === "filters") this.fold();
    if (button?.dataset.do === "see") {
      this.fold();
      this.toResults();
    }
    if (button?.dataset.do === "forget") {
      this.state.picked = [];
      this.go(false);
    }
  }

  without(key) {
    const state = structuredClone(this.state);
    if (key === "words") state.words = "";
    delete state.choices[key];
    delete state.ranges[key];
    this.drop({ ...state, page: 1 });
    this.part("results").focus();
  }

  toResults() {
    this.part("results").focus();
    this.part("results").scrollIntoView();
  }

  fold() {
    const button = this.element.querySelector("[data-do=filters]");
    const isOpen = button.getAttribute("aria-expanded") === "true";
    button.setAttribute("aria-expanded", String(!isOpen));
    this.part("filters").toggleAttribute("data-open", !isOpen);
  }

  picked(event) {
    const { name, value, checked } = event.target;
    if (name !== "pick") return;
    const others = this.state.picked.filter((id) => id !== value);
    const isFull = checked && others.length === MOST_COMPARED;
    if (isFull) event.target.checked = false;
    this.tell(isFull ? ["Four setups at most can be laid beside each other."] : []);
    this.state.picked = checked && !isFull ? [...others, value] : others;
    history.replaceState(null, "", writeAddress(this.state));
    this.tray();
  }

  tray() {
    const { picked } = this.state;
    for (const input of this.part("rows").querySelectorAll("input")) {
      input.checked = picked.includes(input.value);
    }
    const place = this.part("tray");
    place.hidden = picked.length === 0;
    if (!picked.length) return;
    const ids = picked.length > 1 ? picked : [picked[0], picked[0].split("/")[0]];
    const query = new URLSearchParams(ids.map((id, at) => ["abcd"[at], id]));
    const link = place.querySelector("a");
    link.href = `${this.element.dataset.compare}?${query}`;
    link.textContent = picked.length > 1 ? `Compare these ${picked.length}` : "Compare with stock";
    place.querySelector("[data-part=picked]").textContent =
      `${picked.length} of ${MOST_COMPARED} chosen to compare`;
  }
}

export const start = async (element) => {
  const data = prepare(await load(element.dataset.facets));
  new Find(element, data).begin();
};

// Submitting a record: what is typed, the checks and the drawing beside it, drafts, and the file.
import { make } from "../numbers.js";
import { Beside } from "./beside.js";
import { Drafts, newId } from "./drafts.js";
import { earlier } from "./early.js";
import { Form } from "./form.js";
import { Judge } from "./judge.js";
import { startPhotos } from "./photos.js";
import { at, drop, filled, inForm, keyed, needed, put, shaped } from "./record.js";
import { copy, forgeAddress, save } from "./sending.js";
import { Verdict } from "./verdict.js";

const QUIET = 180;
const LARGEST_IMPORT = 500000;
const SITE_FIELDS = new Set(["site", "cured", "changed"]);

const load = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address}: ${answer.status}`);
  return answer.json();
};

class Submit {
  constructor(element, definitions, judge) {
    this.element = element;
    this.definitions = definitions;
    this.judge = judge;
    this.sheets = new Map();
    this.touched = new Set();
    this.part = (name) => element.querySelector(`[data-part="${name}"]`);
    this.drafts = new Drafts();
    this.form = new Form(definitions, this.part("fields"), (name) => this.known(name));
    this.beside = new Beside(this.part, judge, element.dataset);
    this.verdict = new Verdict(this.part, this.form, element);
  }

  known(name) {
    if (SITE_FIELDS.has(name)) return [...new Set((this.sheet?.plain.sites ?? []).map((site) => site.name))];
    if (name === "car") return this.definitions.cars;
    return name === "member" ? this.definitions.members : [];
  }

  async begin() {
    this.draft = { id: newId(), name: "", record: {} };
    const notes = await this.fromAddress();
    this.element.addEventListener("input", (event) => this.typed(event));
    this.element.addEventListener("change", (event) => this.changed(event));
    this.element.addEventListener("click", (event) => this.clicked(event));
    this.element.addEventListener("focusout", (event) => this.left(event));
    addEventListener("online", () => this.check());
    this.part("form").addEventListener("submit", (event) => event.preventDefault());
    const tell = (words) => this.tell([words]);
    startPhotos(this.part("photos"), this.part("photo-list"), tell, (name) => this.photo(name));
    await this.open(this.draft);
    this.tell(notes);
    this.part("waits").remove();
    this.part("body").hidden = false;
    this.element.dataset.ready = "";
  }

  // Takes chassis and start from the address; what is not known to the guide is told and left.
  async fromAddress() {
    const asked = new URLSearchParams(location.search);
    const notes = [];
    const chassis = asked.get("chassis");
    if (chassis !== null) {
      if (this.hasChassis(chassis)) this.draft.record.chassis = chassis;
      else notes.push("The address names a chassis that the guide does not have; choose one below.");
    }
    const from = asked.get("from");
    if (from === null) return notes;
    if (!this.definitions.taken.includes(from)) {
      notes.push("The address names a setup that the guide does not have; the form begins empty.");
      return notes;
    }
    try {
      const start = await load(`${this.element.dataset.from}/${from}.json`);
      this.draft.record = shaped(this.definitions.models, "Setup", start);
      notes.push(`Begun from ${from}: change what differs on your car. Gaps and road use are not taken over.`);
    } catch {
      notes.push("The setup to begin from could not be loaded; the form begins empty.");
    }
    return notes;
  }

  hasChassis(id) {
    return [...this.part("chassis").options].some((option) => option.value === id && id !== "");
  }

  async open(draft) {
    this.draft = draft;
    this.touched.clear();
    this.part("chassis").value = this.hasChassis(draft.record.chassis) ? draft.record.chassis : "";
    this.part("name").value = draft.name;
    await this.fetchSheet();
    this.form.render(draft.record);
    this.listDrafts();
    this.check();
  }

  async fetchSheet() {
    const option = this.part("chassis").selectedOptions[0];
    const id = option?.value;
    this.sheet = null;
    if (!id) return;
    if (!this.sheets.has(id)) {
      try {
        const plain = await load(option.dataset.sheet);
        this.sheets.set(id, { id, plain, filed: this.judge.chassis(id, plain) });
      } catch {
        this.tell(["The chassis sheet could not be loaded: rules that need it are not applied."]);
        return;
      }
    }
    this.sheet = this.sheets.get(id);
    for (const list of this.element.querySelectorAll("datalist")) list.remove();
  }

  tell(notes) {
    this.part("notes").replaceChildren(...notes.map((note) => make("p", {}, note)));
  }

  typed(event) {
    const { dataset, value, checked } = event.target;
    if (dataset.route) put(this.draft.record, JSON.parse(dataset.route), value);
    else if (dataset.tick) this.tick(JSON.parse(dataset.tick), value, checked);
    else if (dataset.part === "name") this.draft.name = value;
    else return;
    this.soon();
  }

  tick(route, word, isOn) {
    const chosen = (at(this.draft.record, route) ?? []).filter((each) => each !== word);
    put(this.draft.record, route, isOn ? [...chosen, word] : chosen);
  }

  left(event) {
    const { route } = event.target.dataset;
    if (!route || this.touched.has(route)) return;
    this.touched.add(route);
    this.soon();
  }

  soon() {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => {
      this.check();
      this.keep();
    }, QUIET);
  }

  async changed(event) {
    const { part } = event.target.dataset;
    if (part === "chassis") {
      this.draft.record.chassis = event.target.value;
      await this.fetchSheet();
      this.form.render(this.draft.record);
      this.soon();
    } else if (part === "drafts") {
      const found = this.drafts.find(event.target.value);
      if (found) await this.open({ ...structuredClone(found), record: shaped(this.definitions.models, "Setup", found.record) });
    } else if (part === "importer") {
      await this.take(event.target);
    }
  }

  clicked(event) {
    const button = event.target.closest("button[data-do]");
    if (!button) return;
    const route = button.dataset.at ? JSON.parse(button.dataset.at) : [];
    const acts = {
      add: () => this.add(route, button.dataset.group),
      remove: () => this.remove(route),
      same: () => this.same(),
      sites: () => this.sites(),
      mend: () => this.mend(route, button.dataset.value),
      new: () => this.open({ id: newId(), name: "", record: {} }),
      export: () => save(`${this.fileName()}.draft.json`, new Blob([JSON.stringify(this.draft)], { type: "application/json" })),
      import: () => this.part("importer").click(),
      delete: () => this.forget(),
      forge: () => this.atForge(),
      copy: () => this.copied(),
      save: () => save(`${this.fileName()}.yaml`, new Blob([this.part("file").value], { type: "application/yaml" })),
      go: () => this.go(route),
    };
    acts[button.dataset.do]?.();
  }

  again(focus) {
    this.form.render(this.draft.record);
    this.soon();
    if (focus) document.getElementById(focus)?.focus();
  }

  add(route, isGroup) {
    const items = at(this.draft.record, route);
    const place = Array.isArray(items) ? items.length : 0;
    put(this.draft.record, [...route, place], isGroup ? {} : "");
    this.form.opened.add(keyed([...route, place]));
    this.form.render(this.draft.record);
    const head = keyed([...route, place]).slice(0, -1);
    [...this.form.entries].find(([key]) => key.startsWith(head))?.[1].control.focus();
    this.soon();
  }

  remove(route) {
    drop(this.draft.record, route);
    this.again(`field-${route.slice(0, -1).join("-")}-add`);
  }

  // Takes over what is mounted; what belongs to one end of the car stays as it is there.
  same() {
    const { front } = this.draft.record;
    for (const name of ["wheel", "spacer", "tyre", "hardware"]) {
      if (front?.[name]) put(this.draft.record, ["rear", name], structuredClone(front[name]));
      else drop(this.draft.record, ["rear", name]);
    }
    this.again();
    this.tell(["Wheels, spacers, tyres and hardware of the front stand at the rear now."]);
  }

  sites() {
    if (!this.sheet) {
      this.tell(["Choose the chassis first: its sheet has the sites."]);
      return;
    }
    const gaps = Array.isArray(this.draft.record.gaps) ? this.draft.record.gaps : [];
    const missing = (this.sheet.plain.sites ?? []).filter(
      (site) => !gaps.some((gap) => gap.site === site.name && (!gap.axle || gap.axle === site.axle)),
    );
    for (const { name, axle } of missing) gaps.push({ site: name, axle, side: "both" });
    this.draft.record.gaps = gaps;
    this.again();
    this.tell([`${missing.length} sites added: say of each in which state you looked, and what you found.`]);
  }

  mend(route, value) {
    put(this.draft.record, route, value);
    const entry = this.form.entries.get(keyed(route));
    if (entry) {
      entry.control.value = value;
      entry.control.focus();
    }
    this.soon();
  }

  photo(name) {
    if (!this.definitions.models.Setup.fields.some((field) => field.name === "photos")) return;
    const photos = Array.isArray(this.draft.record.photos) ? this.draft.record.photos : [];
    this.draft.record.photos = [...photos, { file: name }];
    this.again();
  }

  go(route) {
    const entry = this.form.near(route);
    if (!entry) return;
    for (let above = entry.wrap.closest("details"); above; above = above.parentElement.closest("details")) above.open = true;
    entry.control.focus();
    entry.control.scrollIntoView({ block: "center" });
  }

  check() {
    const places = new Map();
    this.plain = filled(this.definitions.models, "Setup", this.draft.record, places);
    const { faults, value } = earlier(this.judge, this.definitions.models, this.plain, this.sheet?.filed ?? null);
    const told = faults.flatMap((fault) => this.parted({ ...fault, shown: inForm(places, fault.route), missing: null }));
    this.form.count(this.draft.record, told);
    this.verdict.show(told);
    this.beside.show(value, this.sheet);
    this.part("file").value = this.judge.yaml(this.plain);
    const name = this.fileName();
    this.part("path").textContent = `setups/${this.plain.chassis ?? "…"}/${name}.yaml`;
    this.part("photo-path").textContent = `photos/${this.plain.chassis ?? "…"}/${name}/`;
    this.checkName(name);
  }

  // A missing group is told field by field, as the form asks for them.
  parted(fault) {
    const missing = /^`(\w+)` is missing/.exec(fault.headline)?.[1];
    if (!missing) return [fault];
    const { models } = this.definitions;
    let model = models.Setup;
    for (const step of fault.shown) model = typeof step === "number" ? model : models[model.fields.find(({ name }) => name === step).inner];
    const { inner, isList } = model.fields.find(({ name }) => name === missing);
    if (!inner || isList) return [{ ...fault, missing }];
    return needed(models, inner, [...fault.shown, missing]).map(({ route, expected }) => ({
      ...fault, expected, shown: route.slice(0, -1), missing: route.at(-1),
    }));
  }

  fileName() {
    const { car = "", date = "" } = this.plain ?? {};
    const given = this.draft.name.trim();
    const made = `${car}-${date}`.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 80).replace(/-+$/, "");
    return this.judge.readText({ reader: "generator.reading.fields.read_slug", words: "" }, given).value ?? (made || "new-setup");
  }

  checkName(name) {
    const given = this.draft.name.trim();
    const notes = [];
    if (given && given !== name) notes.push(`This cannot be a file's name; ${name} is taken instead.`);
    if (this.definitions.taken.includes(`${this.plain.chassis}/${name}`)) notes.push("The guide has a record of this name: choose another.");
    this.part("name-fault").replaceChildren(...notes.map((note) => make("p", { class: "field-error" }, note)));
  }

  keep() {
    this.drafts.keep({ ...this.draft, changed: new Date().toISOString() });
    this.listDrafts();
  }

  listDrafts() {
    const label = (draft) => `${draft.record?.title || draft.record?.car || "without a title"} (${(draft.changed ?? "").slice(0, 16).replace("T", " ") || "not kept yet"})`;
    const all = this.drafts.find(this.draft.id) ? this.drafts.all : [this.draft, ...this.drafts.all];
    this.part("drafts").replaceChildren(...all.map((draft) => make("option", { value: draft.id }, String(label(draft)).slice(0, 90))));
    this.part("drafts").value = this.draft.id;
    this.part("kept").textContent = this.drafts.trouble || "What you type is kept on this device only, as you type it. Photos are not kept.";
    if (this.drafts.trouble) this.part("drafts-fold").open = true;
    this.part("kept").classList.toggle("field-error", Boolean(this.drafts.trouble));
  }

  async forget() {
    this.drafts.remove(this.draft.id);
    const next = this.drafts.all[0];
    await this.open(next ? { ...next, record: shaped(this.definitions.models, "Setup", next.record) } : { id: newId(), name: "", record: {} });
    this.tell(["The draft was deleted."]);
  }

  async take(input) {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    try {
      if (file.size > LARGEST_IMPORT) throw new Error("too large");
      const draft = JSON.parse(await file.text());
      const record = shaped(this.definitions.models, "Setup", draft.record);
      const name = typeof draft.name === "string" ? draft.name.slice(0, 80) : "";
      await this.open({ id: newId(), name, record });
      this.keep();
      this.tell(["The draft was opened as a new one."]);
    } catch {
      this.tell(["This file is not a draft of this form."]);
    }
  }

  async copied() {
    const isDone = await copy(this.part("file"));
    this.part("sent").textContent = isDone ? "The text was copied." : "This browser copies nothing by itself: the text is marked, copy it from there.";
  }

  async atForge() {
    this.check();
    const path = this.part("path").textContent;
    if (!this.plain.chassis) {
      this.part("sent").textContent = "Choose the chassis first: the file's folder has its name.";
      return;
    }
    const { href, isWhole, length } = forgeAddress(this.element.dataset, path, this.part("file").value);
    const copying = copy(this.part("file"));
    open(href, "_blank", "noopener");
    const isCopied = await copying;
    const link = make("a", { href, rel: "noopener" }, "Open the forge's page");
    const how = isWhole
      ? "The forge's page opens with the text in it; if it is empty, paste the text, which was copied."
      : `The address would have ${length} characters, which is too long: the page opens with the name alone, and the text ${isCopied ? "was copied for you to paste" : "is marked for you to copy"}.`;
    this.part("sent").replaceChildren(how, " ", link);
  }
}

export const start = async (element) => {
  const { fields, rules, near } = element.dataset;
  const [definitions, program] = await Promise.all([load(fields), import(new URL(rules, document.baseURI).href)]);
  const page = new Submit(element, definitions, new Judge(program, definitions.models));
  await page.begin();
  try {
    page.beside.near = await load(near);
    page.check();
  } catch {
    // Without the list of setups the form works as well; nothing near is shown.
  }
};

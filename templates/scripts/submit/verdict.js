// What the checks say of a record: at its fields, and gathered beside the form.
import { make } from "../numbers.js";
import { keyed } from "./record.js";
import { faultLine, proposed } from "./told.js";

const MISSING = "F01";

export class Verdict {
  constructor(part, form, element) {
    this.part = part;
    this.form = form;
    this.links = element.dataset;
    this.templates = new Map([...element.querySelectorAll("template")].map((each) => [each.dataset.word, each]));
  }

  show(faults) {
    for (const { control, error, wrap } of this.form.entries.values()) {
      error.replaceChildren();
      wrap.classList.remove("has-error");
      control.removeAttribute("aria-invalid");
    }
    for (const fault of faults) {
      const entry = this.form.entries.get(keyed(fault.shown));
      if (!entry || fault.code === MISSING) continue;
      entry.error.append(this.line(fault));
      if (fault.severity === "error") {
        entry.wrap.classList.add("has-error");
        entry.control.setAttribute("aria-invalid", "true");
      }
    }
    this.summary(faults);
  }

  line(fault) {
    const buttons = proposed(fault).map((text) => make("button", { type: "button", class: "button", "data-do": "mend", "data-at": keyed(fault.shown), "data-value": text }, `Write ${text}`));
    return faultLine(fault, this.templates, this.links, buttons);
  }

  summary(faults) {
    const groups = [
      ["To mend", faults.filter((fault) => fault.severity === "error" && fault.code !== MISSING)],
      ["Still needed", faults.filter((fault) => fault.code === MISSING)],
      ["To look at again", faults.filter((fault) => fault.severity === "warning")],
      ["To know", faults.filter((fault) => fault.severity === "note")],
    ].filter(([, found]) => found.length);
    const told = groups.map(([name, found]) => `${found.length} ${name[0].toLowerCase()}${name.slice(1)}`).join(", ");
    this.part("faults").replaceChildren(
      ...groups.flatMap(([name, found]) => [
        make("h3", {}, `${name} (${found.length})`),
        make("ul", { class: "plain" }, ...found.map((fault) => this.item(fault))),
      ]),
    );
    const words = told || "nothing to mend";
    if (this.part("status").textContent !== words) this.part("status").textContent = words;
    this.part("bar").textContent = `Checks: ${words}`;
  }

  item(fault) {
    const words = fault.code === MISSING ? `${fault.expected || fault.headline}` : fault.headline.replaceAll("`", "");
    const route = fault.missing ? [...fault.shown, fault.missing] : fault.shown;
    const steps = route.map((step, place) => (typeof step === "number" ? this.form.itemName(route.slice(0, place + 1)) : step.replaceAll("_", " ")));
    const name = steps.join(" › ");
    return make("li", {}, make("button", { type: "button", class: "submit-go", "data-do": "go", "data-at": keyed(route) }, `${name || "the record"}:`), " ", words);
  }
}

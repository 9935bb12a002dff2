// What stands beside the form: wheel and tyre against stock, the steered wheel from above, and the
// setups of the guide that come nearest.
import { make } from "../numbers.js";
import { endDrawing } from "./drawing.js";
import { nearest } from "./nearest.js";

const ENDS = [["front", "Front"], ["rear", "Rear"]];

export class Beside {
  constructor(part, judge, { plan, liveFacts }) {
    Object.assign(this, { part, judge, plannerAt: plan, factsAt: liveFacts, near: null });
    this.planners = new Map();
  }

  // value: the record as far as it can be read; sheet: that of its chassis, or null.
  show(value, sheet) {
    const drawings = ENDS.map(([end, name]) => this.fromBehind(name, value?.[end], sheet?.filed?.value[end])).filter(Boolean);
    this.part("drawings").replaceChildren(...drawings);
    this.part("stance").hidden = drawings.length === 0;
    const found = value?.front && value.rear && this.near ? nearest(this.near, value.chassis, value) : [];
    const links = found.map(({ id, title }) => make("a", { href: `setups/${id}.html` }, make("bdi", {}, title)));
    this.part("near").replaceChildren(...links.map((link) => make("li", {}, link)));
    this.part("nearby").hidden = found.length === 0;
    this.fromAbove(value?.front);
  }

  fromBehind(name, fitted, sheet) {
    const { program } = this.judge;
    const now = fitted ? program.fitted_stance(fitted) : null;
    if (!now) return null;
    return endDrawing(name, now, sheet ? program.stock_stance(sheet) : null, fitted.wheel.size.diameter_code);
  }

  get live() {
    return this.part("chassis").selectedOptions[0]?.dataset.live;
  }

  // It needs the limits of the car, which are loaded with its sheet.
  async fromAbove(front) {
    const { live } = this;
    const draw = live ? await this.planner(live) : null;
    if (live !== this.live) return;
    const figures = draw && front ? draw(front) : [];
    this.part("plan").replaceChildren(...figures);
    this.part("plan-hint").hidden = figures.length === 0;
  }

  planner(live) {
    const made = async () => {
      try {
        const { planner } = await import(new URL(this.plannerAt, document.baseURI).href);
        return await planner(this.factsAt, live);
      } catch {
        // Without a network the drawing from behind stays alone; this one is asked for again with the
        // next word that is typed, and when the network is back.
        this.planners.delete(live);
        return null;
      }
    };
    if (!this.planners.has(live)) this.planners.set(live, made());
    return this.planners.get(live);
  }
}

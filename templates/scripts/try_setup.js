// The page on which a setup that nobody has tried is judged while it is typed. The computation is in
// fit/, the address in try_state.js, what is shown in try_shown.js, the drawings in try_draw.js.
import { changed, fromNothing } from "./fit/candidate.js";
import { checksOf } from "./fit/checks.js";
import { NotKnown, use } from "./fit/facts.js";
import { failing, remediesFor } from "./fit/remedies.js";
import { Misread } from "./fit/tyre_size.js";
import { endVerdict, fitOf, jointOf, prepared } from "./fit/verdict.js";
import { withLengths } from "./numbers.js";
import { drawLook, setLook } from "./try_look.js";
import { fillSheet } from "./try_sheet.js";
import { showChecks } from "./try_checks.js";
import { showFirst, showMend, showWindow } from "./try_shown.js";
import { showSites } from "./try_sites.js";
import { showLines } from "./try_verdict.js";
import { fillFields, frontForRear, readField, stepField, tidyField } from "./try_fields.js";
import { blank, readAddress, writeAddress } from "./try_state.js";

const ENDS = ["front", "rear"];
const AROUND = 20;
const WINDOW_STEP = 2.5;
const SLICE = 8;
const QUICK = { joint: false, ranges: false };

const rim = ["width", "diameter", "offset"];

// What is on an end, and why there is nothing where there is not.
const onEnd = (base, change) => {
  try {
    if (!base) return { fitted: fromNothing(change), why: "" };
    const said = { ...change };
    if (rim.some((key) => key in said) && !("offset" in said)) {
      const { wheel } = fitOf(base);
      if (wheel) said.offset = wheel.offset.value;
    }
    return { fitted: changed(base, said), why: "" };
  } catch (trouble) {
    if (!(trouble instanceof NotKnown || trouble instanceof Misread)) throw trouble;
    return { fitted: null, why: trouble.message };
  }
};

class Trial {
  constructor(element, facts, data, starts) {
    this.element = element;
    this.facts = facts;
    this.car = prepared(data);
    this.starts = starts;
    this.undo = [];
    this.misread = new Set();
    this.turn = 0;
    this.part = (name) => element.querySelector(`[data-part=${name}]`);
    const { state, notes } = readAddress(location.search, facts.fields, Object.keys(starts));
    this.state = state;
    this.note(notes);
  }

  note(notes) {
    const box = this.part("notes");
    box.replaceChildren(...notes.map((text) => Object.assign(document.createElement("p"), { textContent: text })));
    box.hidden = !notes.length;
  }

  base(end) {
    if (this.state.start === "nothing") return null;
    return this.state.start === "stock" ? this.car[end].stock : this.starts[this.state.start][end];
  }

  // Judge the ends that changed, show what follows, and leave what takes longer for later.
  judge(ends = ENDS) {
    this.ends ??= {};
    for (const end of ends) {
      const { fitted, why } = onEnd(this.base(end), this.state[end]);
      const verdict = fitted ? endVerdict(this.car, end, fitted, QUICK) : null;
      this.ends[end] = { fitted, why, verdict };
    }
    const on = { front: this.ends.front.fitted, rear: this.ends.rear.fitted };
    this.checks = on.front && on.rear ? checksOf(this.car, on) : null;
    showLines(this);
    showSites(this);
    this.later();
  }

  // What takes longer is done in short slices, and given up when something is typed meanwhile.
  later() {
    this.turn += 1;
    const mine = this.turn;
    const work = this.work();
    clearTimeout(this.waiting);
    delete this.element.dataset.settled;
    const soon = () => {
      this.waiting = setTimeout(slice, 0);
    };
    // What was shown is painted before anything else is done.
    const painted = () => requestAnimationFrame(() => mine === this.turn && soon());
    const slice = () => {
      if (mine !== this.turn) return;
      const begin = performance.now();
      while (performance.now() - begin < SLICE) {
        const { done } = work.next();
        if (done) {
          this.element.dataset.settled = "";
          return;
        }
      }
      soon();
    };
    painted();
  }

  *work() {
    for (const end of ENDS) {
      const { verdict } = this.ends[end];
      if (verdict) verdict.joint ??= jointOf(verdict);
      yield;
    }
    showLines(this);
    yield;
    setLook(this);
    drawLook(this);
    yield;
    history.replaceState(history.state, "", writeAddress(this.state, this.facts.fields));
    showChecks(this);
    showFirst(this);
    yield;
    yield* this.mending();
    yield* this.around();
  }

  *mending() {
    const found = [];
    for (const end of ENDS) {
      const { verdict } = this.ends[end];
      if (!verdict) continue;
      for (const { name, word } of failing(verdict)) {
        const remedies = [];
        const on = { front: this.ends.front.fitted, rear: this.ends.rear.fitted };
        for (const each of remediesFor(this.car, end, on, verdict, name)) {
          if (each) remedies.push(each);
          yield;
        }
        const { site } = verdict.sites.find((each) => each.site.name === name);
        found.push({ end, site, word, remedies });
        showMend(this, found, true);
        yield;
      }
    }
    showMend(this, found);
  }

  *around() {
    const rows = {};
    for (const end of ENDS) {
      const { fitted } = this.ends[end];
      const fit = fitted && fitOf(fitted);
      if (!fit?.wheel) continue;
      const own = fit.wheel.offset.value;
      const spacer = fitted.spacer ? fitted.spacer[0] : 0;
      const cells = [];
      for (let by = -AROUND; by <= AROUND; by += WINDOW_STEP) {
        const other = changed(fitted, { offset: own + by });
        cells.push({ offset: own + by - spacer, word: endVerdict(this.car, end, other, QUICK).word });
        yield;
      }
      rows[end] = { cells, here: own - spacer };
    }
    showWindow(this, rows);
  }

  // A change of one end as a remedy or a copy makes it; it can be taken back.
  apply(end, change, words) {
    this.remember(words);
    Object.assign(this.state[end], change);
    fillFields(this);
    this.judge([end]);
    this.say(`${words}: done`);
  }

  remember(words) {
    this.undo.push({ words, state: structuredClone(this.state) });
    this.showUndo();
  }

  showUndo() {
    const last = this.undo[this.undo.length - 1];
    const button = this.part("undo");
    button.hidden = !last;
    if (last) button.replaceChildren(...withLengths(`Take back: ${last.words}`));
  }

  takeBack() {
    const last = this.undo.pop();
    if (!last) return;
    this.showUndo();
    this.state = last.state;
    fillFields(this);
    this.judge();
    this.say(`${last.words}: taken back`);
  }

  say(text) {
    this.part("status").replaceChildren(...withLengths(text));
  }
}

const listen = (trial) => {
  const { element } = trial;
  const form = element.querySelector("form");
  const told = (end) => {
    trial.judge([end]);
    clearTimeout(trial.telling);
    trial.telling = setTimeout(() => trial.say(trial.part("verdict").textContent), 900);
  };
  form.addEventListener("input", (event) => {
    if (event.target.id === "start") {
      trial.remember("another start");
      trial.state = { ...blank(), start: event.target.value };
      trial.note([]);
      fillFields(trial);
      trial.judge();
      return;
    }
    const end = readField(trial, event.target);
    if (end) told(end);
  });
  form.addEventListener("change", (event) => tidyField(trial, event.target));
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.tagName === "INPUT") {
      event.preventDefault();
      tidyField(trial, event.target);
    }
    const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!way || event.target.tagName !== "INPUT") return;
    const end = stepField(trial, event.target, way * (event.shiftKey ? 5 : 1));
    if (!end) return;
    event.preventDefault();
    told(end);
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("reset", (event) => {
    event.preventDefault();
    trial.remember("undo all changes");
    trial.state = { ...blank(), start: trial.state.start };
    trial.note([]);
    fillFields(trial);
    trial.judge();
  });
  element.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if (button.dataset.for) {
      const end = stepField(trial, document.getElementById(button.dataset.for), Number(button.dataset.step));
      if (end) told(end);
    }
    if (button.dataset.do === "copy") trial.apply("rear", frontForRear(trial), "front values to the rear");
    if (button.dataset.do === "undo") trial.takeBack();
    if (button.dataset.do === "print") print();
  });
  // What cannot be read goes with the unit it was typed in; then what is shown is what was judged.
  document.addEventListener("gapbook:units", () => {
    fillFields(trial);
    showLines(trial);
  });
  addEventListener("beforeprint", () => fillSheet(trial));
};

const fetched = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`${address} could not be read`);
  return answer.json();
};

export const start = async (element) => {
  const { facts: factsAt, data: dataAt, starts: startsAt } = element.dataset;
  let loaded;
  try {
    loaded = await Promise.all([factsAt, dataAt, startsAt].map(fetched));
  } catch {
    element.querySelector("[data-part=lines]").textContent =
      "The sheet and the limits could not be loaded. With a network, load the page again.";
    return;
  }
  const [facts, data, starts] = loaded;
  use(facts);
  const trial = new Trial(element, facts, data, starts);
  fillFields(trial);
  listen(trial);
  trial.judge();
  element.dataset.ready = "";
};

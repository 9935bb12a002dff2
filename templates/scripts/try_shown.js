// What a trial shows beside its sites (try_sites.js): the verdict in lines, checks, remedies, offsets,
// what to measure.
import { facts } from "./fit/facts.js";
import { ranked } from "./fit/remedies.js";
import { carChance } from "./fit/verdict.js";
import { figure, inches, length, make, percent, quantity, withLengths } from "./numbers.js";
import { patch } from "./patch.js";
import { flag } from "./try_sites.js";

const ENDS = ["front", "rear"];
const FIRST_REMEDIES = 3;
export const upper = (text) => text[0].toUpperCase() + text.slice(1);

// What takes longer than the rest comes a moment later; its place is kept.
const SOON = "\u2026";

const wordsOf = ({ verdict, why }) => {
  if (!verdict) return `: ${why}.`;
  const weakest = verdict.sites[0];
  let told = "";
  if (weakest?.chance === null) told = `: ${weakest.site.label} is not known, ${weakest.unknown}. `;
  else if (weakest) told = `: weakest is the ${weakest.site.label}, ${weakest.side}, ${percent(weakest.chance)} for its wanted gap. `;
  if (!verdict.sites.some(({ least }) => least)) return told;
  return `${told}All known sites at once: ${verdict.joint ? percent(verdict.joint.probability) : SOON}.`;
};

// The verdict of an end in a few words, for where the whole one is out of sight.
const shortOf = ({ verdict }) => {
  const weakest = verdict?.sites[0];
  if (!verdict) return "not known";
  return weakest?.chance === null || !weakest ? verdict.word : `${verdict.word}, ${percent(weakest.chance)}`;
};

const begun = (trial) => {
  const lines = ENDS.map((end) => {
    const words = document.createTextNode("");
    const mark = make("span", { class: "try-mark" });
    const element = make("p", { class: "try-line" }, mark, make("span", {}, make("strong", {}, upper(end)), words));
    return { element, mark, words };
  });
  const [car, bar] = [document.createTextNode(""), document.createTextNode("")];
  trial.part("lines").replaceChildren(...lines.map(({ element }) => element), make("p", {}, car));
  trial.part("bar").replaceChildren(bar);
  return { lines, car, bar };
};

const put = (text, words) => {
  if (text.data !== words) text.data = words;
};

export const showLines = (trial) => {
  const { lines, car, bar } = (trial.linesShown ??= begun(trial));
  lines.forEach((line, at) => {
    const told = trial.ends[ENDS[at]];
    const word = told.verdict?.word ?? "not known";
    if (line.word !== word) line.mark.replaceChildren(flag(trial, word));
    line.word = word;
    put(line.words, wordsOf(told));
  });
  const [front, rear] = ENDS.map((end) => trial.ends[end].verdict);
  const isKnown = (verdict) => verdict?.sites.length && verdict.sites.every(({ least }) => least);
  const whole = isKnown(front) && isKnown(rear) ? (carChance(front, rear) ?? SOON) : null;
  put(car, whole === null ? "" : `Every site of the whole car: ${whole === SOON ? SOON : percent(whole)}.`);
  put(bar, ENDS.map((end) => `${upper(end)}: ${shortOf(trial.ends[end])}`).join(" · "));
};

const PLACES = { diameters: 2, in: 2, pieces: 0, "N·m": 0 };
const MOST_PLACES = 4;
const SAME = 1e-6;

// As many decimals as show on which side of its bound a number lies.
const placesOf = ({ unit, value, bound }) => {
  let places = PLACES[unit] ?? 1;
  const isApart = bound !== null && Math.abs(value - bound) > SAME;
  while (isApart && places < MOST_PLACES && value.toFixed(places) === bound.toFixed(places)) places += 1;
  return places;
};

const shownValue = (each, value) => {
  const decimals = placesOf(each);
  if (each.unit === "mm") return length(value, { decimals, isSigned: each.outcome === "for information" });
  return quantity(value, each.unit, { decimals });
};

const measuredWords = (each) => {
  if (each.value === null) return [upper(each.words), "."];
  const words = each.words ? ` ${each.words}` : "";
  if (each.bound === null) return [shownValue(each, each.value), `${words}.`];
  return [shownValue(each, each.value), each.most ? "; wanted is at most " : "; wanted is at least ", shownValue(each, each.bound), `${words}.`];
};

const WORD_TONES = { clears: "good", tight: "care", touches: "stop", "not known": "ask" };
const TONES = { holds: "good", fails: "stop", "too close to say": "care", "for information": "plain", "not known": "ask" };

// A drum brake has no caliper to ask for.
const hazardOf = ({ code, isDrum }) => (isDrum ? facts.hazards[code].drum : facts.hazards[code]);

const checkItem = (each) => {
  const hazard = hazardOf(each);
  const where = [each.end, each.side === "both" ? null : each.side].filter(Boolean).map((word) => `, ${word}`).join("");
  const item = make("li", { class: `try-check tone-${TONES[each.outcome]}` });
  item.append(make("strong", {}, `${upper(hazard.title)}${where}`), `: ${each.outcome}. `, ...measuredWords(each));
  if (each.outcome === "fails" || each.outcome === "too close to say") item.append(make("br"), make("span", { class: "small" }, hazard.why));
  return item;
};

// What fails or cannot be told apart from it stands open; the rest is a press away.
const CHECK_GROUPS = [
  ["fails", "Fails"],
  ["too close to say", "Too close to say"],
  ["not known", "Not known, and how to find out"],
  ["for information", "For information"],
  ["holds", "Holds"],
];

export const showChecks = (trial, checks) => {
  const box = trial.part("checks");
  if (!checks.length) {
    patch(box, [make("p", {}, "They need a wheel and a tyre at both ends.")]);
    return;
  }
  const open = new Set([...box.querySelectorAll("details[open]")].map((each) => each.dataset.group));
  const parts = [];
  for (const [outcome, title] of CHECK_GROUPS) {
    const items = checks.filter((each) => each.outcome === outcome).map(checkItem);
    if (!items.length) continue;
    const list = make("ul", { class: "try-checks" }, ...items);
    if (outcome === "fails" || outcome === "too close to say") parts.push(make("h3", {}, `${title}: ${items.length}`), list);
    else parts.push(make("details", { class: "try-checked", "data-group": outcome, open: open.has(outcome) }, make("summary", {}, `${title}: ${items.length}`), list));
  }
  parts.push(make("p", { class: "small soft" }, "Torque, seats, run-out, date codes and weights are read on the parts themselves; the vehicle maker's data goes first."));
  patch(box, parts);
};

// What is the same on both sides is told once.
const bothAsOne = (spoils) => {
  const found = [];
  for (const each of spoils) {
    const twin = found.find((one) => ["label", "before", "after"].every((name) => one[name] === each[name]));
    if (twin) twin.side = "both sides";
    else found.push({ ...each });
  }
  return found;
};

const remedyItem = (trial, end, remedy) => {
  const words = remedy.steps.map((step) => step.words).join(", and ");
  const item = make("li", {}, make("strong", {}, ...withLengths(upper(words))), `: then ${remedy.word}, ${percent(remedy.chance)}.`);
  for (const { costs } of remedy.steps) if (costs) item.append(" ", ...withLengths(costs));
  if (remedy.mends.length) item.append(` It mends too: ${remedy.mends.join("; ")}.`);
  const told = bothAsOne(remedy.spoils).map((each) => `${each.label}, ${each.side}: ${each.after} instead of ${each.before}`);
  if (told.length) item.append(" ", make("strong", {}, `It spoils: ${told.join("; ")}.`));
  const looked = [...new Set(remedy.checks.map((each) => `${hazardOf(each).title}${each.end ? `, ${each.end}` : ""} (${each.outcome})`))];
  if (looked.length) item.append(" ", make("strong", {}, `It calls for a look at: ${looked.join("; ")}.`));
  const which = make("span", { class: "hidden" }, ": ", ...withLengths(words), `, ${end}`);
  const button = make("button", { type: "button", class: "button" }, "Apply", which);
  button.addEventListener("click", () => trial.apply(end, remedy.change, words));
  item.append(make("br"), button);
  return item;
};

// isMore: other sites are still being looked at.
export const showMend = (trial, found, isMore = false) => {
  const box = trial.part("mend");
  const parts = [];
  if (trial.undo.length) {
    const last = trial.undo[trial.undo.length - 1].words;
    parts.push(make("p", {}, make("button", { type: "button", class: "button", "data-do": "undo" }, ...withLengths(`Take back: ${last}`))));
  }
  for (const [at, { end, site, word, remedies }] of found.entries()) {
    const open = at ? 1 : FIRST_REMEDIES;
    parts.push(make("h3", {}, `${upper(site.label)}, ${end}: ${word}`));
    const best = ranked(remedies);
    if (!best.length) parts.push(make("p", {}, "Nothing that was tried is enough, alone or two together."));
    const listed = (some) => make("ul", { class: "try-remedies" }, ...some.map((each) => remedyItem(trial, end, each)));
    if (best.length) parts.push(listed(best.slice(0, open)));
    const more = best.slice(open);
    if (more.length) parts.push(make("details", {}, make("summary", {}, `${more.length} more for it, that spoil as much or more`), listed(more)));
  }
  if (isMore) parts.push(make("p", {}, "Looking further…"));
  else if (!found.length) parts.push(make("p", {}, "Nothing that is known touches or is tight."));
  box.replaceChildren(...parts);
};

const WORDS = ["clears", "tight", "touches", "not known"];

const inEach = () => [make("span", { class: "metric" }, "mm"), make("span", { class: "or" }, " and "), make("span", { class: "inch" }, "in")];

// A row of offsets for each unit, of which the reader's is shown.
const offsetRow = (cells, kind, unit, write) =>
  make(
    "tr",
    { class: kind },
    make("th", { scope: "row" }, `offset, ${unit}`),
    ...cells.map(({ offset }) => make("th", { scope: "col" }, write(offset, 1, true))),
  );

export const showWindow = (trial, rows) => {
  const shape = (word) => flag(trial, word).querySelector(".glyph");
  const strips = Object.entries(rows).map(([end, { cells, here }]) => {
    const marks = cells.map(({ offset, word }) => {
      const isHere = Math.abs(offset - here) < 1e-6;
      const mark = make("td", { class: `try-word tone-${WORD_TONES[word]}${isHere ? " try-here" : ""}` });
      mark.append(shape(word), make("span", { class: "hidden" }, isHere ? `${word}, this one` : word));
      return mark;
    });
    const heads = [offsetRow(cells, "metric", "mm", figure), offsetRow(cells, "inch", "in", inches)];
    return make(
      "div",
      { class: "table-region strip", role: "region", tabindex: 0, "aria-label": `Effective offsets, ${end}` },
      make("table", { class: "try-window" }, make("caption", {}, make("span", {}, `${upper(end)}: effective offset, `, ...inEach(), "; this one is framed")), make("thead", {}, ...heads), make("tbody", {}, make("tr", {}, make("th", { scope: "row" }, "all sites"), ...marks))),
    );
  });
  const key = make("p", { class: "try-key row", "aria-label": "Key" }, ...WORDS.map((word) => flag(trial, word)));
  trial.part("window").replaceChildren(...(strips.length ? [key] : []), ...strips);
  // A strip wider than the screen opens with the frame in its middle.
  for (const strip of strips) {
    const here = strip.querySelector(".try-here");
    if (here) strip.scrollLeft = here.offsetLeft - strip.clientWidth / 2;
  }
};

export const showFirst = (trial) => {
  const items = [];
  for (const end of ENDS) {
    const { verdict } = trial.ends[end];
    if (!verdict) continue;
    const fit = verdict.looks[0].whole;
    const lost = verdict.sites.find(({ least }) => !least);
    if (lost) items.push(`${upper(end)}: ${lost.site.label}, for ${lost.unknown}.`);
    const unsure = verdict.sites.find((each) => each.least && each.chance < facts.verdict.expected) || verdict.sites.find(({ least }) => least);
    if (!unsure) continue;
    const half = Math.abs(unsure.least.rate) * fit.tyre.section.u;
    if (fit.tyre.section.isNominal && half > 0.3) items.push(`${upper(end)}: the tyre's section width, mounted on this rim. By its size alone it leaves the gap at the ${unsure.site.label} uncertain by ±${figure(half, 1)} mm.`);
    const { cars } = unsure.posterior;
    items.push(`${upper(end)}: the gap at the ${unsure.site.label} on the car at hand, ${unsure.least.words}. ${cars ? `It rests on ${cars} car${cars === 1 ? "" : "s"}` : "No record bears on it"}; cars differ there.`);
  }
  trial.part("first").replaceChildren(make("ul", {}, ...items.map((text) => make("li", {}, ...withLengths(text)))));
};

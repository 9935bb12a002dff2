// What a trial shows beside its verdict, sites and checks: remedies, offsets, what to measure.
import { facts } from "./fit/facts.js";
import { ranked } from "./fit/remedies.js";
import { changingRange, figure, length, make, percent, withLengths } from "./numbers.js";
import { countsAs, hazardOf, upper } from "./try_checks.js";
import { flag } from "./try_sites.js";

const ENDS = ["front", "rear"];
const FIRST_REMEDIES = 3;

const SAME = 1e-6;

const SIGNED = { decimals: 1, isSigned: true };
const offsetOf = (value) => length(value, SIGNED);

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

// How the end then stands as a whole.
const wholeWords = (end, { whole }) => {
  if (whole === "clears") return ` Every site of the ${end} then clears.`;
  return whole === "not known" ? ` Something else at the ${end} is then not known.` : ` Something else at the ${end} ${whole === "tight" ? "is then tight" : "then touches"}.`;
};

const remedyItem = (trial, end, remedy) => {
  const words = remedy.steps.map((step) => step.words).join(", and ").replace(/-(?=\d)/g, "\u2212");
  const item = make("li", {}, make("strong", {}, ...withLengths(upper(words))), `: then this site ${remedy.word}, ${percent(remedy.chance)}.${wholeWords(end, remedy)}`);
  if (remedy.mends.length) item.append(` It mends too: ${remedy.mends.join("; ")}.`);
  const told = bothAsOne(remedy.spoils).map((each) => `${each.label}, ${each.side}: ${each.after} instead of ${each.before}`);
  if (told.length) item.append(" ", make("strong", {}, `It spoils: ${told.join("; ")}.`));
  const looked = [...new Set(remedy.checks.map((each) => `${hazardOf(each).title}${each.end ? `, ${each.end}` : ""} (${countsAs(each)})`))];
  if (looked.length) item.append(" ", make("strong", {}, `It calls for a look at: ${looked.join("; ")}.`));
  for (const { costs } of remedy.steps) if (costs) item.append(" ", ...withLengths(costs));
  const which = make("span", { class: "hidden" }, ": ", ...withLengths(words), `, ${end}`);
  const button = make("button", { type: "button", class: "button" }, "Apply", which);
  button.addEventListener("click", () => trial.apply(end, remedy.change, words));
  item.append(make("br"), button);
  return item;
};

const nameOf = ({ end, site, word }) => `${site.label}, ${end}: ${word}`;

// The sites that no change mends, named once together.
const unmended = (found) => {
  const enough = percent(facts.verdict.expected);
  return [
    make("h3", {}, found.length === 1 ? "Not mended" : `Not mended: ${found.length} sites`),
    make("p", {}, `No change that was tried, alone or two together, makes the wanted gap ${enough} likely here:`),
    make("ul", {}, ...found.map((each) => make("li", {}, upper(nameOf(each))))),
  ];
};

// isMore: other sites are still being looked at.
export const showMend = (trial, found, isMore = false) => {
  const box = trial.part("mend");
  const parts = [];
  if (trial.undo.length) {
    const last = trial.undo[trial.undo.length - 1].words;
    parts.push(make("p", {}, make("button", { type: "button", class: "button", "data-do": "undo" }, ...withLengths(`Take back: ${last}`))));
  }
  const mended = found.filter(({ remedies }) => remedies.length);
  for (const [at, each] of mended.entries()) {
    const open = at ? 1 : FIRST_REMEDIES;
    parts.push(make("h3", {}, upper(nameOf(each))));
    const best = ranked(each.remedies);
    const listed = (some) => make("ul", { class: "try-list" }, ...some.map((one) => remedyItem(trial, each.end, one)));
    parts.push(listed(best.slice(0, open)));
    const more = best.slice(open);
    if (more.length) parts.push(make("details", {}, make("summary", {}, `${more.length} more for it, ${more.length === 1 ? "which spoils" : "which spoil"} as much or more`), listed(more)));
  }
  const without = found.filter(({ remedies }) => !remedies.length);
  if (without.length) parts.push(...unmended(without));
  if (isMore) parts.push(make("p", {}, "Looking further…"));
  else if (!found.length) parts.push(make("p", {}, "Nothing that is known touches or is tight."));
  box.replaceChildren(...parts);
};

// Offsets beside each other with the same word.
const stretchesOf = ({ cells, here }) => {
  const found = [];
  for (const { offset, word } of cells) {
    const last = found[found.length - 1];
    if (last?.word === word) last.high = offset;
    else found.push({ word, low: offset, high: offset });
  }
  const isHere = ({ low, high }) => here > low - SAME && here < high + SAME;
  return found.map((each) => ({ ...each, isHere: isHere(each) }));
};

const fromTo = ({ low, high }) => {
  if (low === high) return offsetOf(low);
  const { element, put } = changingRange(SIGNED);
  put(low, high);
  return element;
};

export const showWindow = (trial, rows) => {
  const tables = Object.entries(rows).map(([end, { cells, here }]) => {
    const lines = stretchesOf({ cells, here }).map((each) => {
      const head = make("th", { scope: "row" }, fromTo(each));
      if (each.isHere) head.append(make("br"), make("span", { class: "small try-here" }, "this one is ", offsetOf(here)));
      return make("tr", {}, head, make("td", {}, flag(trial, each.word)));
    });
    const caption = make("caption", {}, make("span", {}, `${upper(end)}: effective offset`));
    return make("div", { class: "table-region" }, make("table", { class: "try-window" }, caption, make("tbody", {}, ...lines)));
  });
  trial.part("window").replaceChildren(...tables);
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

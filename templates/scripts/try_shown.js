// What a trial shows beside its verdict, sites and checks: remedies, offsets, what to measure.
import { facts } from "./fit/facts.js";
import { ranked } from "./fit/remedies.js";
import { figure, inches, make, percent, withLengths } from "./numbers.js";
import { hazardOf, upper } from "./try_checks.js";
import { flag } from "./try_sites.js";

const ENDS = ["front", "rear"];
const FIRST_REMEDIES = 3;

const WORD_TONES = { clears: "good", tight: "care", touches: "stop", "not known": "ask" };

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
  const looked = [...new Set(remedy.checks.map((each) => `${hazardOf(each).title}${each.end ? `, ${each.end}` : ""} (${each.outcome})`))];
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

// What a trial shows: the verdict in lines, every site, checks, remedies, offsets, what to measure.
import { facts } from "./fit/facts.js";
import { spoiling } from "./fit/remedies.js";
import { addRange, carChance } from "./fit/verdict.js";
import { figure, length, make, quantity } from "./numbers.js";
import { patch } from "./patch.js";

const ENDS = ["front", "rear"];
const SAFE = 0.99;
const FIRST_REMEDIES = 3;
export const upper = (text) => text[0].toUpperCase() + text.slice(1);

const percent = (chance) => {
  const whole = Math.round(chance * 100);
  if (whole < 1) return "< 1\u00a0%";
  if (whole > 99) return "> 99\u00a0%";
  return `${whole}\u00a0%`;
};

const flag = (trial, word) =>
  trial.element.querySelector(`template[data-word="${word}"]`).content.cloneNode(true);

// Both sides in one row where they were seen alike and say the same.
const rowsOf = (sites) => {
  const rows = [];
  for (const each of sites) {
    const twin = rows.find(
      (row) => row.site === each.site && row.chance === each.chance && row.looked === "both" &&
        row.posterior?.table === each.posterior?.table,
    );
    if (twin) twin.sides = "both sides";
    else rows.push({ ...each, sides: each.side });
  }
  return rows;
};

// What takes longer than the words comes a moment later; its place is kept.
const SOON = "\u2026";

const lineOf = (trial, end) => {
  const { verdict, why } = trial.ends[end];
  const parts = [make("strong", {}, upper(end))];
  if (!verdict) {
    parts.push(`: ${why}.`);
    return make("p", { class: "try-line" }, flag(trial, "not known"), make("span", {}, ...parts));
  }
  const weakest = verdict.sites[0];
  if (weakest?.chance === null) parts.push(`: ${weakest.site.label} is not known, ${weakest.unknown}. `);
  else if (weakest) parts.push(`: weakest is the ${weakest.site.label}, ${weakest.side}, ${percent(weakest.chance)} for its wanted gap. `);
  if (verdict.sites.some(({ least }) => least)) {
    parts.push("All known sites at once: ", verdict.joint ? percent(verdict.joint.probability) : SOON, ".");
  }
  return make("p", { class: "try-line" }, flag(trial, verdict.word), make("span", {}, ...parts));
};

// The verdict of an end in a few words, for where the whole one is out of sight.
const shortOf = ({ verdict }) => {
  const weakest = verdict?.sites[0];
  if (!verdict) return "not known";
  return weakest?.chance === null || !weakest ? verdict.word : `${verdict.word}, ${percent(weakest.chance)}`;
};

export const showLines = (trial) => {
  const lines = ENDS.map((end) => lineOf(trial, end));
  const [front, rear] = ENDS.map((end) => trial.ends[end].verdict);
  const isKnown = (verdict) => verdict?.sites.length && verdict.sites.every(({ least }) => least);
  if (isKnown(front) && isKnown(rear)) {
    const chance = carChance(front, rear);
    lines.push(make("p", {}, "Every site of the whole car: ", chance === null ? SOON : percent(chance), "."));
  }
  patch(trial.part("lines"), lines);
  patch(trial.part("bar"), [ENDS.map((end) => `${upper(end)}: ${shortOf(trial.ends[end])}`).join(" · ")].map((text) => document.createTextNode(text)));
};

const tyreWords = (fit) =>
  fit.tyre.section.isNominal ? "tyre by its size alone" : "tyre as measured";

const restsOn = (row, verdict) => {
  const { cars } = row.posterior;
  const who = cars ? `records of ${cars} car${cars === 1 ? "" : "s"}, and the sheet` : "the sheet alone";
  return `${who}; ${tyreWords(verdict.looks[0].whole)}`;
};

const cell = (label, ...content) => make("td", { role: "cell", "data-label": label }, make("span", {}, ...content));

const siteRow = (trial, row, verdict) => {
  addRange(trial.car, row);
  const head = make("th", { scope: "row", role: "rowheader" }, `${row.site.label}, ${row.site.axle}, ${row.sides}`);
  if (row.site.caution) head.append(make("br"), make("span", { class: "small" }, `Caution: ${row.site.caution}`));
  const shown = row.least
    ? [
        cell("Chance", percent(row.chance)),
        cell("Gap, 5 to 95 %", length(row.range.low, { decimals: 0, isSigned: true }), " to ", length(row.range.high, { decimals: 0, isSigned: true })),
        cell("Wanted", length(row.site.wanted, { decimals: 0 })),
        cell("Tightest at", row.least.words),
        cell("Rests on", restsOn(row, verdict)),
      ]
    : [cell("Chance", "not known"), cell("Gap, 5 to 95 %", row.unknown), cell("Wanted", length(row.site.wanted, { decimals: 0 })), cell("Tightest at", ""), cell("Rests on", "nothing")];
  return make("tr", { role: "row" }, head, cell("Expected", flag(trial, row.word)), ...shown);
};

const HEADS = ["Site", "Expected", "Chance", "Gap, 5 to 95 %", "Wanted", "Tightest at", "Rests on"];

const tableOf = (trial, caption, rows) => {
  const heads = HEADS.map((text) => make("th", { scope: "col", role: "columnheader" }, text));
  const table = make(
    "table",
    { role: "table" },
    make("caption", {}, make("span", {}, caption)),
    make("thead", { role: "rowgroup" }, make("tr", { role: "row" }, ...heads)),
    make("tbody", { role: "rowgroup" }, ...rows.map(([row, verdict]) => siteRow(trial, row, verdict))),
  );
  return make("div", { class: "table-region stacks" }, table);
};

export const showSites = (trial) => {
  const all = ENDS.flatMap((end) => {
    const { verdict } = trial.ends[end];
    return verdict ? rowsOf(verdict.sites).map((row) => [row, verdict]) : [];
  });
  all.sort(([a], [b]) => (a.chance ?? -1) - (b.chance ?? -1));
  const isSafe = ([row]) => row.chance !== null && row.chance > SAFE;
  const box = trial.part("sites");
  const isOpen = box.querySelector("details")?.open ?? false;
  const weak = all.filter((each) => !isSafe(each));
  trial.safe = all.filter(isSafe);
  const parts = [];
  if (weak.length) {
    const words = "The weakest first: the chance on the next car that the wanted gap is there";
    parts.push(tableOf(trial, words, weak));
  }
  if (trial.safe.length) {
    const fold = make("details", { open: isOpen || !weak.length }, make("summary", {}, safeWords(trial)));
    if (fold.open) fold.append(tableOf(trial, safeWords(trial), trial.safe));
    parts.push(fold);
  }
  patch(box, parts);
  if (trial.hasSites) return;
  trial.hasSites = true;
  // Rows that nobody looks at are made when somebody does.
  box.addEventListener("toggle", ({ target }) => {
    if (target.open && target.children.length < 2) target.append(tableOf(trial, safeWords(trial), trial.safe));
  }, true);
};

const safeWords = ({ safe }) => `Sites that clear with more than ${SAFE * 100}\u00a0%: ${safe.length}`;

const shownValue = (each, value) => {
  if (each.unit === "mm") return length(value, { isSigned: each.outcome === "for information" });
  return quantity(value, each.unit, { decimals: each.unit === "diameters" || each.unit === "in" ? 2 : each.unit === "pieces" || each.unit === "N·m" ? 0 : 1 });
};

const measuredWords = (each) => {
  if (each.value === null) return [upper(each.words), "."];
  const words = each.words ? ` ${each.words}` : "";
  if (each.bound === null) return [shownValue(each, each.value), `${words}.`];
  return [shownValue(each, each.value), each.most ? "; wanted is at most " : "; wanted is at least ", shownValue(each, each.bound), `${words}.`];
};

const TONES = { holds: "good", fails: "stop", "too close to say": "care", "for information": "plain", "not known": "ask" };

const checkItem = (each) => {
  const hazard = facts.hazards[each.code];
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
    else parts.push(make("details", { "data-group": outcome, open: open.has(outcome) }, make("summary", {}, `${title}: ${items.length}`), list));
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
  const item = make("li", {}, make("strong", {}, upper(words)), `: then ${remedy.word}, ${percent(remedy.chance)}.`);
  for (const { costs } of remedy.steps) if (costs) item.append(` ${costs}`);
  if (remedy.mends.length) item.append(` It mends too: ${remedy.mends.join(", ")}.`);
  const told = bothAsOne(remedy.spoils).map((each) => `${each.label}, ${each.side}: ${each.after} instead of ${each.before}`);
  if (told.length) item.append(" ", make("strong", {}, `It spoils: ${told.join("; ")}.`));
  const looked = [...new Set(remedy.checks.map((each) => `${facts.hazards[each.code].title}${each.end ? `, ${each.end}` : ""} (${each.outcome})`))];
  if (looked.length) item.append(" ", make("strong", {}, `It calls for a look at: ${looked.join("; ")}.`));
  const button = make("button", { type: "button", class: "button" }, "Apply");
  button.setAttribute("aria-label", `Apply: ${words}, ${end}`);
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
    parts.push(make("p", {}, make("button", { type: "button", class: "button", "data-do": "undo" }, `Take back: ${last}`)));
  }
  for (const { end, site, remedies } of found) {
    parts.push(make("h3", {}, `${upper(site.site.label)}, ${end}: ${site.word}`));
    const best = [...remedies].sort((a, b) => spoiling(a) - spoiling(b)).slice(0, facts.levers.mostRemedies);
    if (!best.length) parts.push(make("p", {}, "Nothing that was tried is enough, alone or two together."));
    const listed = (some) => make("ul", { class: "try-remedies" }, ...some.map((each) => remedyItem(trial, end, each)));
    if (best.length) parts.push(listed(best.slice(0, FIRST_REMEDIES)));
    const more = best.slice(FIRST_REMEDIES);
    if (more.length) parts.push(make("details", {}, make("summary", {}, `${more.length} more that spoil as much or more`), listed(more)));
  }
  if (isMore) parts.push(make("p", {}, "Looking further…"));
  else if (!found.length) parts.push(make("p", {}, "Nothing that is known touches or is tight."));
  box.replaceChildren(...parts);
};

const SIGNS = { clears: "c", tight: "t", touches: "x", "not known": "?" };

export const showWindow = (trial, rows) => {
  const strips = Object.entries(rows).map(([end, { cells, here }]) => {
    const heads = cells.map(({ offset }) => make("th", { scope: "col" }, figure(offset, 1, true)));
    const marks = cells.map(({ offset, word }) => {
      const isHere = Math.abs(offset - here) < 1e-6;
      const mark = make("td", { class: `try-word try-word-${word.replace(" ", "-")}${isHere ? " try-here" : ""}` });
      mark.append(make("span", { "aria-hidden": "true" }, SIGNS[word]), make("span", { class: "hidden" }, isHere ? `${word}, this one` : word));
      return mark;
    });
    return make(
      "div",
      { class: "table-region", role: "region", tabindex: 0, "aria-label": `Effective offsets, ${end}` },
      make("table", { class: "try-window" }, make("caption", {}, make("span", {}, `${upper(end)}: effective offset, mm; this one is framed`)), make("thead", {}, make("tr", {}, make("td", {}), ...heads)), make("tbody", {}, make("tr", {}, make("th", { scope: "row" }, "all sites"), ...marks))),
    );
  });
  const legend = make("p", { class: "small" }, "c clears, t tight, x touches, ? not known");
  trial.part("window").replaceChildren(...strips, ...(strips.length ? [legend] : []));
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
  trial.part("first").replaceChildren(make("ul", {}, ...items.map((text) => make("li", {}, text))));
};

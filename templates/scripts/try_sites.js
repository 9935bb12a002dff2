// Site by site: the table of a trial's verdict, the weakest first. It is painted with the press of a
// key that changed it, so rows stay in their places, and only cells that say something else are
// written.
import { addRange } from "./fit/verdict.js";
import { changingLength, changingRange, make, percent, plural, withLengths } from "./numbers.js";

const ENDS = ["front", "rear"];
const CLEAR = "clears";
const FIGURES = 4;
const HEADS = ["Site", "Expected", "Chance", "Gap, 5 to 95\u00a0%", "Wanted", "Tightest at", "Rests on"];
const CAPTION = "The weakest first: the chance on the next car that the wanted gap is there";

export const flag = (trial, word) =>
  trial.element.querySelector(`template[data-word="${word}"]`).content.firstElementChild.cloneNode(true);

// Both sides in one row where they were seen alike and say the same.
const rowsOf = (verdict) => {
  const rows = [];
  for (const each of verdict?.sites ?? []) {
    const twin = rows.find(
      (row) => row.site === each.site && row.chance === each.chance && row.looked === "both" &&
        row.posterior?.table === each.posterior?.table,
    );
    if (twin) twin.sides = "both sides";
    else rows.push({ ...each, sides: each.side, verdict });
  }
  return rows;
};

const tyreWords = (fit) =>
  fit.tyre.section.isNominal ? "tyre by its size alone" : "tyre as measured";

const restsOn = ({ posterior, verdict }) => {
  const { cars } = posterior;
  const who = cars ? `records of ${cars} car${cars === 1 ? "" : "s"}, and the sheet` : "the sheet alone";
  return `${who}; ${tyreWords(verdict.looks[0].whole)}`;
};

// Chance, range and wanted gap are figures.
const kindOf = (at) => (at > 1 && at <= FIGURES ? "figure" : "text");

const put = (text, words) => {
  if (text.data !== words) text.data = words;
};

const show = (element, isShown) => {
  if (element.hidden === isShown) element.hidden = !isShown;
};

// A row with a place for each thing that it says.
const emptyRow = () => {
  const text = () => document.createTextNode("");
  const [name, caution, chance, why, rests] = Array.from({ length: 5 }, text);
  const cautious = make("span", { class: "small try-caution" }, "Caution: ", caution);
  const range = changingRange({ decimals: 0 });
  const wanted = changingLength({ decimals: 0 });
  const [word, words] = [make("span"), make("span")];
  const cells = [word, [chance], [range.element, why], [wanted.element], words, [rests]].map((content, at) =>
    make("td", { role: "cell", "data-label": HEADS[at + 1], class: kindOf(at + 1) }, Array.isArray(content) ? make("span", {}, ...content) : content),
  );
  const head = make("th", { scope: "row", role: "rowheader" }, name, cautious);
  const element = make("tr", { role: "row" }, head, ...cells);
  return { element, name, caution, cautious, word, flags: new Map(), chance, range, why, wanted, words, rests };
};

const putWord = (trial, kept, word) => {
  if (kept.said === word) return;
  kept.said = word;
  if (!kept.flags.has(word)) kept.flags.set(word, flag(trial, word));
  kept.word.replaceChildren(kept.flags.get(word));
};

const putPose = (kept, words) => {
  if (kept.posed === words) return;
  kept.posed = words;
  kept.words.replaceChildren(...withLengths(words));
};

const fillRow = (trial, kept, row) => {
  const { site, least } = row;
  put(kept.name, `${site.label}, ${site.axle}, ${row.sides}`);
  put(kept.caution, site.caution || "");
  show(kept.cautious, Boolean(site.caution));
  putWord(trial, kept, row.word);
  kept.wanted.put(site.wanted);
  show(kept.range.element, Boolean(least));
  put(kept.chance, least ? percent(row.chance) : "not known");
  put(kept.why, least ? "" : row.unknown);
  putPose(kept, least ? least.words : "");
  put(kept.rests, least ? restsOn(row) : "nothing");
  if (!least) return;
  addRange(trial.car, row);
  kept.range.put(row.range.low, row.range.high);
};

const emptyTable = (caption) => {
  const heads = HEADS.map((text, at) => make("th", { scope: "col", role: "columnheader", class: kindOf(at) }, text));
  const words = make("span", {}, caption);
  const body = make("tbody", { role: "rowgroup" });
  const head = make("thead", { role: "rowgroup" }, make("tr", { role: "row" }, ...heads));
  const element = make("table", { role: "table" }, make("caption", {}, words), head, body);
  return { element, words, body, kept: [] };
};

const fillTable = (trial, { body, kept }, rows) => {
  while (kept.length < rows.length) {
    kept.push(emptyRow());
    body.append(kept[kept.length - 1].element);
  }
  kept.forEach((each, at) => {
    show(each.element, at < rows.length);
    if (at < rows.length) fillRow(trial, each, rows[at]);
  });
};

// Rows that nobody looks at are filled when somebody does.
const fillSafe = (trial) => {
  const { fold, safeOnes, safe } = trial.sitesShown;
  if (fold.open) fillTable(trial, safeOnes, safe);
};

const begun = (trial) => {
  const weakOnes = emptyTable(CAPTION);
  const safeOnes = emptyTable("");
  const [region, safeRegion] = [weakOnes, safeOnes].map(({ element }) =>
    make("div", { class: "table-region stacks lines brief" }, element),
  );
  const summary = make("summary");
  const counts = document.createTextNode("");
  const fold = make("details", {}, summary, safeRegion);
  fold.addEventListener("toggle", () => fillSafe(trial));
  trial.part("sites").replaceChildren(make("p", {}, counts), region, fold);
  return { weakOnes, safeOnes, region, counts, fold, summary, safe: [] };
};

// The worst first, as the sides of a site are taken together.
const STANDS = ["touches", "not known", "tight", CLEAR];

// How many sites stand how, each by its weaker side.
const countedSites = (rows) => {
  const weaker = new Map();
  for (const { site, word } of rows) {
    const stand = STANDS.indexOf(word);
    weaker.set(site, Math.min(weaker.get(site) ?? stand, stand));
  }
  const all = [...weaker.values()];
  const told = STANDS.map((word, at) => [all.filter((stand) => stand === at).length, word])
    .filter(([count]) => count)
    .map(([count, word]) => `${count} ${word === CLEAR ? "expected to clear" : word}`);
  return all.length ? `Of ${plural(all.length, "site")}, each by its weaker side: ${told.join(", ")}.` : "";
};

export const showSites = (trial) => {
  trial.sitesShown ??= begun(trial);
  const shown = trial.sitesShown;
  const all = ENDS.flatMap((end) => rowsOf(trial.ends[end].verdict));
  all.sort((a, b) => (a.chance ?? -1) - (b.chance ?? -1));
  const weak = all.filter(({ word }) => word !== CLEAR);
  shown.safe = all.filter(({ word }) => word === CLEAR);
  show(shown.region, weak.length > 0);
  show(shown.fold, shown.safe.length > 0);
  put(shown.counts, countedSites(all));
  const least = shown.safe.length ? `, the weakest with ${percent(shown.safe[0].chance)}` : "";
  const words = `Expected to clear: ${plural(shown.safe.length, "place")}, sides that differ apart${least}`;
  for (const place of [shown.summary, shown.safeOnes.words]) {
    if (place.textContent !== words) place.textContent = words;
  }
  fillTable(trial, shown.weakOnes, weak);
  fillSafe(trial);
};

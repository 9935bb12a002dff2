// Lays two to four setups beside each other. The address names them: ?a=…&b=…; a chassis alone
// stands for the car as stock.
import { countedWords, isApart, isKnown, isShownApart, wordOfFacts, wordOfGaps } from "./compare_differs.js";
import { length, longDate, make, notKnown, plural, quantity, withLengths } from "./numbers.js";
import { overlay } from "./overlay.js";

const LETTERS = ["a", "b", "c", "d"];
const ID = /^[a-z0-9]+(?:-[a-z0-9]+)*(?:\/[a-z0-9]+(?:-[a-z0-9]+)*)?$/;
const LONGEST_ADDRESS = 4000;

const readAddress = () => {
  const notes = [];
  if (location.search.length > LONGEST_ADDRESS) {
    return { ids: [], notes: ["The address is longer than any this page makes; nothing was taken from it."] };
  }
  const ids = [];
  let left = 0;
  for (const [key, value] of new URLSearchParams(location.search)) {
    if (key === "units") continue;
    const isOne = LETTERS.includes(key) && value.length <= 200 && ID.test(value);
    if (isOne && !ids.includes(value) && ids.length < LETTERS.length) ids.push(value);
    else left += 1;
  }
  if (left) notes.push("Part of the address was not understood and was left out.");
  return { ids, notes };
};

const addressOf = (ids) => {
  const parts = new URLSearchParams(ids.map((id, at) => [LETTERS[at], id]));
  const units = new URLSearchParams(location.search).get("units");
  if (units) parts.set("units", units);
  return "?" + parts;
};

const load = async (id) => {
  try {
    const answer = await fetch(`compare/${id}.json`);
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
};

const written = (fact) => {
  if (fact?.unknown) return make("span", { class: "not-known" }, fact.words);
  if (fact?.words !== undefined) return make("bdi", {}, fact.words);
  if (fact?.value === undefined) return notKnown();
  const how = { u: fact.u || 0, decimals: fact.decimals, isSigned: fact.signed };
  return fact.unit === "mm" ? length(fact.value, how) : quantity(fact.value, fact.unit, how);
};

const change = (fact, first) => {
  if (fact?.value === undefined || first?.value === undefined || fact === first) return [];
  if (!isShownApart(fact, first)) return [];
  const by = fact.value - first.value;
  const how = { decimals: Math.max(fact.decimals, first.decimals), isSigned: true };
  const shown = fact.unit === "mm" ? length(by, how) : quantity(by, fact.unit, how);
  return [make("span", { class: "laid-change" }, shown, make("span", { class: "hidden" }, " against A"))];
};

const isWithdrawn = (column) => column.standing === "withdrawn";
const hasLapsed = (column) => isWithdrawn(column) || column.standing.startsWith("replaced");

// The letter of a column; what counts no more says so wherever it is named.
const named = (column) => column.letter + (hasLapsed(column) ? ` (${column.standing.split(" ")[0]})` : "");

// A column that counts no more is muted and has no flags; what a withdrawn one says of gaps is struck
// out and held against nothing. A replaced one tells of its car as it was, and differs from others.
const cell = (column, kind, ...content) => {
  const soft = hasLapsed(column) ? " soft" : "";
  return make("td", { role: "cell", "data-label": column.letter, class: kind + soft }, make("span", {}, ...content));
};

const row = (name, word, cells) =>
  make(
    "tr",
    { role: "row", class: word === "differs" ? "differs" : "same" },
    make("th", { scope: "row", role: "rowheader" }, name, ...(word === "differs" ? [make("span", { class: "laid-mark" }, "differs")] : [])),
    ...cells,
  );

// On a phone, where a row's columns stand below its name, columns that say the same share a cell: the
// first one has the letters of all, the others are told by it (compare.css).
const shared = (columns, cells) => {
  const firsts = new Map();
  cells.forEach((each, at) => {
    const { letter } = columns[at];
    const said = each.textContent + (each.querySelector("s") ? letter : "");
    const first = firsts.get(said);
    each.dataset.letters = letter;
    if (!first) firsts.set(said, each);
    else {
      first.dataset.letters += ` ${letter}`;
      each.classList.add("laid-told");
    }
  });
  for (const each of firsts.values()) {
    const count = each.dataset.letters.split(" ").length;
    each.classList.toggle("laid-all", firsts.size === 1 && columns.length > 1);
    const isWhole = firsts.size === 1 || (columns.length > 3 && (firsts.size === 2 || count > 1));
    each.classList.toggle("laid-whole", isWhole);
  }
  return cells;
};

const tableOf = (caption, columns, rows, words, kind) => {
  const gone = columns.filter(isWithdrawn).map((each) => `; ${each.letter} is withdrawn`);
  const counted = columns.length > 1 && words.length ? [make("span", { class: "laid-mark" }, countedWords(words), ...gone)] : [];
  return make(
    "div",
    { class: "table-region laid-table", role: "region", "aria-label": caption, tabindex: 0 },
    make(
      "table",
      { role: "table" },
      make("caption", {}, make("span", {}, caption, ...counted)),
      make(
        "thead",
        { role: "rowgroup" },
        make(
          "tr",
          { role: "row" },
          make("th", { scope: "col", role: "columnheader" }, "What"),
          ...columns.map((each) =>
            make("th", { scope: "col", role: "columnheader", class: kind + (hasLapsed(each) ? " soft" : "") }, `${hasLapsed(each) || !each.standing ? named(each) : `${each.letter} (${each.standing})`}: `, make("bdi", {}, each.title)),
          ),
        ),
      ),
      make("tbody", { role: "rowgroup" }, ...rows),
    ),
  );
};

const factTable = (columns, end) => {
  const lists = columns.map((each) => new Map(each.ends[end].facts.map((fact) => [fact.label, fact])));
  const labels = [...new Set(lists.flatMap((list) => [...list.keys()]))];
  const words = [];
  const rows = labels.map((label) => {
    const facts = lists.map((list) => list.get(label));
    words.push(wordOfFacts(facts.filter((_, at) => !isWithdrawn(columns[at]))));
    const cells = columns.map((column, at) => cell(column, "figure", written(facts[at]), ...change(facts[at], facts[0])));
    return row(label, words.at(-1), shared(columns, cells));
  });
  return tableOf(upper(end), columns, rows, words, "figure");
};

const gapCell = (column, gap, templates) => {
  if (!gap) return cell(column, "", make("span", { class: "small soft" }, "not on the sheet of this car"));
  const unflagged = gap.word === "unknown" ? notKnown() : make(isWithdrawn(column) ? "s" : "span", {}, gap.word);
  const flag = hasLapsed(column) ? unflagged : templates.get(gap.word).content.cloneNode(true);
  return cell(column, "", flag, make("br"), make("span", { class: "small soft" }, make("bdi", {}, ...withLengths(gap.reason))));
};

const gapTable = (caption, columns, names, templates, isCounted = true) => {
  const words = [];
  const rows = names.map((name) => {
    const found = columns.map((column) => {
      const gap = column.gaps.find((each) => each.site === name);
      return gap && { ...gap, isWithdrawn: isWithdrawn(column) };
    });
    words.push(wordOfGaps(found));
    const cells = columns.map((column, at) => gapCell(column, found[at], templates));
    return row(name, words.at(-1), shared(columns, cells));
  });
  return tableOf(caption, columns, rows, isCounted ? words : [], "text");
};

const upper = (words) => words.charAt(0).toUpperCase() + words.slice(1);

const factOf = (column, end, label) => column.ends[end].facts.find((fact) => fact.label === label);

const further = (by, more, less) => (by ? [length(Math.abs(by)), " ", by > 0 ? more : less] : null);

// A sentence of what moved from A to another column, or that too little is known to say it.
const sentence = (first, other, end) => {
  let isUnknown = false;
  const of = (label) => {
    const [from, to] = [first, other].map((column) => factOf(column, end, label));
    if (!isKnown(from) || !isKnown(to)) isUnknown = true;
    else if (isApart(to, from)) return to.value - from.value;
    return 0;
  };
  const parts = [
    further(of("Tyre width"), "wider", "narrower"),
    further(of("Tyre diameter"), "taller", "shorter"),
    further(of("Outboard face from the hub face"), "further out at its outboard face", "further in at its outboard face"),
    further(-of("Inboard face from the hub face"), "further in at its inboard face", "further out at its inboard face"),
  ].filter(Boolean);
  const words = parts.flatMap((part, at) => (at ? [", ", ...part] : part));
  if (!parts.length) words.push(isUnknown ? "too little is known to say" : "as on A within their ±");
  else if (isUnknown) words.push("; the rest is not known");
  return make("li", {}, `${named(other)}, ${end}: `, parts.length ? "the tyre is " : "", ...words, ".");
};

const cardOf = (column, ids, templates) => {
  const others = ids.filter((id) => id !== column.id);
  const isGone = hasLapsed(column);
  const flags = (isGone ? [] : [column.flag, column.word]).filter(Boolean).map((word) => templates.get(word));
  return make(
    "li",
    { class: isGone ? "laid soft" : "laid" },
    make("p", { class: "kicker" }, column.chassis),
    make(
      "h2",
      {},
      make("span", { class: `laid-letter laid-${column.letter.toLowerCase()}` }, column.letter),
      make("a", { href: column.href }, make("bdi", {}, column.title)),
    ),
    ...(flags.length ? [make("p", { class: "row" }, ...flags.map((each) => each.content.cloneNode(true)))] : []),
    make("p", {}, make(isGone ? "strong" : "bdi", {}, column.sentence)),
    make("p", { class: "row" },
      make("span", { class: "small soft" }, column.told + (column.day === null ? "" : ", " + longDate(column.day)) + (column.standing && !isGone ? "; " + column.standing : "")),
      make("a", { class: "print-hidden", href: addressOf(others), "data-laid": "" }, "Remove")),
  );
};

const drawing = (columns, end) => {
  const outlines = columns
    .map((each) => ({ letter: each.letter, name: named(each), isGone: hasLapsed(each), points: each.ends[end].outline }))
    .filter((each) => each.points.length);
  const missing = columns.filter((each) => !each.ends[end].outline.length).map((each) => each.letter);
  const cars = new Set(columns.map((each) => each.chassisId));
  const skins = cars.size === 1 ? [columns[0].ends[end].skin].filter((skin) => skin !== null) : [];
  const name = upper(end);
  const title = `${name}: ${outlines.map((each) => each.name).join(", ")} in section`;
  const remarks = ["Tyre and rim in outline from each car's own hub face; outboard is to the left."];
  if (missing.length) remarks.push(`Not known, and not drawn: ${missing.join(", ")}.`);
  return make(
    "figure",
    { class: "plate" },
    ...(outlines.length ? [make("div", { class: "plate-sheet" }, overlay(`laid-${end}`, title, outlines, skins))] : []),
    make("figcaption", { class: "small" }, make("strong", {}, name), ". ", remarks.join(" ")),
  );
};

const withoutGaps = (column) =>
  column.id === column.chassisId ? "nobody reports the gaps of the car as stock" : "its chassis has no sheet that names sites";

const NUMBERS_TOLD =
  "In italics: the change against A, taken before rounding. Numbers differ by more than both ± combined (root of the sum of squares: ±\u00a03 and ±\u00a01 make 3.2); one without ± counts as exact.";
const GAPS_TOLD = "Gaps differ by their word or, in one position, by more than their tools.";
const GONE_TOLD = " What is withdrawn is in no count; its words on gaps are struck out.";
const REPLACED_TOLD = "A replaced record tells of its car as it was: its differences are counted here, and the club learns nothing from it any more.";

const contents = (columns, ids, templates) => {
  const others = columns.slice(1);
  const reporting = columns.filter((each) => each.gaps.length);
  const isMixed = new Set(columns.map((each) => each.chassisId)).size > 1;
  const mixed = "These are different cars: what clears on one says nothing about the other.";
  return [
    make("ul", { class: "laid-cards plain" }, ...columns.map((each) => cardOf(each, ids, templates))),
    ...(isMixed ? [make("div", { class: "said", role: "note" }, make("p", {}, mixed))] : []),
    ...(columns.some((each) => hasLapsed(each) && !isWithdrawn(each)) ? [make("p", { class: "small soft" }, REPLACED_TOLD)] : []),
    ...(others.length
      ? [
          make("h2", {}, `Against ${named(columns[0])}`),
          make("ul", {}, ...others.flatMap((each) => ["front", "rear"].map((end) => sentence(columns[0], each, end)))),
        ]
      : []),
    make("h2", {}, "In section"),
    make("div", { class: "plates" }, drawing(columns, "front"), drawing(columns, "rear")),
    make("h2", {}, "Numbers"),
    make(
      "p",
      {},
      make("label", { class: "laid-only print-hidden" }, make("input", { type: "checkbox", "data-only": "" }), " only what differs"),
    ),
    ...(others.length ? [make("p", { class: "small soft" }, NUMBERS_TOLD)] : []),
    make("div", { class: columns.length > 2 ? null : "laid-ends" }, factTable(columns, "front"), factTable(columns, "rear")),
    make("h2", {}, "Gaps as reported"),
    make("p", {}, "The least favourable of each site. What nobody looked at is not known, never clear."),
    ...columns.filter((each) => !each.gaps.length).map((each) => make("p", {}, `${each.letter} is not in this table: ${withoutGaps(each)}.`)),
    ...(reporting.length > 1 ? [make("p", { class: "small soft" }, GAPS_TOLD + (columns.some(isWithdrawn) ? GONE_TOLD : ""))] : []),
    ...gaps(reporting, templates),
  ];
};

// A site of one car alone compares nothing: where it clears it is folded away under its number.
const gaps = (columns, templates) => {
  if (!columns.length) return [make("p", { class: "not-known" }, "No gap was reported: nothing is known.")];
  const seen = new Map();
  for (const { site, word } of columns.flatMap((each) => each.gaps)) {
    seen.set(site, [...(seen.get(site) ?? []), word]);
  }
  const isLone = (name) => columns.length > 1 && seen.get(name).length === 1 && seen.get(name)[0] === "clears";
  const isRear = (name) => Number(name.startsWith("rear"));
  const names = [...seen.keys()].sort((one, other) => isRear(one) - isRear(other));
  const [shared, lone] = [false, true].map((wanted) => names.filter((name) => isLone(name) === wanted));
  const parts = shared.length ? [gapTable("Gaps", columns, shared, templates)] : [];
  if (!lone.length) return parts;
  const words = `${plural(lone.length, "site")} that only one of these cars has, reported clear there`;
  return [...parts, make("details", {}, make("summary", {}, words), gapTable(words, columns, lone, templates, false))];
};

const show = async (element) => {
  const { ids, notes } = readAddress();
  const place = element.querySelector("[data-part=laid]");
  const found = await Promise.all(ids.map(load));
  const lost = ids.filter((_, at) => !found[at]);
  if (lost.length) notes.push(`Not found in this guide: ${lost.join(", ")}.`);
  const columns = found.filter(Boolean).map((each, at) => ({ ...each, letter: LETTERS[at].toUpperCase() }));
  const told = element.querySelector("[data-part=notes]");
  told.hidden = notes.length === 0;
  told.replaceChildren(...notes.map((note) => make("p", {}, note)));
  const templates = new Map([...element.querySelectorAll("template")].map((each) => [each.dataset.word, each]));
  const kept = columns.map((each) => each.id);
  place.replaceChildren(...(columns.length ? contents(columns, kept, templates) : []));
  element.querySelector("[data-part=none]").hidden = columns.length > 0;
  const finding = element.querySelector("[data-part=another]");
  const query = new URLSearchParams(kept.filter((id) => id.includes("/")).map((id) => ["pick", id]));
  finding.href = finding.dataset.href + (kept.length ? "?" + query : "");
  element.querySelector("[data-part=status]").textContent =
    columns.length === 1 ? "one setup shown" : `${columns.length} setups beside each other`;
  element.dataset.ready = "";
};

export const start = async (element) => {
  element.addEventListener("change", (event) => {
    if (event.target.dataset.only === undefined) return;
    element.toggleAttribute("data-only-differences", event.target.checked);
  });
  element.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-laid]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    history.pushState(null, "", link.getAttribute("href"));
    show(element).then(() => element.focus());
  });
  addEventListener("popstate", () => show(element));
  await show(element);
};

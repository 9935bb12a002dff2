// Hardware, brakes and numbers of a trial: what of them stands in the verdict, and each with what was
// found.
import { facts } from "./fit/facts.js";
import { length, make, plural, quantity, withLengths } from "./numbers.js";
import { patch } from "./patch.js";

const DANGER = "do not drive";
const TO_KNOW = "know it";
const GRAVITIES = [DANGER, "put it right", TO_KNOW];
const TONES = { fails: "stop", "too close to say": "care", "not known": "ask", "for information": "plain", holds: "good" };
export const upper = (text) => text[0].toUpperCase() + text.slice(1);

const gravityOf = ({ code }) => facts.hazards[code].gravity;
// A drum brake has no caliper to ask for.
export const hazardOf = ({ code, isDrum }) => (isDrum ? facts.hazards[code].drum : facts.hazards[code]);

// What a check counts as: a danger that is too close to say counts as failing.
const isDoubtful = (each) => each.outcome === "too close to say" && gravityOf(each) === DANGER;
export const countsAs = (each) => (isDoubtful(each) ? "fails" : each.outcome);

// The checks by what they mean for the verdict.
export const sorted = (checks) => {
  const counted = (word) => checks.filter((each) => countsAs(each) === word);
  const gravest = (one, other) => GRAVITIES.indexOf(gravityOf(one)) - GRAVITIES.indexOf(gravityOf(other));
  const fails = counted("fails").sort(gravest);
  const isOf = (gravity) => fails.some((each) => gravityOf(each) === gravity);
  return {
    fails, close: counted("too close to say"), unknown: counted("not known"),
    isDanger: isOf(DANGER), isGrave: fails.some((each) => gravityOf(each) !== TO_KNOW),
  };
};

// The names of checks, each once, with its ends; where an end has more than one, how many they are.
const named = (checks) => {
  const ends = new Map();
  for (const each of checks) {
    const { title } = hazardOf(each);
    ends.set(title, [...(ends.get(title) ?? []), each.end]);
  }
  const where = (at) => {
    const places = new Set(at);
    const [place] = places;
    const said = [places.size > 1 ? "both ends" : place, at.length > places.size && plural(at.length, "check")].filter(Boolean);
    return said.length ? ` (${said.join(", ")})` : "";
  };
  return [...ends].map(([title, at]) => title + where(at)).join(", ");
};

// What fails by what it asks for, the gravest first.
const byGravity = (fails) =>
  GRAVITIES.map((gravity) => [gravity, fails.filter((each) => gravityOf(each) === gravity)])
    .filter(([, some]) => some.length)
    .map(([gravity, some]) => `${gravity}: ${named(some)}`)
    .join("; ");

const share = (some, all) => `${some.length} of ${all.length} checks`;

// What the verdict says of them: {word, text, unknown, short}; unknown names what is not known.
export const checksLine = (checks) => {
  if (!checks) {
    return { word: "not known", text: ": they need a wheel and a tyre at both ends.", unknown: "", short: "checks not known" };
  }
  const { fails, close, unknown } = sorted(checks);
  const told = [];
  if (fails.length) told.push(`${share(fails, checks)} ${fails.length === 1 ? "fails" : "fail"}. ${upper(byGravity(fails))}.`);
  if (close.length) told.push(`${share(close, checks)} too close to say: ${named(close)}.`);
  if (!told.length) told.push(unknown.length ? `of ${checks.length} checks none fails, but ${unknown.length} are not known yet.` : `all ${checks.length} checks hold or only inform.`);
  const word = fails.length ? "fails" : close.length ? "too close to say" : unknown.length ? "not known" : "holds";
  const most = fails.length || close.length || unknown.length;
  const verbs = { fails: most === 1 ? "fails" : "fail", "too close to say": "too close", "not known": "not known" };
  const short = word === "holds" ? "checks hold" : `${plural(most, "check")} ${verbs[word]}`;
  const names = unknown.length ? `Not known yet, ${unknown.length} of ${checks.length} checks: ${named(unknown)}.` : "";
  return { word, text: `: ${told.join(" ")}`, unknown: names, short };
};

const PLACES = { diameters: 2, in: 2, pieces: 0, "N·m": 0, kg: 0, "km/h": 0 };
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
  return each.unit === "mm" ? length(value, { decimals }) : quantity(value, each.unit, { decimals });
};

// What the number is stands around it; its sign is in those words.
const measuredWords = (each) => {
  const words = each.words ? withLengths(`${upper(each.words)}.`) : [];
  if (each.value === null) return words;
  if (!each.said.includes("{}")) return [`${upper(each.said)}. `, ...words];
  const [before, after] = upper(each.said).split("{}");
  const wanted = each.bound === null ? [] : [`; wanted is at ${each.most ? "most" : "least"} `, shownValue(each, each.bound)];
  return [...withLengths(before), shownValue(each, Math.abs(each.value)), after, ...wanted, ". ", ...words];
};

const checkItem = (each) => {
  const hazard = hazardOf(each);
  const where = [each.end, each.side === "both" ? null : each.side].filter(Boolean).map((word) => `, ${word}`).join("");
  const outcome = countsAs(each);
  const isOpen = outcome === "fails" || outcome === "too close to say";
  const item = make("li", { class: `tone-${TONES[outcome]}` });
  item.append(make("strong", {}, `${upper(hazard.title)}${where}: ${outcome}${isOpen ? `, ${gravityOf(each)}` : ""}.`), " ", ...measuredWords(each));
  if (isDoubtful(each)) item.append(" Known to ±", shownValue(each, each.u), ", it cannot be told from what is wanted, so it counts as failing.");
  if (isOpen) item.append(make("br"), make("span", { class: "small" }, hazard.why));
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

export const showChecks = (trial) => {
  const box = trial.part("checks");
  const { checks } = trial;
  if (!checks) {
    patch(box, [make("p", {}, "They need a wheel and a tyre at both ends.")]);
    return;
  }
  const open = new Set([...box.querySelectorAll("details[open]")].map((each) => each.dataset.group));
  const parts = [];
  for (const [outcome, title] of CHECK_GROUPS) {
    const items = checks.filter((each) => countsAs(each) === outcome).map(checkItem);
    if (!items.length) continue;
    const list = make("ul", { class: "try-list" }, ...items);
    if (outcome === "fails" || outcome === "too close to say") parts.push(make("h3", {}, `${title}: ${items.length}`), list);
    else parts.push(make("details", { class: "try-checked", "data-group": outcome, open: open.has(outcome) }, make("summary", {}, `${title}: ${items.length}`), list));
  }
  parts.push(make("p", { class: "small soft" }, "Torque, run-out, date codes and weights are read on the parts themselves; the vehicle maker's data goes first."));
  patch(box, parts);
};

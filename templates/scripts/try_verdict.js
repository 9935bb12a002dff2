// The verdict of a trial in lines: in a word, each end with its weakest site, what fails and is not
// known of the hardware, and all sites at once. It is painted with the press of a key that changed it,
// so its lines stay and only words that differ are written.
import { carChance } from "./fit/verdict.js";
import { make, percent, plural } from "./numbers.js";
import { checksLine, sorted, upper } from "./try_checks.js";
import { flag } from "./try_sites.js";

const ENDS = ["front", "rear"];
// What takes longer than the rest comes a moment later; its place is kept.
const SOON = "\u2026";

const wordOf = ({ verdict }) => verdict?.word ?? "not known";

const wordsOf = ({ verdict, why }) => {
  if (!verdict) return `: ${why}.`;
  const weakest = verdict.sites[0];
  const isAll = verdict.sites.every(({ least }) => least);
  let told = "";
  if (weakest?.chance === null) told = `: ${weakest.site.label} is not known, ${weakest.unknown}. `;
  else if (weakest) told = `: the weakest site is the ${weakest.site.label}, ${weakest.side}: chance ${percent(weakest.chance)}. `;
  if (!verdict.sites.some(({ least }) => least)) return told;
  return `${told}All ${isAll ? "its" : "known"} sites at once: ${verdict.joint ? percent(verdict.joint.probability) : SOON}.`;
};

// The verdict of an end in a few words, for where the whole one is out of sight.
const shortOf = (told) => {
  const { joint, sites } = told.verdict ?? {};
  const weakest = sites?.[0]?.chance ?? null;
  if (weakest === null) return wordOf(told);
  return `${wordOf(told)}, all sites ${joint ? percent(joint.probability) : SOON}, weakest ${percent(weakest)}`;
};

const counted = (count, before) => (before ? `${count}` : plural(count, "check"));

// All of it in a line. What fails or is not known never reads as good.
const headline = ({ ends, checks, misread }) => {
  const at = (word) => ENDS.filter((end) => wordOf(ends[end]) === word).join(" and ");
  const [touches, lost, tight] = ["touches", "not known", "tight"].map(at);
  const { fails, close, unknown, isDanger, isGrave } = sorted(checks ?? []);
  const reasons = [
    misread.size && (misread.size === 1 ? "one entry cannot be read and is left out" : `${misread.size} entries cannot be read and are left out`),
    touches && `expected to touch at the ${touches}`,
    lost && `not known at the ${lost}`,
    tight && `tight at the ${tight}`,
    !touches && !lost && !tight && "every gap is expected to clear",
    fails.length && `${plural(fails.length, "check")} ${fails.length === 1 ? "fails" : "fail"}`,
    close.length && `${counted(close.length, fails.length)} too close to say`,
    unknown.length && `${counted(unknown.length, fails.length + close.length)} not known yet`,
    checks && !fails.length && !close.length && !unknown.length && "every check holds",
  ].filter(Boolean);
  const isOpen = misread.size || lost || unknown.length || !checks;
  const isCare = tight || fails.length || close.length;
  const lead = isDanger ? "do not drive like this" : touches || isGrave ? "not like this" : isOpen ? "not settled" : isCare ? "with care" : "clears";
  return `: ${lead}. ${upper(reasons.join(", "))}.`;
};

const lineOf = (name) => {
  const words = document.createTextNode("");
  const mark = make("span", { class: "try-mark" });
  const element = make("div", { class: "try-line" }, mark, make("span", {}, make("strong", {}, name), words));
  return { element, mark, words };
};

const begun = (trial) => {
  const lines = [...ENDS, "hardware and loads"].map((name) => lineOf(upper(name)));
  trial.part("lines").replaceChildren(...lines.slice(0, 2).map(({ element }) => element));
  trial.part("checked").replaceChildren(lines[2].element);
  const places = ["unknown", "car", "bar", "headline"].map((part) => {
    const text = document.createTextNode("");
    trial.part(part).replaceChildren(text);
    return [part, text];
  });
  return { lines, ...Object.fromEntries(places) };
};

const put = (text, words) => {
  if (text.data !== words) text.data = words;
};

const fill = (trial, line, word, words) => {
  if (line.word !== word) line.mark.replaceChildren(flag(trial, word));
  line.word = word;
  put(line.words, words);
};

export const showLines = (trial) => {
  const { lines, unknown, car, bar, headline: head } = (trial.linesShown ??= begun(trial));
  const told = ENDS.map((end) => trial.ends[end]);
  told.forEach((each, at) => fill(trial, lines[at], wordOf(each), wordsOf(each)));
  const checked = checksLine(trial.checks);
  fill(trial, lines[2], checked.word, checked.text);
  const [front, rear] = told.map(({ verdict }) => verdict);
  const isKnown = (verdict) => verdict?.sites.length && verdict.sites.every(({ least }) => least);
  const whole = isKnown(front) && isKnown(rear) ? (carChance(front, rear) ?? SOON) : null;
  put(car, whole === null ? "" : `Every site of the whole car at once: ${whole === SOON ? SOON : percent(whole)}. `);
  put(unknown, checked.unknown);
  put(head, headline(trial));
  const short = told.map((each, at) => `${upper(ENDS[at])}: ${shortOf(each)}`);
  if (trial.misread.size) short.unshift("An entry cannot be read");
  put(bar, [...short, checked.short].join(" · "));
};

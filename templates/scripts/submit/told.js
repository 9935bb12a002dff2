// Faults as the form tells them: the words are those of `gapbook check`.
import { make } from "../numbers.js";

const WORDS = { error: "to mend", warning: "to look at again", note: "to know" };

// Gives the texts to type instead, where a fault proposes any for its own field; a choice between
// several fields is left to who measured. A number without a unit may be one of several.
export const proposed = ({ code, fix, route }) => {
  const name = [...route].reverse().find((step) => typeof step === "string");
  if (!/^write `[^`]+`(?: or `[^`]+`)*(?:, whichever was read)?$/.test(fix) || /^[RL]/.test(code)) return [];
  const found = [...fix.matchAll(/`(?:([a-z_]+): )?([^`]+)`/g)];
  const isOwn = found.every(([, key, text]) => (!key || key === name) && !/ or |…/.test(text));
  return isOwn ? found.map(([, , text]) => text) : [];
};

// Texts of rules show what was typed between backquotes; a short one stays on its line.
const LONGEST_WHOLE = 24;
const marked = (text) =>
  text.split("`").map((part, place) => (place % 2 ? make("code", { class: part.length <= LONGEST_WHOLE && "together" }, make("bdi", {}, part)) : part));

export const faultLine = (fault, templates, { faults, ruled }, buttons) => {
  const { code, severity, headline, expected, why, fix } = fault;
  const page = /^[LR]/.test(code) ? ruled : faults;
  const glyph = templates.get(severity).content.cloneNode(true);
  const more = [
    ...(expected ? [make("p", {}, "Expected: ", ...marked(expected))] : []),
    ...(fix && !buttons.length ? [make("p", {}, "Fix: ", ...marked(fix))] : []),
    ...(why ? [make("details", {}, make("summary", {}, "Why"), make("p", {}, ...marked(why)))] : []),
  ];
  return make(
    "div",
    { class: `submit-fault is-${severity}` },
    make("p", {}, glyph, " ", make("span", { class: "hidden" }, `${WORDS[severity]}: `), ...marked(headline), " ", make("a", { href: `${page}#${code.toLowerCase()}` }, code)),
    ...more,
    ...(buttons.length ? [make("p", { class: "row" }, ...buttons)] : []),
  );
};

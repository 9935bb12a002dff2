// Faults as the form tells them: the words are those of `gapbook check`.
import { make } from "../numbers.js";

const WORDS = { error: "to mend", warning: "to look at again", note: "to know" };

// Gives the texts to type instead, where a fault proposes one for its own field; a choice between
// several fields is left to who measured. A length without a unit may be either.
export const proposed = ({ code, fix, route }) => {
  const name = [...route].reverse().find((step) => typeof step === "string");
  const found = /^write `(?:([a-z_]+): )?([^`]+)`$/.exec(fix);
  if (!found || (found[1] && found[1] !== name) || /^[RL]/.test(code)) return [];
  const text = found[2];
  if (/ or |…/.test(text)) return [];
  return code === "Q08" && / mm$/.test(text) ? [text, text.replace(/mm$/, "in")] : [text];
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

// What differs between the columns of a comparison. Only what is known is held against what is known:
// numbers differ by more than the root of their standard uncertainties squared and added, gaps of one
// position by more than their tools may. What is withdrawn is held against nothing.
const SAME = 0.05;

export const isKnown = (fact) => fact !== undefined && !fact.unknown && (fact.words ?? fact.value) !== undefined;

export const isShownApart = (fact, first) => Math.abs(fact.value - first.value) > SAME;

export const isApart = (fact, first) =>
  isShownApart(fact, first) && Math.abs(fact.value - first.value) > Math.hypot(fact.u || 0, first.u || 0);

const pairs = (list) => list.flatMap((one, at) => list.slice(at + 1).map((other) => [one, other]));

const factsDiffer = (one, other) => one.words !== other.words || isApart(one, other);

export const wordOfFacts = (facts) => {
  const found = pairs(facts.filter(isKnown)).map(([one, other]) => factsDiffer(one, other));
  return found.length ? (found.includes(true) ? "differs" : "same") : "lost";
};

// A bound that is not told is null.
const beyond = (one, other) =>
  Math.max((one.low ?? -Infinity) - (other.high ?? Infinity), (other.low ?? -Infinity) - (one.high ?? Infinity));

// Whether two gaps differ; null where they were taken in different positions and both say the same.
const gapsDiffer = (one, other) => {
  if (one.word !== other.word) return true;
  return one.state === other.state ? beyond(one, other) > one.spread + other.spread : null;
};

export const wordOfGaps = (gaps) => {
  const known = gaps.filter((gap) => gap && gap.word !== "unknown" && !gap.isWithdrawn);
  const found = pairs(known).map(([one, other]) => gapsDiffer(one, other));
  if (found.includes(true)) return "differs";
  return found.includes(false) ? "same" : "lost";
};

// How many rows of a table differ, and how many nobody can compare.
export const countedWords = (words) => {
  const count = (word) => words.filter((each) => each === word).length;
  const [differs, same, lost] = [count("differs"), count("same"), count("lost")];
  const parts = differs || same ? [`${differs || "nothing"} ${differs > 1 ? "differ" : "differs"}`] : [];
  if (same) parts.push(`${same} alike`);
  if (lost) parts.push(`${lost} cannot be compared`);
  return parts.join(", ");
};

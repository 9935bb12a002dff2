// What would make a site clear: generator/evidence/remedies.py. What falls short of that is no remedy
// and is not offered. A change is tried on that one site, and what is found is put back through the
// whole end and the checks of the whole car.
//
//   remediesFor(car, axle, on, before, name)   on: what is fitted at both ends, null where nothing is;
//                                              before: endVerdict of the end as it is
//     yields null, or {steps: [{kind, words, costs}], change, word, chance, whole, mends, spoils, checks};
//     `whole` is the word for the end as it then is
//   ranked(remedies)                           the best of them, that which spoils least first
//   failing(end)                               the sites that want a remedy: [{name, word}]
import { changed } from "./candidate.js";
import { broken, checksOf } from "./checks.js";
import { NotKnown, facts } from "./facts.js";
import { leversOf } from "./levers.js";
import { clearances, endVerdict, judged } from "./verdict.js";

const ORDER = ["touches", "not known", "tight", "clears"];
const WEIGHT = { touches: 4, "not known": 2, tight: 1, clears: 0 };

// The least amount is sought where the odds point to, so many times before the row is halved.
const GUESSES = 3;
const CERTAIN = 1e-9;

const logOdds = (chance) => {
  const inside = Math.min(Math.max(chance, CERTAIN), 1 - CERTAIN);
  return Math.log(inside / (1 - inside));
};

// How a site stands on its weaker side: whether it is expected to clear, and by what odds more.
const told = (sites) => {
  const chances = sites.map(({ chance }) => chance);
  const isKnown = chances.length > 0 && chances.every((chance) => chance !== null);
  return {
    isEnough: sites.length > 0 && sites.every(({ word }) => word === "clears"),
    odds: isKnown ? logOdds(Math.min(...chances)) - logOdds(facts.verdict.expected) : NaN,
  };
};

// Where the odds would be even if they rose evenly from place to place.
const guess = (low, high) => {
  if (!(low.odds < 0 && high.odds >= 0)) return (low.at + high.at) >> 1;
  const share = low.odds / (low.odds - high.odds);
  return Math.min(Math.max(low.at + Math.ceil(share * (high.at - low.at)), low.at + 1), high.at - 1);
};

// One site of one end, on which changes are tried. chosen: [[lever, amount], …], made in turn.
class Trial {
  constructor(car, axle, on, before, name) {
    Object.assign(this, { car, axle, on, before, name, fitted: on[axle] });
    this.here = before.sites.filter((each) => each.site.name === name);
  }

  // What is fitted after changes; null where they cannot be made.
  after(chosen) {
    try {
      return chosen.reduce((fitted, [lever, amount]) => changed(fitted, lever.change(amount)), this.fitted);
    } catch (trouble) {
      if (trouble instanceof NotKnown) return null;
      throw trouble;
    }
  }

  sites(fitted) {
    const { found } = clearances(this.car, this.axle, fitted, new Set([this.name]));
    return judged(this.car, this.axle, found, false);
  }

  // Whether changes are enough, and by what odds; NaN where a side is not known.
  reaches(chosen) {
    const fitted = this.after(chosen);
    if (!fitted) return { isEnough: false, odds: NaN };
    return told(this.sites(fitted));
  }

  // The least amount with which the site clears; undefined where none is enough.
  smallest(lever, before = []) {
    const { amounts } = lever;
    const tried = (at) => ({ at, ...this.reaches([...before, [lever, amounts[at]]]) });
    if (lever.inTurn) return amounts.find((_, at) => tried(at).isEnough);
    let high = tried(amounts.length - 1);
    if (!high.isEnough) return undefined;
    let low = { at: -1, odds: before.length ? NaN : told(this.here).odds };
    for (let guesses = 0; high.at - low.at > 1; guesses += 1) {
      const next = tried(guesses < GUESSES ? guess(low, high) : (low.at + high.at) >> 1);
      if (next.isEnough) high = next;
      else low = next;
    }
    return amounts[high.at];
  }

  // The chance on the weaker side; null where it is not known.
  leastChance(fitted) {
    const chances = fitted ? this.sites(fitted).map(({ chance }) => chance) : [];
    return chances.length && chances.every((chance) => chance !== null) ? Math.min(...chances) : null;
  }

  *alone(levers) {
    for (const lever of levers) {
      const amount = this.smallest(lever);
      yield amount === undefined ? null : [[lever, amount]];
    }
  }

  // Two kinds together, the second no more than it must be, then the first.
  *pairs(levers) {
    const here = this.leastChance(this.fitted) ?? 0;
    const helpful = [];
    for (const lever of levers) {
      const chance = this.leastChance(this.after([[lever, lever.amounts[lever.amounts.length - 1]]]));
      if (chance !== null && chance > here + facts.levers.helps) helpful.push({ chance, lever });
      yield null;
    }
    helpful.sort((one, other) => other.chance - one.chance);
    const tried = helpful.slice(0, facts.levers.pairs + 1).map(({ lever }) => lever);
    const both = tried.flatMap((first, at) => tried.slice(at + 1).map((second) => [first, second]));
    for (const [first, second] of both.filter(([a, b]) => a.kind !== b.kind).slice(0, facts.levers.pairs)) {
      const most = first.amounts[first.amounts.length - 1];
      const amount = this.smallest(second, [[first, most]]);
      yield null;
      if (amount === undefined) continue;
      const least = this.smallest(first, [[second, amount]]);
      yield [[second, amount], [first, least ?? most]];
    }
  }

  // What is put back is judged as a whole, with what it spoils elsewhere.
  putBack(chosen) {
    const { car, axle, before, name } = this;
    const fitted = this.after(chosen);
    const after = endVerdict(car, axle, fitted, { joint: false, ranges: false });
    const own = after.sites.filter((each) => each.site.name === name);
    const { spoils, mends } = worse(before, after);
    const labels = mends.filter((each) => each.site.name !== name).map((each) => each.site.label);
    return {
      steps: chosen.map(([lever, amount]) => ({
        kind: lever.kind,
        words: lever.words(amount),
        costs: facts.levers.costs[lever.kind],
      })),
      change: Object.assign({}, ...chosen.map(([lever, amount]) => lever.change(amount))),
      word: ORDER.find((word) => own.some((each) => each.word === word)),
      chance: Math.min(...own.map((each) => each.chance ?? 0)),
      whole: after.word,
      mends: [...new Set(labels)].sort(),
      spoils,
      checks: this.newlyBroken(fitted),
    };
  }

  newlyBroken(fitted) {
    const { on, axle, car } = this;
    if (!on.front || !on.rear) return [];
    this.broken ??= new Set(broken(checksOf(car, on)).map(({ key }) => key));
    const now = broken(checksOf(car, { ...on, [axle]: fitted }));
    return now.filter(({ key }) => !this.broken.has(key)).map(({ each }) => each);
  }
}

const worse = (before, after) => {
  const known = new Map(before.sites.map((each) => [`${each.site.name} ${each.side}`, each.word]));
  const was = (each) => known.get(`${each.site.name} ${each.side}`) ?? "not known";
  const isWorse = (each) => ORDER.indexOf(each.word) < ORDER.indexOf(was(each));
  return {
    spoils: after.sites
      .filter(isWorse)
      .map((each) => ({ label: each.site.label, side: each.side, before: was(each), after: each.word })),
    mends: after.sites.filter((each) => each.word === "clears" && was(each) !== "clears"),
  };
};

export const remediesFor = function* (car, axle, on, before, name) {
  const trial = new Trial(car, axle, on, before, name);
  const levers = leversOf(car, axle, trial.fitted, trial.here[0].site);
  let isMended = false;
  for (const chosen of trial.alone(levers)) {
    isMended ||= Boolean(chosen);
    yield chosen && trial.putBack(chosen);
  }
  if (!isMended) for (const chosen of trial.pairs(levers)) yield chosen && trial.putBack(chosen);
};

const spoiling = (remedy) =>
  remedy.spoils.reduce((sum, each) => sum + WEIGHT[each.after], 0) +
  remedy.checks.reduce((sum, each) => sum + (each.outcome === "fails" ? 4 : 1), 0);

const placeOf = (remedy) =>
  remedy.steps.reduce((sum, { kind }) => sum + facts.levers.kinds.indexOf(kind), 0);

// That which spoils least first, of equals the kind that is named first, and no more than are of use.
export const ranked = (remedies) =>
  [...remedies]
    .sort((one, other) => spoiling(one) - spoiling(other) || placeOf(one) - placeOf(other))
    .slice(0, facts.levers.mostRemedies);

// The sites that touch on a side, then those that are tight, the weakest first.
export const failing = ({ sites }) => {
  const worst = new Map();
  for (const { site, word } of sites) {
    const known = worst.get(site.name) ?? word;
    worst.set(site.name, ORDER.indexOf(word) < ORDER.indexOf(known) ? word : known);
  }
  const all = [...worst].map(([name, word]) => ({ name, word }));
  return ["touches", "tight"].flatMap((wanted) => all.filter(({ word }) => word === wanted));
};

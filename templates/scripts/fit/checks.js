// Hardware, brakes and numbers of a setup that nobody has fitted yet: the hazards of generator/
// assessment/checks/ that follow from what a wheel, tyre or spacer is on paper. Title and reason of
// each come from there as data (facts.hazards).
//
//   checksOf(car, {front, rear})    what is fitted at both ends
//     [{code, end, side, outcome, value, u, bound, most, unit, said, words}]
// outcome: "holds", "fails", "too close to say", "not known" or "for information"; value, u and bound
// are null where there is no number; `most` tells that the bound is the greatest, not the least.
import { atSide } from "./candidate.js";
import { facts } from "./facts.js";
import { fasteningChecks } from "./fastening_checks.js";
import { loadChecks } from "./load_checks.js";
import { atLeast, atMost, notKnown } from "./outcomes.js";
import { runningChecks } from "./running_checks.js";
import { fitOf } from "./verdict.js";

const ENDS = ["front", "rear"];

const ratio = (now, stock) => {
  const [front, rear, before, behind] = [now.front, now.rear, stock.front, stock.rear].map((fit) => fit.tyre?.diameter);
  if (!front || !rear || !before || !behind) return notKnown("H22", {}, "a tyre's diameter is not known");
  const share = front.value / rear.value / (before.value / behind.value);
  const u = 100 * share * Math.hypot(...[front, rear, before, behind].map((each) => each.u / each.value));
  return atMost("H22", {}, { value: Math.abs(100 * (share - 1)), u }, facts.checks.mostRatio, "%", "front against rear diameter differs by {} from stock");
};

// What the instrument shows at a true speed, if it read so much high on the stock tyre.
const speedometer = (car, now, stock) => {
  const driven = car.drive === "front" ? "front" : "rear";
  const [fitted, before] = [now[driven].tyre?.diameter, stock[driven].tyre?.diameter];
  if (!fitted || !before) return notKnown("H23", {}, "a tyre's diameter is not known");
  const { at, stockErrors, greatest } = facts.checks.speedometer;
  const [low, high] = stockErrors.map((error) => {
    const value = (at * (1 + error / 100) * before.value) / fitted.value;
    return { value, u: value * Math.hypot(before.u / before.value, fitted.u / fitted.value) };
  });
  if (low.value - at <= greatest - high.value) {
    return atLeast("H23", {}, low, at, "km/h", `at a true ${at} km/h it shows {} if it read ${stockErrors[0]} % high on the stock tyre`);
  }
  return atMost("H23", {}, high, greatest, "km/h", `at a true ${at} km/h it shows {} if it read ${stockErrors[1]} % high on the stock tyre`);
};

const same = (one, other) =>
  ["code", "outcome", "value", "u", "bound", "unit", "said", "words"].every((name) => one[name] === other[name]);

// What is the same on both sides is told once.
const joined = (left, right) => {
  const rest = [...right];
  const found = left.map((each) => {
    const twin = rest.findIndex((other) => same(each, other));
    if (twin < 0) return each;
    rest.splice(twin, 1);
    return { ...each, side: "both" };
  });
  return [...found, ...rest];
};

const ofSide = (car, end, side, fitted) => {
  const here = atSide(fitted, side);
  const at = { end, side, fitted: here, sheet: car[end], car, fit: fitOf(here), stock: fitOf(car[end].stock) };
  return [...fasteningChecks(at), ...loadChecks(at), ...runningChecks(at)];
};

export const checksOf = (car, on) => {
  const now = { front: fitOf(on.front), rear: fitOf(on.rear) };
  const stock = { front: fitOf(car.front.stock), rear: fitOf(car.rear.stock) };
  const found = [ratio(now, stock), speedometer(car, now, stock)];
  for (const end of ENDS) {
    const fitted = on[end];
    const of = (side) => ofSide(car, end, side, fitted);
    found.push(...(fitted.left || fitted.right ? joined(of("left"), of("right")) : of("both")));
  }
  return found;
};

// Those that do not hold, each with what it is and where as its key.
export const broken = (checks) =>
  checks
    .filter(({ outcome }) => outcome === "fails" || outcome === "too close to say")
    .map((each) => ({ key: `${each.code} ${each.end} ${each.side}`, each }));

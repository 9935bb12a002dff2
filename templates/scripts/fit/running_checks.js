// What a wheel in another place does to track, steering, bearing, caliper and travel: hazards H19 to
// H21, H24, H25 and H30 of generator/assessment/checks/.
import { measured } from "./candidate.js";
import { cornerMotion, stopChange } from "./corner.js";
import { NotKnown, facts, radians } from "./facts.js";
import { atLeast, atMost, failing, minus, notKnown, plus, stated } from "./outcomes.js";

const has = (value) => (value ?? null) !== null;

// How far outboard of stock the centre plane stands; null where that is not known.
const shiftOf = ({ fitted, fit, stock }) => {
  if (!fit.faces || !stock.faces) return null;
  const moved = measured(fitted.faceMoved, facts.dimensions.ruleU) || { value: 0, u: 0 };
  return plus(minus(fit.wheel.centrePlane, stock.wheel.centrePlane), moved);
};

const MEASURE = "measure backspacing and overall width, and the tyre's diameter";

// Less than a tenth of a millimetre is told as none.
const isNone = (shift) => Math.abs(shift.value) < 0.05;

const track = (at, shift) =>
  shift
    ? stated("H19", at, { value: 2 * shift.value, u: 2 * shift.u }, "mm", isNone(shift) ? "the track is that of stock" : `the track is {} ${shift.value < 0 ? "narrower" : "wider"} than stock`)
    : notKnown("H19", at, MEASURE);

const ofAxis = (radius) => `${Math.abs(radius).toFixed(0)} mm ${radius < 0 ? "inboard" : "outboard"} of the steering axis`;

const scrub = (at, shift) => {
  if (at.end !== "front") return [];
  if (!shift) return [notKnown("H20", at, MEASURE)];
  const { inclination, axisInset } = at.sheet.steering;
  const share = 0.5 * facts.tyre.loadedShare;
  const radius = share * at.stock.tyre.diameter.value;
  const grown = share * at.fit.tyre.diameter.value - radius;
  const slope = Math.tan(radians(inclination));
  const before = at.stock.wheel.centrePlane.value + axisInset - radius * slope;
  const after = before + (shift.value - grown * slope);
  const words = `the tyre's middle meets the road ${ofAxis(after)}; on the stock wheel ${ofAxis(before)}`;
  const check = { ...atMost("H20", at, { value: Math.abs(after - before) }, facts.checks.noticeableScrub, "mm", "it changes by {}"), words };
  if (!(before * after < 0)) return [check];
  return [check, failing("H20", at, "it changes from one side of the steering axis to the other: try one-sided grip and hard braking with care")];
};

const bearing = (at, shift) =>
  shift
    ? atMost("H21", at, shift, facts.checks.bearingShift, "mm", isNone(shift) ? "the tyre's middle, where the load stands, is where it is on the stock wheel" : `the tyre's middle, where the load stands, is {} further ${shift.value < 0 ? "in" : "out"} than on the stock wheel`)
    : notKnown("H21", at, MEASURE);

// A gap that was measured: {value, u}, or the least it is known to be.
const gapRead = (said) => {
  if (!said || said.said === "not checked") return null;
  if (said.said === "touches") return { value: 0, u: 0 };
  if (!has(said.low) || !has(said.high)) return { more: said.low };
  const u = Math.hypot(facts.checks.feelerU, (said.high - said.low) / 2 / Math.sqrt(3), said.step / facts.root12);
  return { value: (said.low + said.high) / 2, u };
};

const caliper = (code, at, part, read, inside, reach) => {
  const wanted = facts.checks.leastCaliperGap;
  const told = `{} ${part}`;
  const said = gapRead(read);
  if (said && said.value !== undefined) return atLeast(code, at, said, wanted, "mm", told);
  if (said) {
    return has(said.more) && said.more >= wanted
      ? { ...atLeast(code, at, { value: said.more }, wanted, "mm", `more than ${told}`), isLeast: true }
      : notKnown(code, at, "how much it clears is not said: measure it with clay");
  }
  if (!has(inside)) return notKnown(code, at, "neither the gap nor the wheel's inside was measured: try it with clay");
  if (at.fitted.faceMoved) return notKnown(code, at, "another hub or disc is fitted than on the sheet");
  const u = Math.hypot(facts.dimensions.ruleU, facts.dimensions.fineU);
  const left = inside - Math.max(...at.sheet.brake.map(reach));
  return atLeast(code, at, { value: left, u }, wanted, "mm", left < 0 ? `overlap of ${told}` : told);
};

const travel = (at) => {
  const { fitted, sheet } = at;
  const { unknown } = stopChange(fitted, sheet.suspension);
  if (unknown) return notKnown("H30", at, unknown);
  try {
    const { limits, static: rest } = cornerMotion(sheet, fitted, at.side).reach;
    return atLeast("H30", at, { value: limits.bump - rest }, facts.checks.leastBump[at.end], "mm", "{} of bump travel is left");
  } catch (trouble) {
    if (!(trouble instanceof NotKnown)) throw trouble;
    return failing("H30", at, `no bump travel is left: ${trouble.message}`);
  }
};

const reserve = (at) => {
  const { stop } = at.fitted;
  if (!stop || stop.state === "original") return [];
  if (!has(stop.reserve)) {
    return [notKnown("H30", at, `the bump stop was ${stop.state}: with the spring out and the stop squeezed hard, measure how far the damper still goes in`)];
  }
  return [atLeast("H30", at, { value: stop.reserve }, facts.checks.leastReserve, "mm", "the damper goes in {} further with the stop squeezed hard")];
};

export const runningChecks = (at) => {
  const shift = shiftOf(at);
  const { spokeBack, barrelRadius } = at.fitted.wheel;
  const spokes = has(spokeBack) ? spokeBack + at.fit.spacer.value : null;
  const isDrum = at.sheet.drum;
  const brake = isDrum ? "drum" : "caliper";
  return [
    track(at, shift), ...scrub(at, shift), bearing(at, shift),
    { ...caliper("H24", at, `between ${brake} and spokes`, at.fitted.spoke, spokes, ([u]) => u), isDrum },
    { ...caliper("H25", at, `between ${brake} and barrel`, at.fitted.barrel, barrelRadius, ([, r]) => r), isDrum },
    travel(at), ...reserve(at),
  ];
};

// What holds a wheel on its hub and centres it there: hazards H01 to H10 of generator/assessment/
// checks/, as far as they follow from spacer, wheel and stud.
import { measured } from "./candidate.js";
import { facts } from "./facts.js";
import { atLeast, atMost, between, failing, holding, minus, notKnown, plus, stated } from "./outcomes.js";

const exact = (value) => ({ value, u: 0 });
const fine = (value) => ({ value, u: facts.dimensions.fineU });
const has = (value) => (value ?? null) !== null;

export const isBoltOn = (fitted) => Boolean(fitted.spacer) && fitted.spacerKind === facts.words.boltOn;
const nutOf = ({ fitted, sheet }) => fitted.hardware?.nut ?? sheet.fastening.nut;
export const isBolted = (fitted, sheet) =>
  fitted.hardware?.nut ? fitted.hardware.nut === facts.words.bolt : sheet.fastening.bolts;

// What stands on the stud or bolt; null where a length is missing.
const stackOf = ({ fitted, sheet, fit }) => {
  let length = fitted.hardware?.length ?? null;
  if (length === null && !isBolted(fitted, sheet)) length = sheet.fastening.length;
  if (length === null || !has(fitted.wheel.pad) || isBoltOn(fitted)) return null;
  const stack = { protrusion: fine(length), spacer: fit.spacer, pad: fine(fitted.wheel.pad[0]) };
  return { ...stack, pastSeat: minus(minus(stack.protrusion, stack.spacer), stack.pad) };
};

// The thread that is engaged: as written, by turns, or the most that stud and pad leave.
const engagedIn = ({ fitted, sheet }, stack) => {
  const { hardware } = fitted;
  if (has(hardware?.engagement)) return measured(hardware.engagement, facts.dimensions.fineU);
  if (has(hardware?.turns)) {
    const { pitch } = hardware.pitch ? hardware : sheet.fastening;
    return { value: hardware.turns * pitch, u: facts.checks.turnsU * pitch };
  }
  return stack && { value: Math.max(0, stack.pastSeat.value), u: stack.pastSeat.u, isMost: true };
};

const COUNT = "count the turns of a nut from where it catches to where it seats";

const mostOnly = (at, code, check, engaged) =>
  engaged.isMost && check.outcome !== "fails"
    ? notKnown(code, at, `at most ${engaged.value.toFixed(1)} mm of thread can be engaged; ${COUNT}`)
    : check;

const engagement = (at, stack) => {
  const found = [];
  const engaged = engagedIn(at, stack);
  if (!engaged) found.push(notKnown("H01", at, COUNT));
  else {
    const { diameter } = at.fitted.hardware?.diameter ? at.fitted.hardware : at.sheet.fastening;
    const share = { value: engaged.value / diameter, u: engaged.u / diameter };
    const check = atLeast("H01", at, share, facts.levers.engagement, "diameters", "the engaged thread is {} long");
    found.push(mostOnly(at, "H01", check, engaged));
  }
  if (isBoltOn(at.fitted)) {
    found.push(notKnown("H01", at, "a bolt-on spacer has two joints: count the turns of the inner nuts too"));
  }
  return found;
};

const stripping = (at, stack) => {
  const engaged = engagedIn(at, stack);
  const least = at.fitted.hardware ? at.fitted.hardware.strips : at.sheet.fastening.strips;
  if (!engaged || !has(least)) return [notKnown("H02", at, `${COUNT}, and ask the maker of studs and nuts for the length they need`)];
  return [mostOnly(at, "H02", { ...atLeast("H02", at, engaged, least, "mm", "{} of thread is engaged"), words: "with less, the threads strip before the stud breaks" }, engaged)];
};

const bottoming = (at, stack) => {
  const { hardware } = at.fitted;
  if (nutOf(at) !== facts.words.closed) return [];
  if (!has(hardware?.nutDepth) || !stack) {
    return [notKnown("H03", at, "run a closed nut onto the bare stud by hand and count the turns to its bottom")];
  }
  const left = minus(measured(hardware.nutDepth, facts.dimensions.fineU), stack.pastSeat);
  const said = left.value < 0 ? "the stud is {} too long for the closed nut" : "{} is left between the stud's end and the closed nut's bottom";
  return [atLeast("H03", at, left, facts.checks.turnsInHand * hardware.pitch, "mm", said)];
};

const seats = (at) => {
  const [wheel, nut] = [at.fitted.wheel.seatWords, at.fitted.hardware?.seat];
  const lost = [["wheel", wheel], ["nut or bolt", nut]].filter(([, seat]) => !has(seat)).map(([part]) => part);
  if (lost.length) return notKnown("H04", at, `the form of seat is not known for ${lost.join(" and ")}: blue the seat, tighten, take apart, and look for a full ring`);
  return (wheel === nut ? holding : failing)("H04", at, `the wheel's seat is ${wheel}, the nut's ${nut}`);
};

const behind = (at, stack) => {
  if (!isBolted(at.fitted, at.sheet)) return [];
  const free = at.sheet.fastening.freeDepth;
  if (!stack || !has(free)) {
    return [notKnown("H05", at, "with the bolts in, turn the hub by hand and look behind it all round")];
  }
  return [atMost("H05", at, stack.pastSeat, free, "mm", "the bolts reach {} past the hub's face")];
};

const hasOwnLip = ({ fitted }) => Boolean(fitted.spacer) && facts.checks.ownPilot.includes(fitted.spacerKind);

const pilot = (at) => {
  if (hasOwnLip(at)) return [notKnown("H06", at, "the spacer carries the wheel on a lip of its own: measure it against the wheel's bore")];
  const left = minus(fine(at.sheet.pilotHeight), at.fit.spacer);
  const said = left.value < 0 ? "the hub's pilot ends {} short of the wheel" : "{} of the hub's pilot is left under the wheel";
  const check = atLeast("H06", at, left, facts.checks.leastPilot, "mm", said);
  const centres = facts.checks.centring.includes(at.fitted.wheel.seat);
  if (centres && check.outcome !== "holds") {
    return [stated("H06", at, left, "mm", said, "the seats alone centre the wheel: run the nuts up by hand in the air, in a star")];
  }
  return [check];
};

const bore = (at) => {
  const { wheel } = at.fitted;
  const isOwn = hasOwnLip(at);
  if (at.fit.spacer.value >= at.sheet.pilotHeight && !isOwn) return [];
  const given = wheel.ring ?? wheel.bore;
  if (!has(given) || isOwn) return [notKnown("H07", at, "measure the wheel's bore and what it sits on with calipers in two directions")];
  const { boreU, mostPlay } = facts.checks;
  const play = minus(measured(given, boreU), measured(at.sheet.pilot, boreU));
  if (play.value < 0) return [atLeast("H07", at, play, 0, "mm", "the wheel's bore is {} smaller than the hub's pilot")];
  return [atMost("H07", at, play, mostPlay, "mm", "the wheel's bore is {} wider than the hub's pilot")];
};

const cap = (at) => {
  const { cap: known } = at.sheet;
  const { wheel } = at.fitted;
  const { fineU } = facts.dimensions;
  if (!known) return [];
  const wider = has(wheel.bore) && has(known.diameter) ? minus(measured(wheel.bore, fineU), measured(known.diameter, fineU)) : null;
  const through =
    wider
      ? atLeast("H08", at, wider, 0, "mm", `the wheel's bore is {} ${wider.value < 0 ? "smaller" : "wider"} than the hub's cap`)
      : notKnown("H08", at, "measure the wheel's bore and the hub's cap with calipers");
  if (has(wheel.pad)) {
    const room = minus(plus(measured(wheel.pad, fineU), at.fit.spacer), fine(known.projection));
    const check = atLeast("H08", at, room, 0, "mm", "{} of room is left over the hub's cap");
    if (check.outcome === "holds") return [through, check];
  }
  return [through, notKnown("H08", at, "measure the wheel's pocket against the hub's cap, and see that the wheel sits on its face")];
};

const kind = (at) => {
  const { spacer, spacerKind, spacerCount } = at.fitted;
  if (!spacer || !(at.fit.spacer.value > 0)) return [];
  const [least, greatest] = facts.checks.spacerBands[spacerKind];
  return [
    between("H09", at, at.fit.spacer, least, greatest, "mm", "the spacer is {} thick"),
    has(spacerCount)
      ? atMost("H09", at, exact(spacerCount), 1, "pieces", "the spacer is of {}")
      : notKnown("H09", at, "count the pieces of the spacer: one a wheel is wanted"),
  ];
};

const boltOn = (at) => {
  const { fitted, sheet } = at;
  if (!isBoltOn(fitted)) return [];
  const nuts = has(fitted.spacerNuts)
    ? atLeast("H10", at, at.fit.spacer, fitted.spacerNuts, "mm", "the spacer is {} thick, and its inner nuts have to lie within it")
    : notKnown("H10", at, "lay a straightedge across the bolted spacer's face over each nut");
  if (isBolted(fitted, sheet)) return [nuts];
  const length = fitted.hardware?.length ?? sheet.fastening.length;
  const studs = atLeast("H10", at, at.fit.spacer, length - (fitted.spacerPockets ?? 0), "mm", "the spacer is {} thick, and the car's studs have to lie within it");
  if (!has(fitted.spacerPockets) && studs.outcome !== "holds") {
    return [nuts, notKnown("H10", at, "measure the pockets in the wheel's pad over the car's studs")];
  }
  return [nuts, studs];
};

export const fasteningChecks = (at) => {
  const stack = stackOf(at);
  return [
    ...engagement(at, stack), ...stripping(at, stack), ...bottoming(at, stack), seats(at), ...behind(at, stack),
    ...pilot(at), ...bore(at), ...cap(at), ...kind(at), ...boltOn(at),
  ];
};

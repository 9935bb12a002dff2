// What tyre and wheel carry, how fast, and on which rim: hazards H14 to H18 of generator/assessment/
// checks/.
import { facts } from "./facts.js";
import { atLeast, between, notKnown, stated } from "./outcomes.js";
import { tyreSizeOf } from "./tyre_size.js";

const has = (value) => (value ?? null) !== null;
const symbolOf = (size) => size.service?.symbol || (size.letters && size.letters !== "Z" ? size.letters : null);
const isPassenger = (size) => !size.suffix && size.form !== "flotation" && (!size.prefix || facts.checks.passengerPrefixes.includes(size.prefix));
const isExtra = (size) => size.prefix === "HL" || size.version === "XL";

const interpolated = (points, at) => {
  if (at <= points[0][0]) return points[0][1];
  for (let row = 1; row < points.length; row += 1) {
    const [[x0, y0], [x1, y1]] = [points[row - 1], points[row]];
    if (at <= x1) return y0 + ((y1 - y0) * (at - x0)) / (x1 - x0);
  }
  return points[points.length - 1][1];
};

// The share of the load at the car's top speed; null beyond the symbol's own.
const shareAtSpeed = (size, { topSpeed }) => {
  const symbol = symbolOf(size);
  if (!has(topSpeed) || !symbol) return 1;
  const { speedSymbol, loadAtSpeed } = facts.tables;
  const reach = speedSymbol[symbol];
  if (reach === undefined || !(topSpeed <= reach)) return null;
  if (reach <= speedSymbol[facts.checks.fullLoadSymbol]) return 1;
  return loadAtSpeed[symbol] ? interpolated(loadAtSpeed[symbol], topSpeed) / 100 : null;
};

const riseForCamber = (camber) => {
  const { camberPressure } = facts.tables;
  if (!(Math.abs(camber) <= camberPressure[camberPressure.length - 1][0])) return null;
  return interpolated(camberPressure, Math.abs(camber)) / 100;
};

const asRun = (at, size, rated) => {
  const { pressure } = at.fitted.tyre;
  if (!has(pressure) || !isPassenger(size)) {
    return notKnown("H14", at, "what the tyres carry at the pressure they run at: read it cold, and ask the tyre maker's table");
  }
  const share = shareAtSpeed(size, at.car);
  const rise = riseForCamber(at.fitted.camber ?? 0);
  if (share === null || rise === null) {
    return notKnown("H14", at, "ask the tyre's maker for the load at this speed and camber");
  }
  const { standard, extra, exponent, gaugeU } = facts.checks.loadPressure;
  const reference = isExtra(size) ? extra : standard;
  const carried = (bar) => rated * share * Math.min(1, bar / reference) ** exponent;
  const bar = pressure / (1 + rise);
  const u = carried(bar) - carried(bar - gaugeU / (1 + rise));
  return atLeast("H14", at, { value: 2 * carried(bar), u: 2 * u }, at.sheet.permittedLoad, "kg", "at the pressure they run at the two tyres carry {}");
};

const load = (at, size) => {
  const rated = facts.tables.loadIndex[String(size.service?.loadIndices[0])];
  const permitted = at.sheet.permittedLoad;
  if (rated === undefined) {
    return [notKnown("H14", at, `no load index is given; each tyre must carry ${(permitted / 2).toFixed(0)} kg`)];
  }
  return [atLeast("H14", at, { value: 2 * rated }, permitted, "kg", "by their load index the two tyres carry {}"), asRun(at, size, rated)];
};

const wheelLoad = (at) => {
  const { loadRating } = at.fitted.wheel;
  const half = at.sheet.permittedLoad / 2;
  return has(loadRating)
    ? atLeast("H15", at, { value: loadRating }, half, "kg", "by its mark a wheel carries {}")
    : notKnown("H15", at, `read the mark on the back of a spoke: ${half.toFixed(0)} kg are needed`);
};

const speed = (at, size) => {
  const symbol = symbolOf(size);
  const reach = symbol ? facts.tables.speedSymbol[symbol] : undefined;
  if (reach === undefined || !has(at.car.topSpeed)) {
    return notKnown("H16", at, reach === undefined ? "read the speed symbol from the sidewall" : "the car's top speed is in its papers");
  }
  return atLeast("H16", at, { value: reach }, at.car.topSpeed, "km/h", "by its symbol the tyre is made for {}");
};

const rimWidth = (at, size) => {
  const table = facts.tables.approvedRims;
  const own = at.fitted.tyre.approved;
  const known = own
    ? own.map((mm) => Math.round((mm / facts.tyre.inch) * 100) / 100)
    : Object.hasOwn(table, size.size)
      ? table[size.size]
      : null;
  if (!known) return notKnown("H17", at, `look up which rims ${size.designation} is approved for`);
  return between("H17", at, { value: at.fitted.wheel.width }, known[0], known[1], "in", "the rim is {} wide");
};

const bending = (at, size) => {
  const { fit } = at;
  if (!fit.wheel || !fit.tyre || !at.stock.wheel || !at.stock.tyre) {
    return [notKnown("H18", at, "measure backspacing and overall width, and the tyre's diameter")];
  }
  const { gravity, j328, r124, rollingFactor } = facts.checks.bending;
  const force = (at.sheet.permittedLoad / 2) * gravity;
  const inset = fit.wheel.offset.value;
  const standing = facts.tyre.loadedShare * fit.tyre.diameter.value * 0.5;
  const rolling = (rollingFactor[size.construction] * fit.tyre.diameter.value) / (2 * Math.PI);
  const factor = j328.factors[at.fitted.wheel.material ?? ""][at.end];
  return [
    stated("H18", at, { value: (force * (j328.grip * standing + inset) * factor) / 1000 }, "N·m", "the test moment by SAE J328 is {}"),
    stated("H18", at, { value: (r124.factor * force * (r124.grip * rolling + inset)) / 1000 }, "N·m", "the test moment by UN R124 is {}"),
  ];
};

export const loadChecks = (at) => {
  const size = tyreSizeOf(at.fitted.tyre.size);
  return [...load(at, size), wheelLoad(at), speed(at, size), rimWidth(at, size), ...bending(at, size)];
};

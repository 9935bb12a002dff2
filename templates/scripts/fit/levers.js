// What each kind of change could be: generator/evidence/levers.py. A lever is
//   {kind, amounts, change(amount), words(amount), inTurn}
// with its amounts from the least to the most, or, inTurn, in the order in which they are tried.
import { facts } from "./facts.js";
import { isBoltOn, isBolted } from "./fastening_checks.js";
import { readTyreSize } from "./tyre_size.js";
import { fitOf } from "./verdict.js";

// Six figures at most, as Python's g; `signed` with the sign of what is above nought.
const plain = (value) => String(Number(value.toPrecision(6)));
const signed = (value) => (value > 0 ? "+" : "") + plain(value);

// To a tenth as Python rounds: what lies midway goes to the even one. Only quarters lie there.
const toTenth = (value) => {
  const isMidway = Number.isInteger(4 * value) && !Number.isInteger(2 * value);
  return isMidway ? (2 * Math.round(5 * value)) / 10 : Number(value.toFixed(1));
};

// The amounts from one step beyond the start to the end.
const steps = (start, end, step) => {
  const count = Math.floor(Math.abs(end - start) / step + 1e-9);
  const way = end > start ? step : -step;
  return Array.from({ length: count }, (_, at) => Math.round((start + way * (at + 1)) * 1e6) / 1e6);
};

const spacers = (car, axle, fitted, facing) => {
  if (isBoltOn(fitted)) return [];
  const now = fitted.spacer ? fitted.spacer[0] : 0;
  const { fastening } = car[axle];
  const hardware = fitted.hardware || {};
  const stud = hardware.length ?? fastening.length;
  const thread = hardware.diameter || fastening.diameter;
  const pad = fitted.wheel.pad?.[0] ?? facts.levers.pad;
  const most = isBolted(fitted, car[axle])
    ? facts.levers.longestOnBolts
    : Math.floor(Math.max(stud - pad - facts.levers.engagement * thread, 0));
  const lever = (amounts) => ({
    kind: "spacer",
    amounts,
    change: (mm) => ({ spacer: mm }),
    words: (mm) =>
      mm ? `spacer of ${plain(mm)} mm${now ? ` instead of ${plain(now)} mm` : ""}` : `no spacer instead of ${plain(now)} mm`,
  });
  const found = [];
  if (facing !== "outboard" && most > now) found.push(lever(steps(now, most, 1)));
  if (facing !== "inboard") found.push(lever(steps(now, 0, 1)));
  return found;
};

const offsets = (fitted, facing) => {
  const { wheel } = fitOf(fitted);
  if (!wheel) return [];
  const now = toTenth(wheel.offset.value);
  const ends = [];
  if (facing !== "outboard") ends.push(now - facts.levers.offsets);
  if (facing !== "inboard") ends.push(now + facts.levers.offsets);
  return ends.map((end) => ({
    kind: "other offset",
    amounts: steps(now, end, 1),
    change: (mm) => ({ offset: mm }),
    words: (mm) => `wheels of offset ${plain(mm)} mm instead of ${plain(now)} mm`,
  }));
};

const camber = (car, axle, fitted, facing) => {
  const { suspension } = car[axle];
  if (suspension.kind === "axle" || suspension.kind === "beam") return [];
  const reference = suspension.staticCamber;
  const now = fitted.camber ?? reference;
  const end = facing === "inboard" ? Math.max(reference, 0) : facts.levers.steepest[axle];
  if (end > now !== (facing === "inboard")) return [];
  const by = fitted.camberBy || facts.words.mount;
  return [{
    kind: "camber",
    amounts: steps(now, end, 0.25),
    change: (deg) => ({ camber: deg, camberBy: by }),
    words: (deg) => `camber of ${signed(deg)}° instead of ${signed(now)}°, set at ${by}`,
  }];
};

const height = (fitted) => {
  const now = fitted.rideHeight ?? 0;
  if (!(now < facts.levers.highest)) return [];
  return [{
    kind: "ride height",
    amounts: steps(now, facts.levers.highest, 5),
    change: (mm) => ({ rideHeight: mm }),
    words: (mm) => `ride height ${signed(mm)} mm against the sheet instead of ${signed(now)} mm`,
  }];
};

const shim = (car, axle, fitted) => {
  const { steering } = car[axle];
  if (!steering || (steering.stopArm === null && steering.arm === null)) return [];
  const now = fitted.shim ?? 0;
  if (!(now < facts.levers.thickestShim)) return [];
  return [{
    kind: "steering stop shim",
    amounts: steps(now, facts.levers.thickestShim, 1),
    change: (mm) => ({ shim: mm }),
    words: (mm) => `shim of ${plain(mm)} mm at the steering stops, both sides alike`,
  }];
};

const lessTrim = ({ stop }) => {
  if (!stop || stop.state === "removed" || !stop.trimmed) return [];
  const now = stop.trimmed;
  const amounts = steps(now, 0, 2);
  if (now % 2) amounts.push(0);
  return [{
    kind: "bump stop trimmed",
    amounts,
    change: (mm) => ({ trimmed: mm }),
    words: (mm) =>
      mm
        ? `bump stop trimmed by ${plain(mm)} mm instead of ${plain(now)} mm`
        : `a whole bump stop instead of one trimmed by ${plain(now)} mm`,
  }];
};

const spaced = (car, axle, fitted) => {
  const { suspension } = car[axle];
  const { stop } = fitted;
  if (!suspension.stop || stop?.state === "removed") return [];
  const now = stop?.spaced ?? 0;
  const lowered = -(fitted.rideHeight ?? 0);
  const left = suspension.bump - lowered - facts.levers.leastBump[axle];
  const end = Math.min(facts.levers.tallestSpaced, left * suspension.stop.ratio + (stop?.trimmed ?? 0));
  if (!(end > now)) return [];
  return [{
    kind: "bump stop spaced",
    amounts: steps(now, end, 2),
    change: (mm) => ({ spaced: mm }),
    words: (mm) => `bump stop spaced by ${plain(mm)} mm`,
  }];
};

// Rim widths of a metric size: the table's, else those round its measuring rim.
const rimsOf = (size) => {
  const { approvedRims, measuringRim } = facts.tables;
  if (Object.hasOwn(approvedRims, size.size)) return approvedRims[size.size];
  const share = measuringRim[String(size.aspect)];
  if (share === undefined) return null;
  const middle = Math.floor((2 * share * size.width) / facts.tyre.inch + 0.5) / 2;
  return [middle - facts.levers.belowMeasuring, middle + facts.levers.aboveMeasuring];
};

const tyres = (fitted) => {
  const now = readTyreSize(fitted.tyre.size);
  if (now.form !== "metric") return [];
  const sizes = [];
  for (const [less, flatter] of facts.levers.tyreSteps) {
    const [width, aspect] = [now.width + less, now.aspect + flatter];
    if (width * aspect > now.width * now.aspect) continue;
    try {
      const size = readTyreSize(`${width}/${aspect} R${now.rimCode}`);
      const rims = rimsOf(size);
      if (rims && rims[0] <= fitted.wheel.width && fitted.wheel.width <= rims[1]) sizes.push(size);
    } catch {
      // A size that nobody makes is none to think of.
    }
  }
  return [{
    kind: "other tyre",
    amounts: sizes.map((_, at) => at),
    change: (at) => ({ tyre: sizes[at].words }),
    words: (at) => `tyre ${sizes[at].designation} instead of ${now.designation}`,
    inTurn: true,
  }];
};

const rolled = (fitted, site) => {
  const lips = fitted.body?.lips ?? null;
  if (site.part !== "lip" || (lips !== null && lips !== "stock")) return [];
  return [{
    kind: "lip rolled",
    amounts: steps(0, facts.levers.mostRolled, 2),
    change: (mm) => ({ lips: "rolled", lipsGained: mm }),
    words: (mm) => `lip rolled by ${plain(mm)} mm`,
  }];
};

export const leversOf = (car, axle, fitted, site) =>
  [
    ...lessTrim(fitted), ...shim(car, axle, fitted), ...height(fitted),
    ...spacers(car, axle, fitted, site.facing), ...offsets(fitted, site.facing),
    ...camber(car, axle, fitted, site.facing), ...tyres(fitted), ...spaced(car, axle, fitted),
    ...rolled(fitted, site),
  ].filter((lever) => lever.amounts.length);

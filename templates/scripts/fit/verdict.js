// Judges what is on an end of a car, site by site: generator/assessment/clearances.py, fit.py and
// evidence/verdict.py.
//
//   import { use } from "./fit/facts.js";            use(await (await fetch("try/facts.json")).json())
//   import { endVerdict } from "./fit/verdict.js";
//   const car = prepared(await (await fetch("try/<chassis>.json")).json());
//   const end = endVerdict(car, "front", changed(car.front.stock, { offset: 20 }));
//   end.sites      weakest first: {site, side, condition, word, chance, free, range, gap, u, position,
//                  words, unknown, …}; what is not known has chance null and says why in `unknown`
//   end.joint      {probability, least, most} of all known sites, or null
//   end.word       one word for the end
//   end.looks      {side, section, outline, motion, fit} for drawings
import { atSide, measured, sidesOf } from "./candidate.js";
import { cornerMotion, strutDoubt } from "./corner.js";
import { jointClearance, probabilityAbove, range, unpacked } from "./distribution.js";
import { NotKnown, facts } from "./facts.js";
import { poses } from "./motion.js";
import { gapAt, leastOverSweep, look } from "./nearest.js";
import { gradient, section, sectionOutline } from "./outline.js";
import { sampled, shaped, shifted } from "./shapes.js";
import { poseWords, swept } from "./travel.js";
import { treadOf, tyreDimensions } from "./tyre.js";
import { tyreSizeOf } from "./tyre_size.js";
import { exact, positionUncertainty, tyreFaces, wheelPosition } from "./wheel.js";

const KEPT = 48;
const SPANS_KEPT = 400;

// Chassis data as it was fetched, with its tables laid out once.
export const prepared = (data) => ({
  ...data,
  tables: data.tables.map(unpacked),
  kept: { coarse: new Map(), motions: new Map(), ranges: new Map(), last: new Map() },
});

const wheelOf = (fitted) => {
  const { wheel } = fitted;
  const { ruleU, fineU, stampedWidthU, stampedOffsetU } = facts.dimensions;
  const offset = wheel.offsetMeasured
    ? measured(wheel.offsetMeasured, ruleU)
    : wheel.offset
      ? { value: wheel.offset[0], u: stampedOffsetU }
      : null;
  const backspacing = measured(wheel.backspacing, ruleU);
  if (!offset && !backspacing) return null;
  return {
    width: measured(wheel.widthMeasured, ruleU) || {
      value: wheel.width * facts.tyre.inch,
      u: stampedWidthU,
    },
    offset,
    backspacing,
    overallWidth: measured(wheel.overallWidth, ruleU),
    flangeInboard: measured(wheel.flangeInboard, fineU),
    flangeOutboard: measured(wheel.flangeOutboard, fineU),
  };
};

// Where wheel and tyre of one side stand: {wheel, tyre, faces, unknown}; see wheel.js and tyre.js.
export const fitOf = (fitted) => {
  const { ruleU, spacerU } = facts.dimensions;
  const dimensions = wheelOf(fitted);
  const spacer = measured(fitted.spacer, spacerU) || exact(0);
  const wheel = dimensions && wheelPosition(dimensions, spacer);
  const rim = fitted.wheel.width * facts.tyre.inch;
  const tyre = tyreDimensions(tyreSizeOf(fitted.tyre.size), rim, {
    section: measured(fitted.tyre.sectionWidth, ruleU),
    tread: measured(fitted.tyre.treadWidth, ruleU),
    diameter: measured(fitted.tyre.diameter, ruleU),
  });
  const faces = wheel && tyre ? tyreFaces(wheel, tyre.section) : null;
  let unknown = "";
  if (!wheel) unknown = "the wheel's offset and backspacing are not known";
  else if (!tyre) unknown = "the tyre's dimensions are not known";
  return { wheel, tyre, faces, spacer, unknown };
};

export const outlineOf = (fit, fitted) => {
  const seat = facts.tables.beadSeat[String(fitted.wheel.diameter)];
  if (seat === undefined) throw new NotKnown("wheel and tyre make no section: the rim has no table");
  const moved = fitted.faceMoved ? fitted.faceMoved[0] : 0;
  return sectionOutline(section(fit.wheel, fit.tyre, seat, moved));
};

const conditionOf = (site, body) => {
  if (!body) return "stock";
  if (site.part === "lip" && body.lips && body.lips !== "stock") return body.lips;
  if (site.part === "liner") {
    if (body.liner === "removed" || body.liner === "none fitted") return "removed";
    if (body.liner === "trimmed" || body.liner === "formed") return body.liner;
  }
  return (body.changed || []).includes(site.name) ? "reshaped" : "stock";
};

const shiftOf = (condition, body) => {
  const gained = body?.lipsGained ?? null;
  if (condition === "stock") return { by: [0, 0, 0], unknown: "" };
  if (condition === "removed") return { by: null, unknown: "it was removed" };
  if ((condition === "rolled" || condition === "pulled") && gained !== null) {
    return { by: [0, gained, 0], unknown: "" };
  }
  if (condition === "cut" && gained !== null) return { by: [0, 0, gained], unknown: "" };
  return { by: null, unknown: `it was ${condition}, and by how much is not said` };
};

const coarseOf = (car, axle, site, by) => {
  const key = `${axle}.${site.name}.${by.join()}`;
  const { coarse } = car.kept;
  if (!coarse.has(key)) {
    if (coarse.size > SPANS_KEPT) coarse.clear();
    const bare = shaped(site.shape);
    const shape = by.some(Boolean) ? shifted(bare, by) : bare;
    coarse.set(key, sampled(shape, facts.nearest.chordError));
  }
  return coarse.get(key);
};

// What every point of a site does over the sweep depends on the car's stance alone, not on the wheel.
const motionOf = (car, axle, side, fitted) => {
  const { camber, camberBy, rideHeight, stop, shim, toeOutLock, toeInLock, rodChange, axleError } = fitted;
  const key = JSON.stringify([
    axle, side, camber, camberBy, rideHeight, stop, shim, toeOutLock, toeInLock, rodChange, axleError,
  ]);
  const { motions } = car.kept;
  let known = motions.get(key);
  if (!known) {
    try {
      const motion = cornerMotion(car[axle], fitted, side);
      known = { motion, positions: swept(motion.reach), views: new Map(), seen: new Map(), unknown: "" };
    } catch (trouble) {
      if (!(trouble instanceof NotKnown)) throw trouble;
      known = { motion: null, positions: [], seen: new Map(), unknown: trouble.message };
    }
  } else motions.delete(key);
  motions.set(key, known);
  if (motions.size > KEPT) motions.delete(motions.keys().next().value);
  return known;
};

const seenOf = (car, axle, side, held, site, coarse, positions) => {
  const known = held.seen.get(site.name);
  if (known && known.coarse === coarse) return known;
  const { corner } = held.motion;
  const { view } = site;
  const isSwept = positions === held.positions;
  if (isSwept && !held.views.has(view)) held.views.set(view, poses(corner, positions, view));
  const key = `${axle}.${site.name}.${side}`;
  const made = look(coarse, corner, positions, view, held.views.get(isSwept ? view : ""), car.kept.last.get(key));
  if (isSwept) car.kept.last.set(key, made);
  held.seen.set(site.name, made);
  return made;
};

const leastOf = (car, axle, side, site, by, held, outline) => {
  const coarse = coarseOf(car, axle, site, by);
  const { reach } = held.motion;
  if (!site.moves) {
    const rest = [reach.static, 0, reach.static];
    const seen = seenOf(car, axle, side, held, site, coarse, [rest]);
    return { ...gapAt(seen, rest, outline), position: rest, words: "moves with the wheel" };
  }
  const seen = seenOf(car, axle, side, held, site, coarse, held.positions);
  const least = leastOverSweep(seen, reach, outline);
  return { ...least, words: poseWords(least.position, reach) };
};

const spreadOf = (least, site, outline, fit, motion) => {
  const { tyre, wheel } = fit;
  const { treadShare, treadShareU } = facts.tyre;
  const near = gradient(outline, least.u, least.r);
  const weights = [near.centre, near.rimWidth, near.flangeInboard, near.flangeOutboard];
  const rate = near.sectionWidth + (tyre.tread ? 0 : treadShare * near.treadWidth);
  const treadPart = tyre.tread
    ? near.treadWidth * tyre.tread.u
    : near.treadWidth * treadShareU * tyre.section.value;
  const tyrePart = Math.hypot(rate * tyre.section.u, treadPart, near.diameter * tyre.diameter.u);
  const setup = Math.hypot(positionUncertainty(wheel, weights), tyrePart);
  const doubt = site.view === "strut" ? strutDoubt(motion, least.r) : 0;
  return { u: Math.hypot(setup, doubt), rate };
};

// One look at one site on one side (or both): the least gap, or why there is none.
const clearance = (car, axle, site, side, fitted, look) => {
  const condition = conditionOf(site, fitted.body);
  const { by, unknown: lost } = shiftOf(condition, fitted.body);
  const told = { site, side, condition };
  const why =
    site.unknown || lost || look.unknown || look.held.unknown ||
    (site.moves && look.held.motion ? look.held.motion.travelUnknown : "");
  if (why || !look.outline || !site.shape) return { ...told, least: null, unknown: why || "not known" };
  try {
    const least = leastOf(car, axle, side, site, by, look.held, look.outline);
    const { u, rate } = spreadOf(least, site, look.outline, look.fit, look.held.motion);
    const gap = least.gap - site.thickness;
    if (!Number.isFinite(gap) || !Number.isFinite(u)) throw new NotKnown("the numbers make no gap");
    return { ...told, least: { ...least, gap, u, rate }, unknown: "" };
  } catch (trouble) {
    if (!(trouble instanceof NotKnown)) throw trouble;
    return { ...told, least: null, unknown: trouble.message };
  }
};

const lookAt = (car, axle, fitted, side) => {
  const here = atSide(fitted, side);
  const fit = fitOf(here);
  let { unknown } = fit;
  let outline = null;
  if (!unknown) {
    try {
      outline = outlineOf(fit, here);
    } catch (trouble) {
      if (!(trouble instanceof NotKnown)) throw trouble;
      unknown = trouble.message;
    }
  }
  const held = motionOf(car, axle, side, here);
  return { side, fitted: here, fit, outline, unknown, held };
};

// The gaps of some sites of an end, or of all; with what they were seen by.
export const clearances = (car, axle, fitted, names = null) => {
  const looks = sidesOf(fitted, car[axle]).map((side) => lookAt(car, axle, fitted, side));
  const found = [];
  for (const each of looks) {
    for (const site of car.sites) {
      if (site.axle !== axle || (names && !names.has(site.name))) continue;
      if (site.only && each.side !== "both" && each.side !== site.only) continue;
      found.push(clearance(car, axle, site, each.side, each.fitted, each));
    }
  }
  return { looks, found };
};

export const wordOf = (chance, free) => {
  if (chance === null || free === null) return "not known";
  if (chance >= facts.verdict.expected) return "clears";
  // A number that is none fails both comparisons, so it never counts as clear or tight.
  return free >= facts.verdict.free ? "tight" : "touches";
};

const posteriorOf = (car, axle, site, side, condition) => {
  const known = car.limits[`${axle}.${site.name}.${side}.${condition}`];
  const told = known || car.alone[`${axle}.${site.name}`];
  return { ...told, table: car.tables[told.table] };
};

const bothOrOne = (site, side) => {
  if (side !== "both") return [side];
  return site.only ? [site.only] : ["left", "right"];
};

// The sites of an end on each side of the car, unsorted; ranges only where they are asked for.
export const judged = (car, axle, found, withRanges = true) => {
  const sites = [];
  for (const each of found) {
    if (each.condition === "removed") continue;
    for (const side of bothOrOne(each.site, each.side)) {
      const told = { ...each, side, looked: each.side };
      if (!each.least) {
        sites.push({ ...told, chance: null, free: null, range: null, word: "not known", posterior: null });
        continue;
      }
      const posterior = posteriorOf(car, axle, each.site, side, each.condition);
      const { gap, u } = each.least;
      const chance = probabilityAbove(posterior.table, each.site.wanted - gap, u);
      const free = probabilityAbove(posterior.table, -gap, u);
      const spread = withRanges ? rangeOf(car, posterior, u) : null;
      const shown = spread && { low: spread.low + gap, median: spread.median + gap, high: spread.high + gap };
      sites.push({ ...told, chance, free, range: shown, word: wordOf(chance, free), posterior });
    }
  }
  return sites;
};

// The 5 to 95 % range of the gap of a site that was judged without it.
export const addRange = (car, site) => {
  if (!site.least || site.range) return;
  const { gap, u } = site.least;
  const spread = rangeOf(car, site.posterior, u);
  site.range = { low: spread.low + gap, median: spread.median + gap, high: spread.high + gap };
};

const rangeOf = (car, posterior, u) => {
  const { ranges } = car.kept;
  const key = `${car.tables.indexOf(posterior.table)} ${u}`;
  if (!ranges.has(key)) {
    if (ranges.size > SPANS_KEPT) ranges.clear();
    ranges.set(key, range(posterior.table, u));
  }
  return ranges.get(key);
};

// Chances that differ by less than a billionth are alike, whichever language found them.
const strength = (one, other) => {
  const of = (site) => (site.chance === null ? -1 : Math.round(site.chance * 1e9));
  return (
    of(one) - of(other) ||
    (one.site.name < other.site.name ? -1 : one.site.name > other.site.name ? 1 : 0) ||
    (one.side < other.side ? -1 : 1)
  );
};

const WORST_FIRST = ["touches", "not known", "tight", "clears"];

// The chance that all known sites of an end clear at once; null where none is known.
export const jointOf = (end) => {
  const width = end.looks[0].whole?.tyre?.section.u ?? 0;
  const demands = end.sites
    .filter((site) => site.least)
    .map((site) => ({
      table: site.posterior.table,
      gap: site.least.gap,
      own: Math.sqrt(Math.max(site.least.u ** 2 - (site.least.rate * width) ** 2, 0)),
      wanted: site.site.wanted,
      sensitivity: site.least.rate,
    }));
  return demands.length ? jointClearance(demands, width) : null;
};

export const endVerdict = (car, axle, fitted, { joint = true, ranges = true } = {}) => {
  const { looks, found } = clearances(car, axle, fitted);
  for (const each of looks) each.whole = each.side === "both" ? each.fit : fitOf(fitted);
  const sites = judged(car, axle, found, ranges).sort(strength);
  const words = sites.length ? sites.map((site) => site.word) : ["not known"];
  const end = { axle, looks, sites, word: WORST_FIRST.find((word) => words.includes(word)) };
  end.joint = joint ? jointOf(end) : null;
  return end;
};

// The chance of the whole car; null while any site is not known.
export const carChance = (front, rear) => {
  const isKnown = [...front.sites, ...rear.sites].every((site) => site.least);
  return isKnown && front.joint && rear.joint
    ? front.joint.probability * rear.joint.probability
    : null;
};

export const treadWidth = treadOf;

// The steered wheel from above at both locks, for a record that is being written: drawn by the code
// of a trial, from the record as far as it can be read.
//
//   const draw = await planner(factsAt, dataAt)     draw(front) gives figures, none where too little is known
import { NotKnown, use } from "../fit/facts.js";
import { Misread } from "../fit/tyre_size.js";
import { endVerdict, prepared } from "../fit/verdict.js";
import { make } from "../numbers.js";
import { plan } from "../try_draw.js";

const typed = (quantity) => (quantity ? [quantity.value, quantity.resolution] : null);
// A quantity's number in base units, or a choice's word.
const bare = (held) => held?.value ?? null;

// What is fitted as fit/candidate.js takes it; only what moves wheel, tyre and places.
const fittedOf = ({ wheel, spacer, tyre, bump_stop: stop, bodywork, ...end }) => ({
  wheel: {
    width: wheel.size.width_code,
    diameter: wheel.size.diameter_code,
    offset: typed(wheel.offset),
    offsetMeasured: typed(wheel.offset_measured),
    backspacing: typed(wheel.backspacing),
    widthMeasured: typed(wheel.width_measured),
    overallWidth: typed(wheel.overall_width),
    flangeInboard: typed(wheel.flange_inboard),
    flangeOutboard: typed(wheel.flange_outboard),
  },
  spacer: typed(spacer?.thickness),
  faceMoved: typed(end.face_moved),
  tyre: {
    size: tyre.size.typed,
    sectionWidth: typed(tyre.section_width),
    treadWidth: typed(tyre.tread_width),
    diameter: typed(tyre.diameter),
  },
  camber: bare(end.camber),
  camberBy: bare(end.camber_by),
  rideHeight: bare(end.ride_height?.change),
  stop: stop && {
    state: bare(stop.state),
    trimmed: bare(stop.trimmed),
    spaced: bare(stop.spaced),
    freeHeight: bare(stop.free_height),
  },
  shim: bare(end.stop_shim),
  toeOutLock: bare(end.toe_out_lock),
  toeInLock: bare(end.toe_in_lock),
  body: bodywork && {
    lips: bare(bodywork.lips),
    lipsGained: bare(bodywork.lips_gained),
    liner: bare(bodywork.liner),
    changed: bodywork.changed ?? [],
  },
});

const figuresOf = (car, front) => {
  const end = endVerdict(car, "front", fittedOf(front), { joint: false, ranges: false });
  const [look] = end.looks;
  if (!look.outline || !look.held.motion) return [];
  const { reach } = look.held.motion;
  const sites = end.sites
    .filter((one, at, all) => one.least && all.findIndex((other) => other.site === one.site) === at)
    .map((one) => ({ site: one.site, word: one.word, coarse: look.held.seen.get(one.site.name).coarse }));
  return [["toe-out", reach.locks.toeOut], ["toe-in", -reach.locks.toeIn]].map(([name, steer]) => {
    const picture = plan(look, sites, [reach.static, steer, reach.static], "", `submit-plan-${name}`);
    return make("figure", {}, picture, make("figcaption", {}, `Front wheel from above at full ${name} lock, standing height.`));
  });
};

export const planner = async (factsAt, dataAt) => {
  const [facts, data] = await Promise.all([factsAt, dataAt].map(async (at) => (await fetch(at)).json()));
  use(facts);
  const car = prepared(data);
  return (front) => {
    if (!front?.wheel?.size || !front.tyre?.size || !car.front.steering) return [];
    try {
      return figuresOf(car, front);
    } catch (trouble) {
      if (trouble instanceof NotKnown || trouble instanceof Misread) return [];
      throw trouble;
    }
  };
};

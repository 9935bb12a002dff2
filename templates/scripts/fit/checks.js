// Hardware, brake and numbers as far as a wheel and tyre on paper concern them. Each check is told
// by its code; title and reason come from generator/assessment/checks as data (facts.hazards).
//
//   checksOf(car, {front, rear}, {front: fit, rear: fit})
//     [{code, end, outcome, value, bound, unit, words}]
// outcome: "holds", "fails", "too close to say", "not known" or "for information".
import { facts } from "./facts.js";
import { tyreSizeOf } from "./tyre_size.js";
import { fitOf } from "./verdict.js";

const outcomeOf = (margin, u) => {
  if (u > 0 && Math.abs(margin) < facts.checks.coverage * u) return "too close to say";
  return margin >= 0 ? "holds" : "fails";
};

const notKnown = (code, end, words) => ({ code, end, outcome: "not known", value: null, words });

const bound = (code, end, { value, u = 0, bound: limit, unit, most = false }) => ({
  code,
  end,
  outcome: outcomeOf(most ? limit - value : value - limit, u),
  value,
  u,
  bound: limit,
  most,
  unit,
  words: "",
});

const spacerOf = (fitted) => (fitted.spacer ? fitted.spacer[0] : 0);

const gapRead = (said) => {
  if (!said || said.said === "not checked") return null;
  if (said.said === "touches") return { value: 0, u: 0 };
  if (said.low === null || said.high === null) return { more: said.low };
  const u = Math.hypot(
    facts.checks.feelerU,
    (said.high - said.low) / 2 / Math.sqrt(3),
    said.step / facts.root12,
  );
  return { value: (said.low + said.high) / 2, u };
};

const brake = (code, end, fitted, sheet, read, inside, reach) => {
  const limit = facts.checks.leastCaliperGap;
  const said = gapRead(read);
  if (said && said.value !== undefined) {
    return bound(code, end, { ...said, bound: limit, unit: "mm" });
  }
  if (said && said.more >= limit) {
    return { ...bound(code, end, { value: said.more, bound: limit, unit: "mm" }), isLeast: true };
  }
  if ((inside ?? null) === null) {
    return notKnown(code, end, "neither the gap nor the wheel's inside was measured: try it with clay");
  }
  if (fitted.faceMoved) return notKnown(code, end, "another hub or disc is fitted than on the sheet");
  const u = Math.hypot(facts.dimensions.ruleU, facts.dimensions.fineU);
  return bound(code, end, { value: inside - Math.max(...sheet.brake.map(reach)), u, bound: limit, unit: "mm" });
};

const engagement = (end, fitted, sheet) => {
  const hardware = fitted.hardware || {};
  const { diameter } = hardware.diameter ? hardware : sheet.fastening;
  const pitch = hardware.pitch || sheet.fastening.pitch;
  const wanted = facts.levers.engagement;
  let length = null;
  let u = 0;
  if (hardware.engagement) {
    [length] = hardware.engagement;
    u = Math.hypot(facts.dimensions.fineU, hardware.engagement[1] / facts.root12);
  } else if (hardware.turns) {
    length = hardware.turns * pitch;
    u = facts.checks.turnsU * pitch;
  }
  if (length !== null) {
    return bound("H01", end, {
      value: length / diameter, u: u / diameter, bound: wanted, unit: "diameters",
    });
  }
  const isBolted = hardware.nut ? hardware.nut === "bolt" : sheet.fastening.bolts;
  if (fitted.boltOn || isBolted) return notKnown("H01", end, "count the turns of each nut or bolt");
  const stud = hardware.length ?? sheet.fastening.length;
  const pad = fitted.wheel.pad ?? null;
  const most = Math.max(stud - (pad ?? facts.levers.pad) - spacerOf(fitted), 0) / diameter;
  if (most < wanted && pad !== null) {
    return bound("H01", end, { value: most, bound: wanted, unit: "diameters" });
  }
  const guess = pad === null ? `, with a pad of ${facts.levers.pad} mm taken for usual` : "";
  const short = most < wanted ? "too little" : "enough only if the nut takes all of it";
  return {
    ...notKnown("H01", end, `at most ${most.toFixed(2)} diameters of thread${guess}: ${short}; count the turns`),
    isShort: most < wanted,
  };
};

const rimWidth = (end, fitted) => {
  const size = tyreSizeOf(fitted.tyre.size);
  const table = facts.tables.approvedRims;
  const own = fitted.tyre.approved;
  const known = own
    ? own.map((mm) => Math.round((mm / facts.tyre.inch) * 100) / 100)
    : Object.hasOwn(table, size.size)
      ? table[size.size]
      : null;
  if (!known) return notKnown("H17", end, `look up which rims ${size.designation} is approved for`);
  const { width } = fitted.wheel;
  const isNarrow = width - known[0] < known[1] - width;
  return bound("H17", end, { value: width, bound: isNarrow ? known[0] : known[1], unit: "in", most: !isNarrow });
};

const load = (end, fitted, sheet) => {
  const index = tyreSizeOf(fitted.tyre.size).service?.loadIndices[0];
  const carries = facts.tables.loadIndex[String(index)];
  if (carries === undefined) {
    return notKnown("H14", end, `no load index is given; each tyre must carry ${(sheet.permittedLoad / 2).toFixed(0)} kg`);
  }
  return bound("H14", end, { value: 2 * carries, bound: sheet.permittedLoad, unit: "kg" });
};

const stated = (code, end, value, unit) => ({ code, end, outcome: "for information", value, unit, words: "" });

const track = (end, now, stock, fitted) => {
  if (!now.wheel || !stock.wheel) return notKnown("H19", end, "the wheel's offset is not known");
  const moved = fitted.faceMoved ? fitted.faceMoved[0] : 0;
  return stated("H19", end, 2 * (now.wheel.centrePlane.value - stock.wheel.centrePlane.value + moved), "mm");
};

const scrub = (now, stock, fitted, { steering }) => {
  if (!now.wheel || !now.tyre || !stock.wheel || !stock.tyre) {
    return notKnown("H20", "front", "offset or diameter is not known");
  }
  const share = facts.tyre.loadedShare;
  const moved = fitted.faceMoved ? fitted.faceMoved[0] : 0;
  const out = now.wheel.centrePlane.value - stock.wheel.centrePlane.value + moved;
  const grown = share * (now.tyre.diameter.value - stock.tyre.diameter.value) * 0.5;
  const value = Math.abs(out - grown * Math.tan((steering.inclination * Math.PI) / 180));
  return bound("H20", "front", { value, bound: facts.checks.noticeableScrub, unit: "mm", most: true });
};

const ratio = (now, stock) => {
  const ends = [now.front, now.rear, stock.front, stock.rear].map((fit) => fit.tyre?.diameter);
  if (ends.some((each) => !each)) return notKnown("H22", null, "a tyre's diameter is not known");
  const [front, rear, before, behind] = ends;
  const value = 100 * ((front.value * behind.value) / (rear.value * before.value) - 1);
  const relative = Math.hypot(...ends.map(({ value: each, u }) => u / each));
  return {
    ...bound("H22", null, { value: Math.abs(value), u: 100 * relative, bound: facts.checks.mostRatio, unit: "%", most: true }),
  };
};

const ofEnd = (car, end, fitted, now, stock) => {
  const sheet = car[end];
  const { spokeBack, barrelRadius } = fitted.wheel;
  const spokes = (spokeBack ?? null) === null ? null : spokeBack + spacerOf(fitted);
  const found = [
    engagement(end, fitted, sheet),
    load(end, fitted, sheet),
    rimWidth(end, fitted),
    track(end, now, stock, fitted),
  ];
  if (end === "front") found.push(scrub(now, stock, fitted, sheet));
  found.push(
    brake("H24", end, fitted, sheet, fitted.spoke, spokes, ([u]) => u),
    brake("H25", end, fitted, sheet, fitted.barrel, barrelRadius, ([, r]) => r),
  );
  return found;
};

export const checksOf = (car, on) => {
  const now = { front: fitOf(on.front), rear: fitOf(on.rear) };
  const stock = { front: fitOf(car.front.stock), rear: fitOf(car.rear.stock) };
  return [
    ratio(now, stock),
    ...["front", "rear"].flatMap((end) => ofEnd(car, end, on[end], now[end], stock[end])),
  ];
};

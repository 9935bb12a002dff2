// The mock-up sheet for exactly what is tried: expected gaps in every state that it asks for.
import { facts } from "./fit/facts.js";
import { gapAt } from "./fit/nearest.js";
import { namedStates } from "./fit/travel.js";
import { length, notKnown, withLengths } from "./numbers.js";

const LONG = 4;

// The gaps of a site in all named states.
const gapsOf = (each, look) => {
  const seen = look.held.seen.get(each.site.name);
  return namedStates(look.held.motion.reach).map(({ name, at }) => ({
    name,
    gap: gapAt(seen, at, look.outline).gap - each.site.thickness,
  }));
};

const leastOf = (gaps) => Math.min(...gaps.map(({ gap }) => gap));

// The least gap of a site on the weaker side, in some states or, in a sweep, wherever it is:
// {gap, pose, isNear}; null where it is not known.
const expected = (verdict, name, states, isSweep) => {
  const found = verdict.sites.filter(({ site }) => site.name === name);
  if (!found.length || found.some(({ least }) => !least)) return null;
  const weaker = found.reduce((one, other) => (other.least.gap < one.least.gap ? other : one));
  if (isSweep || !weaker.site.moves) return { gap: weaker.least.gap, pose: isSweep ? weaker.least.words : "", isNear: true };
  const { near } = facts.mockUp;
  const looks = found.map((each) => {
    const all = gapsOf(each, verdict.looks.find(({ side }) => side === each.looked));
    const gap = leastOf(all.filter(({ name }) => states.includes(name)));
    return { gap, isNear: gap <= near + Math.max(leastOf(all), each.site.wanted) };
  });
  const gap = Math.min(...looks.map((each) => each.gap));
  return Number.isFinite(gap) ? { gap, pose: "", isNear: looks.some(({ isNear }) => isNear) } : null;
};

const first = (value) => (Array.isArray(value) ? value[0] : (value ?? null));

const told = (words, value) => {
  if (value === null || value === undefined || value === "") return [];
  return ["; ", ...words(value)];
};

// What is fitted at one end, in the words of a record.
const asked = ({ wheel, tyre, ...fitted }) => {
  const lengthOf = (name) => (value) => [`${name} `, length(value, { decimals: 1 })];
  const offset = first(wheel.offsetMeasured) ?? first(wheel.offset);
  return [
    `wheel ${wheel.width} x ${wheel.diameter}`,
    ...(offset === null ? [] : ["; offset ", length(offset, { decimals: 1, isSigned: true })]),
    ...told(lengthOf("spacer"), first(fitted.spacer) || null),
    `; tyre ${tyre.size}`,
    ...told(lengthOf("section width"), first(tyre.sectionWidth)),
    ...told((value) => [`camber ${String(value).replace("-", "\u2212")}°`], fitted.camber),
    ...told(lengthOf("ride height"), fitted.rideHeight || null),
    ...told((stop) => [`bump stop ${stop.state}`], fitted.stop),
    ...told(lengthOf("trimmed by"), fitted.stop?.trimmed || null),
    ...told(lengthOf("spaced by"), fitted.stop?.spaced || null),
    ...told(lengthOf("steering-stop shim"), fitted.shim || null),
    ...told((lips) => [`lips ${lips}`], fitted.body?.lips),
    ...told(lengthOf("room gained at the lip"), fitted.body?.lipsGained || null),
  ];
};

// What must be said of a site is said where it first stands.
const fillRow = (row, found, cautioned) => {
  const isShown = !found || found.isNear || row.dataset.always !== undefined;
  row.hidden = !isShown;
  row.querySelector("[data-part=expected]").replaceChildren(
    found ? length(found.gap, { decimals: 0 }) : notKnown(),
  );
  row.querySelector("[data-part=pose]").replaceChildren(...withLengths(found?.pose ?? ""));
  const caution = row.querySelector("[data-part=caution]");
  if (!caution || !isShown) return;
  caution.hidden = cautioned.has(row.dataset.site);
  cautioned.add(row.dataset.site);
};

export const fillSheet = (trial) => {
  const cautioned = { front: new Set(), rear: new Set() };
  for (const end of ["front", "rear"]) {
    const { fitted } = trial.ends[end];
    trial.part(`asked-${end}`).replaceChildren(...(fitted ? asked(fitted) : [notKnown()]));
  }
  for (const table of trial.element.querySelectorAll("[data-part=sheet] table[data-end]")) {
    const { end, sweep } = table.dataset;
    const { verdict } = trial.ends[end];
    const states = table.dataset.states.split("|");
    const rows = [...table.querySelectorAll("tr[data-site]")];
    for (const row of rows) {
      const found = verdict ? expected(verdict, row.dataset.site, states, sweep !== undefined) : null;
      fillRow(row, found, cautioned[end]);
    }
    // A long step may go on overleaf; a short one stays together.
    table.closest(".step").classList.toggle("is-long", rows.filter(({ hidden }) => !hidden).length > LONG);
  }
};

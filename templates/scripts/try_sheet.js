// The mock-up sheet for exactly what is tried: expected gaps in every state that it asks for.
import { gapAt } from "./fit/nearest.js";
import { namedStates } from "./fit/travel.js";
import { length, notKnown } from "./numbers.js";

const gapsIn = (each, look, states) => {
  const seen = look.held.seen.get(each.site.name);
  return namedStates(look.held.motion.reach)
    .filter(({ name }) => states.includes(name))
    .map(({ at }) => gapAt(seen, at, look.outline).gap - each.site.thickness);
};

const expected = (verdict, name, states, isSweep) => {
  const found = verdict.sites.filter(({ site }) => site.name === name);
  if (!found.length || found.some(({ least }) => !least)) return null;
  const gaps = found.flatMap((each) => {
    if (isSweep || !each.site.moves) return [each.least.gap];
    const look = verdict.looks.find(({ side }) => side === each.looked);
    return gapsIn(each, look, states);
  });
  return gaps.length ? Math.min(...gaps) : null;
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
    ...told((value) => [`camber ${value}°`], fitted.camber),
    ...told(lengthOf("ride height"), fitted.rideHeight || null),
    ...told((stop) => [`bump stop ${stop.state}`], fitted.stop),
    ...told(lengthOf("trimmed by"), fitted.stop?.trimmed || null),
    ...told(lengthOf("spaced by"), fitted.stop?.spaced || null),
    ...told(lengthOf("steering-stop shim"), fitted.shim || null),
    ...told((lips) => [`lips ${lips}`], fitted.body?.lips),
    ...told(lengthOf("room gained at the lip"), fitted.body?.lipsGained || null),
  ];
};

export const fillSheet = (trial) => {
  for (const end of ["front", "rear"]) {
    const { fitted } = trial.ends[end];
    trial.part(`asked-${end}`).replaceChildren(...(fitted ? asked(fitted) : [notKnown()]));
  }
  for (const table of trial.element.querySelectorAll("[data-part=sheet] table[data-end]")) {
    const { verdict } = trial.ends[table.dataset.end];
    const states = table.dataset.states.split("|");
    for (const row of table.querySelectorAll("tr[data-site]")) {
      const gap = verdict
        ? expected(verdict, row.dataset.site, states, table.dataset.sweep !== undefined)
        : null;
      row.querySelector("[data-part=expected]").replaceChildren(
        gap === null ? notKnown() : length(gap, { decimals: 0, isSigned: true }),
      );
    }
  }
};

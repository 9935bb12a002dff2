// The drawings and what moves them: a site, travel, steer and the other wheel's travel.
import { plan, section } from "./try_draw.js";
import { poseWords, steerWords, travelWords } from "./fit/travel.js";
import { length, make, withLengths } from "./numbers.js";
import { upper } from "./try_checks.js";

const element = (id) => document.getElementById(id);

const seenSites = (trial) =>
  ["front", "rear"].flatMap((end) => (trial.ends[end].verdict?.sites ?? []).filter((each) => each.least));

// Which of them it is stands first: a select on a phone cuts the end off.
const placeOf = ({ site, side }) => `${upper(site.axle)} ${side === "both" ? "both sides" : side}`;

const keyOf = (end, each) => `${end} ${each.site.name} ${each.side}`;

// A name up to its comma, where no other site of the end begins with it.
const shortOf = ({ site }, sites) => {
  const [head] = site.label.split(",");
  const isAlone = sites.every((each) => each.site.axle !== site.axle || each.site.name === site.name || each.site.label.split(",")[0] !== head);
  return isAlone ? head : site.label;
};

// The weakest site first; what the reader chose stays chosen while it is there.
export const setLook = (trial) => {
  const select = element("look-site");
  const before = trial.isChosen ? select.value : "";
  const sites = seenSites(trial).sort((a, b) => a.chance - b.chance);
  const options = sites.map((each) => [keyOf(each.site.axle, each), `${placeOf(each)}: ${shortOf(each, sites)}`]);
  const now = [...select.options].map(({ value }) => value).join();
  if (now !== options.map(([value]) => value).join()) {
    select.replaceChildren(...options.map(([value, text]) => make("option", { value }, text)));
  }
  const kept = options.some(([value]) => value === before);
  if (kept) select.value = before;
  else if (options.length) [[select.value]] = options;
  if (!kept) trial.isChosen = false;
  if (!trial.hasLook) {
    trial.hasLook = true;
    listen(trial);
  }
  toWorst(trial);
};

const chosen = (trial) => {
  const value = element("look-site").value;
  return seenSites(trial).find((each) => keyOf(each.site.axle, each) === value) || null;
};

const lookOf = (trial, each) => {
  const { looks } = trial.ends[each.site.axle].verdict;
  return looks.find(({ side }) => side === each.looked) || looks[0];
};

const toWorst = (trial) => {
  const each = chosen(trial);
  if (!each) return;
  const { reach } = lookOf(trial, each).held.motion;
  const [travel, steer, other] = each.least.position;
  const put = (id, low, high, value) => {
    const input = element(id);
    input.min = low;
    input.max = high;
    input.value = value;
  };
  put("look-travel", -Math.ceil(reach.limits.droop), Math.ceil(reach.limits.bump), travel);
  put("look-other", -Math.ceil(reach.limits.droop), Math.ceil(reach.limits.bump), other);
  put("look-steer", -Math.ceil(reach.locks.toeIn), Math.ceil(reach.locks.toeOut), steer);
  trial.position = [travel, steer, other];
  trial.part("steer-field").hidden = !(reach.locks.toeOut || reach.locks.toeIn);
  trial.part("other-field").hidden = !reach.articulation;
};

const listen = (trial) => {
  element("look-site").addEventListener("input", () => {
    trial.isChosen = true;
    toWorst(trial);
    drawLook(trial);
  });
  for (const id of ["look-travel", "look-steer", "look-other"]) {
    element(id).addEventListener("input", () => {
      const each = chosen(trial);
      if (!each) return;
      const { limits, locks } = lookOf(trial, each).held.motion.reach;
      const within = (value, low, high) => Math.min(Math.max(Number(value), low), high);
      const travel = within(element("look-travel").value, -limits.droop, limits.bump);
      const steer = within(element("look-steer").value, -locks.toeIn, locks.toeOut);
      const { articulation } = lookOf(trial, each).held.motion.reach;
      const other = articulation ? within(element("look-other").value, -limits.droop, limits.bump) : travel;
      trial.position = [travel, steer, other];
      drawLook(trial);
    });
  }
  trial.element.querySelector("[data-do=worst]").addEventListener("click", () => {
    toWorst(trial);
    drawLook(trial);
  });
};

// Told in words, to those too who hear the slider.
const tellPlace = (trial, name, words) => {
  trial.part(name).replaceChildren(...withLengths(words));
  element(`look-${name}`).setAttribute("aria-valuetext", trial.part(name).textContent);
};

export const drawLook = (trial) => {
  const each = chosen(trial);
  const box = trial.part("drawings");
  if (!each) {
    box.replaceChildren(make("p", {}, "Nothing that is known can be drawn."));
    trial.part("pose").textContent = "";
    return;
  }
  const look = lookOf(trial, each);
  const { verdict } = trial.ends[each.site.axle];
  const sites = verdict.sites
    .filter((one) => one.least && (one.looked === each.looked || one.looked === "both"))
    .filter((one, at, all) => all.findIndex((other) => other.site === one.site) === at)
    .map((one) => ({ site: one.site, word: one.word, coarse: look.held.seen.get(one.site.name)?.coarse }))
    .filter((one) => one.coarse);
  const [travel, steer, other] = trial.position;
  const { reach } = look.held.motion;
  tellPlace(trial, "travel", travelWords(travel, reach));
  tellPlace(trial, "steer", steerWords(steer, reach));
  tellPlace(trial, "other", travelWords(other, reach));
  const drawings = [section, plan].map((draw) => draw(look, sites, trial.position, each.site.name));
  box.replaceChildren(...drawings);
  const words = poseWords(trial.position, look.held.motion.reach);
  const { gap } = drawings[0].dataset;
  const { crossing } = drawings[1].dataset;
  const told = gap === undefined ? [] : ["; the gap computed here from the sheet is ", length(Number(gap)), Number(gap) < 0 ? ", an overlap" : ""];
  const across = crossing && Number(gap) > 0 ? [` From above it is drawn across the tyre, for it lies ${crossing} it there, not in it.`] : [];
  trial.part("pose").replaceChildren(
    `${placeOf(each)}, ${each.site.label}: ${each.word}, by the worst of all positions. Shown is `, ...withLengths(words), ...told, ".", ...across,
  );
};

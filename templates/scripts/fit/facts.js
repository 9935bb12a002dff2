// The constants and published tables that the computation uses, as the guide wrote them for the
// browser (generator/site/live/facts.py). None of them is typed here a second time.
//
// use(facts) once, before anything else of this folder is called.
export let facts = null;

export const use = (given) => {
  facts = given;
};

// What cannot be computed, in words for the reader; everything else that is thrown is a fault here.
export class NotKnown extends Error {}

export const radians = (degrees) => (degrees * Math.PI) / 180;
export const degrees = (angle) => (angle * 180) / Math.PI;
export const clip = (value, low, high) => Math.min(Math.max(value, low), high);

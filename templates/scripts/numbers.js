// Numbers and elements as the pages write them: the same markup as components/number.
export const MM_PER_INCH = 25.4;
const UNITS = { metric: "mm", inch: "in" };
// The club's own unit stands before the other (templates/base.html).
const isInchFirst = document.documentElement.dataset.first === "inch";
export const ownFirst = (metric, inch) => (isInchFirst ? [inch, metric] : [metric, inch]);

export const make = (tag, attributes = {}, ...children) => {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== null && value !== false) element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children);
  return element;
};

// What lies half way goes to the even digit, as in generator/rendering/filters.py.
const rounded = (value, decimals) => {
  const digits = Math.abs(value).toFixed(decimals);
  const isHalf = (Math.abs(value) * 2 ** (decimals + 1)) % 2 === 1;
  return isHalf && digits.at(-1) % 2 ? digits.slice(0, -1) + (digits.at(-1) - 1) : digits;
};

export const figure = (value, decimals, isSigned = false) => {
  const digits = rounded(value, decimals);
  const [whole, rest] = digits.split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  const isZero = Number(digits) === 0;
  const sign = isZero ? "" : value < 0 ? "\u2212" : isSigned ? "+" : "";
  return sign + grouped + (rest ? "." + rest : "");
};

// A standard uncertainty is worth one digit, two where it begins with 1; the value ends with it.
export const decimalsFor = (u, otherwise) => {
  if (!(u > 0)) return otherwise;
  let exponent = Math.floor(Math.log10(u));
  let leading = u / 10 ** exponent;
  if (leading >= 9.5) {
    exponent += 1;
    leading = 1;
  }
  return Math.min(Math.max(0, (leading < 1.95 ? 1 : 0) - exponent), 4);
};

export const notKnown = () => make("span", { class: "not-known" }, "not known");

const spread = (u, decimals, write = figure) =>
  u > 0 ? [make("span", { class: "pm" }, " ±\u00a0" + write(u, decimals))] : [];

// The inches of a length as it is shown in mm with a count of decimals: the same millimetres are the
// same inches wherever they stand (generator/rendering/filters.py).
export const inches = (value, decimals, isSigned = false) => {
  const shown = Number(rounded(value, decimals)) / MM_PER_INCH;
  return figure(value < 0 ? -shown : shown, Math.max(2, decimals + 1), isSigned);
};

const WRITTEN = { metric: figure, inch: inches };

const pair = (metric, inch) => {
  const [own, other] = ownFirst(metric, inch);
  return make("span", { class: "pair" }, own, make("span", { class: "or" }, "\u00a0/ "), other);
};

export const length = (value, options = {}) => {
  if (value === null || value === undefined || Number.isNaN(value)) return notKnown();
  const { u = 0, decimals = 1, isSigned } = options;
  const places = decimalsFor(u, decimals);
  const [metric, inch] = Object.entries(WRITTEN).map(([kind, write]) =>
    make(
      "span",
      { class: kind },
      write(value, places, isSigned),
      ...spread(u, places, write),
      "\u00a0" + UNITS[kind],
    ),
  );
  return pair(metric, inch);
};

// A length without spread that changes often: only its figures are written again.
export const changingLength = (options) => {
  const element = length(0, options);
  const texts = Object.keys(WRITTEN).map((kind) => element.querySelector(`.${kind}`).firstChild);
  const put = (value) =>
    [figure, inches].forEach((write, at) => {
      const told = write(value, options.decimals ?? 1, options.isSigned);
      if (texts[at].data !== told) texts[at].data = told;
    });
  return { element, put };
};

// From one length to another, in each unit by itself, as pages write it.
export const changingRange = (options) => {
  const inUnit = (kind) => make("span", { class: kind }, "", " to ", "", "\u00a0" + UNITS[kind]);
  const shown = ["metric", "inch"].map(inUnit);
  const element = pair(...shown);
  const put = (low, high) =>
    [low, high].forEach((value, end) =>
      [figure, inches].forEach((write, at) => {
        const text = shown[at].childNodes[2 * end];
        const told = write(value, options.decimals ?? 1, options.isSigned);
        if (text.data !== told) text.data = told;
      }),
    );
  return { element, put };
};

// Words that say lengths in millimetres or other quantities, as those of the computation do, with each
// in both units.
const IN_WORDS = /(?:([+\u2212-]?\d+(?:\.\d+)?) (to|±) )?([+\u2212-]?\d+(?:\.(\d+))?)[ \u00a0]mm\b/g;

const numberOf = (text) => Number(text.replace("\u2212", "-"));

const range = (low, high, options) => {
  const { element, put } = changingRange(options);
  put(low, high);
  return element;
};

const toldLength = ([, before, between, last, places = ""]) => {
  const decimals = places.length;
  if (between === "to") return range(numberOf(before), numberOf(last), { decimals });
  if (between) return length(numberOf(before), { u: numberOf(last), decimals, isSigned: before.startsWith("+") });
  return length(numberOf(last), { decimals, isSigned: last.startsWith("+") });
};

// Which way the wheel points stays on one line with its angle (generator/rendering/together.py).
const WAY = /((?:\d+\u00b0 )?toe-(?:in|out))/;
const whole = (words) =>
  words.split(WAY).map((part, at) => (at % 2 ? make("span", { class: "together" }, part) : part));

// Words apart at what a pattern finds, which is told in its own way.
const apart = (words, pattern, told, rest) => {
  const found = [];
  let end = 0;
  for (const each of words.matchAll(pattern)) {
    found.push(...rest(words.slice(end, each.index)), told(each));
    end = each.index + each[0].length;
  }
  return [...found, ...rest(words.slice(end))];
};

// Other units and those of the inch readers, with the least decimals (generator/rendering/other_units.py).
const KM_PER_MILE = 1.609344;
const KG_PER_POUND = 0.45359237;
const NM_PER_POUND_FOOT = KG_PER_POUND * 9.80665 * 0.3048;
const BAR_PER_PSI = (KG_PER_POUND * 9.80665) / 0.0254 ** 2 / 1e5;
const OTHER = {
  "km/h": ["mph", KM_PER_MILE, 0],
  km: ["mi", KM_PER_MILE, 0],
  kg: ["lb", KG_PER_POUND, 0],
  "N\u00b7m": ["lb ft", NM_PER_POUND_FOOT, 0],
  bar: ["psi", BAR_PER_PSI, 1],
};
const NUMBER = "(?<![\\w./\u202f])[+\u2212-]?\\d+(?:\\.\\d+)?";
const QUANTITIES = new RegExp(
  `((?:(?:${NUMBER}, )*${NUMBER}(?:[ \u00a0]to[ \u00a0]| and ))?${NUMBER})[ \u00a0](km/h|km|kg|N\u00b7m|bar)(?![\\w/\u00b7-])` +
    "(?:[ \u00a0]\\(([^()]*?)[ \u00a0](mph|mi|lb ft|lb|psi)\\))?",
  "g",
);

const otherFigure = (value, decimals, unit) => {
  const [, factor, least] = OTHER[unit];
  return figure(value / factor, least || Math.max(decimals, value && Math.abs(value) < 10 ? 1 : 0));
};

const toldQuantity = ([, numbers, unit, stated]) => {
  const each = (write) => numbers.replaceAll(new RegExp(NUMBER, "g"), (number) =>
    write(numberOf(number), number.split(".")[1]?.length ?? 0),
  );
  const converted = (value, places) => otherFigure(value, places, unit);
  return pair(
    make("span", { class: "metric" }, `${each((value, places) => figure(value, places))}\u00a0${unit}`),
    make("span", { class: "inch" }, `${stated ?? each(converted)}\u00a0${OTHER[unit][0]}`),
  );
};

export const withLengths = (words) =>
  apart(words, IN_WORDS, toldLength, (rest) => apart(rest, QUANTITIES, toldQuantity, whole));

// A length in words without markup, such as the title of a drawing.
export const inBothUnits = (value) =>
  `${figure(value, 1, true)}\u00a0mm (${inches(value, 1, true)}\u00a0in)`;

export const quantity = (value, unit, { u = 0, decimals = 1, isSigned = false } = {}) => {
  const places = decimalsFor(u, decimals);
  const text = figure(value, places, isSigned);
  // A degree sign follows its figure without a space (ISO 80000-1, from memory).
  const between = unit.startsWith("°") ? "" : "\u00a0";
  const isOwn = !OTHER[unit];
  const shown = make("span", { class: isOwn ? "qty" : "metric" }, text, ...spread(u, places), between + unit);
  if (isOwn) return shown;
  const write = (number, decimals) => otherFigure(number, decimals, unit);
  return pair(shown, make("span", { class: "inch" }, write(value, places), ...spread(u, places, write), "\u00a0" + OTHER[unit][0]));
};

export const percent = (chance) => {
  const whole = Math.round(chance * 100);
  if (whole < 1) return "<\u00a01\u00a0%";
  if (whole > 99) return ">\u00a099\u00a0%";
  return `${whole}\u00a0%`;
};

export const isInch = () => (document.documentElement.dataset.units ?? (isInchFirst ? "inch" : "")) === "inch";

export const plural = (count, noun) =>
  figure(count, 0) + "\u00a0" + noun + (count === 1 ? "" : "s");

const months = (
  "January February March April May June July August September October November December"
).split(" ");

export const longDate = (days) => {
  const day = new Date(days * 86400000);
  const month = months[day.getUTCMonth()];
  return [day.getUTCDate(), month, day.getUTCFullYear()].join("\u00a0");
};

// Reads tyre designations in every form of generator/quantities/tyre_size.py, to the same values.
//
//   readTyreSize("205/55 R 16 91V")   {form, size, designation, width, aspect, rim, construction, …}
// Throws Misread with `at`, the place in the text, and `expected`, in words.
import { facts } from "./facts.js";

export class Misread extends Error {
  constructor(at, expected) {
    super(expected);
    this.at = at;
    this.expected = expected;
  }
}

const EXPECTED = "a tyre size, such as `205/55 R 16 91V`";
const RIM = "([0-9]{3}|[0-9]{2}(?:[.]5)?|[89])(?![0-9.,])";
const MARK = "(ZRF|ZR|RF|[A-Z]R|R|D|B|-)(?![A-Z])";
const VERSIONS = "(XL|EXTRA LOAD|REINFORCED|REINF|RF|SL)(?![A-Z0-9])";
const LOAD_RANGE = "(?:LOAD RANGE|LR)? *([B-F])(?![A-Z0-9])";
const ASPECTS_OF_LETTERS = ["50", "60", "70", "78", "83"];

const patterns = new Map();

const compiled = (pattern) => {
  if (!patterns.has(pattern)) patterns.set(pattern, new RegExp(` *(?:${pattern})`, "iy"));
  return patterns.get(pattern);
};

class Cursor {
  constructor(text) {
    this.text = text;
    this.at = 0;
  }

  take(pattern) {
    const expression = compiled(pattern);
    expression.lastIndex = this.at;
    const found = expression.exec(this.text);
    if (found) this.at = expression.lastIndex;
    return found;
  }

  sees(pattern) {
    const expression = compiled(pattern);
    expression.lastIndex = this.at;
    return expression.test(this.text);
  }

  get rest() {
    return this.text.slice(this.at).replace(/^ +| +$/g, "");
  }

  wrong(expected) {
    return new Misread(this.at, expected);
  }
}

const short = (digits) => String(Number(digits));

const markOf = (cursor) => {
  const found = cursor.take(MARK);
  if (!found) throw cursor.wrong("the construction: R for a radial, D or a hyphen for a diagonal tyre");
  const mark = found[1].toUpperCase();
  if (mark === "D" || mark === "-") return { letters: "", construction: "D", runFlat: false };
  if (mark === "B") return { letters: "", construction: "B", runFlat: false };
  const runFlat = mark.endsWith("F");
  const letters = (runFlat ? mark.slice(0, -1) : mark).slice(0, -1);
  if (letters && letters !== "Z" && !facts.tyreSize.speedSymbols.includes(letters)) {
    throw cursor.wrong("a speed symbol, or nothing, before R");
  }
  return { letters, construction: "R", runFlat };
};

const rimOf = (cursor) => {
  const found = cursor.take(RIM);
  if (!found) throw cursor.wrong("the rim code, such as `16`");
  const rim = Number(found[1]);
  const isRim = facts.tyreSize.rims.some(([least, most]) => rim >= least && rim <= most);
  if (!isRim) throw cursor.wrong("8 to 30, or 300 to 600 for a rim in mm");
  return short(found[1]);
};

const checkedWidth = (cursor, digits) => {
  const width = Number(digits);
  const [narrowest, widest] = facts.tyreSize.widths;
  if (width >= narrowest && width <= widest) return width;
  throw cursor.wrong("a nominal section width from 105 to 455 mm");
};

const rounded = (inches) => Math.round(Number(inches) * facts.tyre.inch * 1000) / 1000;

const suffixOf = (cursor, prefix) => {
  if (cursor.take("LT(?![A-Z0-9])")) return "LT";
  if (!prefix && cursor.take("C(?![A-Z0-9])")) return "C";
  return null;
};

const flotation = (cursor) => {
  const found = cursor.take(
    "([2-5][0-9](?:[.][0-9]{1,2})?) *[x×] *([0-9]{1,2}[.][0-9]{1,2})(?![0-9,])",
  );
  if (!found) return null;
  const { construction } = markOf(cursor);
  const rim = rimOf(cursor);
  const mark = construction === "D" ? "-" : construction;
  return {
    form: "flotation",
    size: `${short(found[1])}x${Number(found[2]).toFixed(2)}${mark}${rim}`,
    construction,
    rimCode: rim,
    width: rounded(found[2]),
    diameter: rounded(found[1]),
    suffix: cursor.take("LT(?![A-Z0-9])") ? "LT" : null,
  };
};

const configurationA = (cursor) => {
  const found = cursor.take("([0-9]{3}) *- *([0-9]{3}) *R *([0-9]{3}) *A(?![A-Z0-9])");
  if (!found) return null;
  const [, width, diameter, rim] = found;
  return {
    form: "configuration A",
    size: `${width}-${diameter} R ${rim}A`,
    construction: "R",
    rimCode: rim,
    width: checkedWidth(cursor, width),
    diameter: Number(diameter),
  };
};

const alphaNumeric = (cursor) => {
  const found = cursor.take("([A-HJ-N])(R?) *([0-9]{2}) *- *(?=[0-9])");
  if (!found) return null;
  const radial = found[2].toUpperCase();
  if (!ASPECTS_OF_LETTERS.includes(found[3])) throw cursor.wrong("an aspect ratio in use");
  const rim = rimOf(cursor);
  return {
    form: "alpha-numeric",
    size: `${found[1].toUpperCase()}${radial}${found[3]}-${rim}`,
    construction: radial ? "R" : "D",
    rimCode: rim,
    aspect: Number(found[3]),
  };
};

const numeric = (cursor) => {
  const found = cursor.take("([0-9]{1,2}[.][0-9]{2})(?![0-9,])");
  if (!found) return null;
  const { letters, construction, runFlat } = markOf(cursor);
  const rim = rimOf(cursor);
  const mark = construction === "D" ? "-" : ` ${construction} `;
  return {
    form: "numeric",
    size: `${Number(found[1]).toFixed(2)}${mark}${rim}`,
    construction,
    rimCode: rim,
    width: rounded(found[1]),
    suffix: suffixOf(cursor, null),
    letters,
    runFlat,
  };
};

const aspectOf = (cursor, digits) => {
  const aspect = Number(digits);
  if (aspect === 82 || (aspect >= 20 && aspect <= 95 && aspect % 5 === 0)) return aspect;
  throw cursor.wrong("an aspect ratio of 20 to 95 in steps of five, or 82");
};

const metric = (cursor) => {
  const letters = cursor.take("(LT|HL|ST|P|T|S) *(?=[0-9])");
  const prefix = letters ? letters[1].toUpperCase() : null;
  const found = cursor.take("([0-9]{2,3})(?![0-9.,])");
  if (!found) throw cursor.wrong(EXPECTED);
  const slash = cursor.take("/");
  const ratio = slash ? cursor.take("([0-9]{2,3})(?![0-9.,])") : null;
  const width = checkedWidth(cursor, found[1]);
  if (slash && !ratio) throw cursor.wrong("the aspect ratio, such as `205/55`");
  const aspect = ratio ? aspectOf(cursor, ratio[1]) : null;
  const { letters: marks, construction, runFlat } = markOf(cursor);
  const rim = rimOf(cursor);
  const largest = facts.tyreSize.largestFullProfileRim;
  if (aspect === null && Number(rim) > largest) throw cursor.wrong("width and aspect ratio");
  const isMillimetres = Number(rim) >= facts.tyreSize.rims[1][0];
  const mark = construction === "D" ? "-" : ` ${construction} `;
  return {
    form: aspect === null ? "full profile" : isMillimetres ? "metric rim" : "metric",
    size: aspect === null ? `${found[1]}${mark}${rim}` : `${found[1]}/${aspect} ${construction} ${rim}`,
    construction,
    rimCode: rim,
    width,
    aspect,
    prefix,
    suffix: suffixOf(cursor, prefix),
    letters: marks,
    runFlat,
  };
};

const serviceOf = (cursor) => {
  const bracket = cursor.take("[(]");
  const found = cursor.take(
    "([0-9]{2,3})(?:/([0-9]{2,3}))?(?:([A-Z][0-9]?)| +([AG-Z][0-9]?))?(?![A-Z0-9/])",
  );
  if (!found) throw cursor.wrong("load index and speed symbol, such as `91V`, behind the size");
  const symbol = (found[3] || found[4] || "").toUpperCase() || null;
  const { speedSymbols, greatestLoadIndex } = facts.tyreSize;
  if (symbol !== null && !speedSymbols.includes(symbol)) throw cursor.wrong("a speed symbol");
  const indices = found[2] ? [Number(found[1]), Number(found[2])] : [Number(found[1])];
  const isFalling = indices.length < 2 || indices[0] >= indices[1];
  if (Math.max(...indices) > greatestLoadIndex || !isFalling) {
    throw cursor.wrong("up to 279, the index for single mounting first");
  }
  if (bracket && (!cursor.take("[)]") || symbol !== "Y" || found[2])) {
    throw cursor.wrong("brackets round load index and Y, such as `(92Y)`, or none");
  }
  const text = indices.join("/") + (symbol || "");
  return { loadIndices: indices, symbol, above300: Boolean(bracket), text: bracket ? `(${text})` : text };
};

const withTail = (cursor, size) => {
  const tail = { service: null, version: null, range: null };
  while (cursor.rest) {
    let found;
    if (!tail.service && cursor.sees("[0-9(]")) tail.service = serviceOf(cursor);
    else if (tail.version === null && (found = cursor.take(VERSIONS))) {
      tail.version = found[1].toUpperCase() === "SL" ? "SL" : "XL";
    } else if (tail.range === null && (found = cursor.take(LOAD_RANGE))) {
      tail.range = found[1].toUpperCase();
    } else {
      throw cursor.wrong("load index and speed symbol, `XL`, a load range, or nothing more");
    }
  }
  return { ...size, ...tail };
};

// Prefix, size with the letters before R, and suffix.
const designationOf = (size) => {
  let text = size.size;
  if (size.construction === "R") {
    const at = text.lastIndexOf("R");
    text = `${text.slice(0, at)}${size.letters || ""}R${size.runFlat ? "F" : ""}${text.slice(at + 1)}`;
  }
  const prefix = size.prefix ? size.prefix + (size.prefix === "HL" ? " " : "") : "";
  const gap = size.form === "flotation" ? "" : " ";
  return prefix + text + (size.suffix ? gap + size.suffix : "");
};

const blank = {
  width: null,
  aspect: null,
  diameter: null,
  prefix: null,
  suffix: null,
  letters: "",
  runFlat: false,
};

export const readTyreSize = (text) => {
  if (text.length > facts.tyreSize.longest) throw new Misread(facts.tyreSize.longest, EXPECTED);
  if (!text.replace(/^ +| +$/g, "")) throw new Misread(0, EXPECTED);
  const cursor = new Cursor(text);
  const size =
    flotation(cursor) ||
    configurationA(cursor) ||
    alphaNumeric(cursor) ||
    numeric(cursor) ||
    metric(cursor);
  const known = withTail(cursor, { ...blank, ...size });
  const designation = designationOf(known);
  const words = [designation, known.service?.text, known.version, known.range].filter(Boolean);
  return { ...known, rim: Number(known.rimCode), designation, words: words.join(" ") };
};

const kept = new Map();

// As readTyreSize, but each text is read once.
export const tyreSizeOf = (text) => {
  if (!kept.has(text)) {
    if (kept.size > 200) kept.clear();
    kept.set(text, readTyreSize(text));
  }
  return kept.get(text);
};

// Kinds of characters, and days.
import { ValueError } from "./errors.js";

const KINDS = [
  ["Cc", /^\p{Cc}$/u],
  ["Cs", /^\p{Cs}$/u],
  ["Mn", /^\p{Mn}$/u],
  ["Me", /^\p{Me}$/u],
];

export const unicodedata = {
  category: (sign) => KINDS.find(([, test]) => test.test(sign))?.[0] ?? "",
  normalize: (form, text) => text.normalize(form),
};

// Digits of one script follow one another from its nought.
export const decimal = (sign) => {
  const code = sign.codePointAt(0);
  let first = code;
  while (/^\p{Nd}$/u.test(String.fromCodePoint(first - 1))) first -= 1;
  return (code - first) % 10;
};

const DAY = 86400000;

class Day {
  constructor(time) {
    this.time = time;
    this.isDay = true;
    this.year = new Date(time).getUTCFullYear();
  }
  valueOf() {
    return this.time / DAY;
  }
  plusDays(span) {
    return new Day(this.time + span.days * DAY);
  }
  minus(other) {
    return other.isDay ? { days: (this.time - other.time) / DAY } : new Day(this.time - other.days * DAY);
  }
  isoformat() {
    return new Date(this.time).toISOString().slice(0, 10);
  }
  weekday() {
    return (new Date(this.time).getUTCDay() + 6) % 7;
  }
  get month() {
    return new Date(this.time).getUTCMonth() + 1;
  }
  get day() {
    return new Date(this.time).getUTCDate();
  }
}

export const date = (year, month, day) => {
  const time = Date.UTC(2000, month - 1, day);
  const made = new Date(time);
  made.setUTCFullYear(year, month - 1, day);
  if (made.getUTCMonth() !== month - 1 || made.getUTCDate() !== day) throw ValueError("no such day");
  return new Day(made.getTime());
};

export const timedelta = (named) => ({ days: (named.days ?? 0) + 7 * (named.weeks ?? 0) });

date.fromisoformat = (text) => date(...text.split("-").map(Number));

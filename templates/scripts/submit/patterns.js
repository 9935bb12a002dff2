// Regular expressions with Python's words for them. Places count characters from the start.
export const ASCII = 256;
export const IGNORECASE = 2;

const written = (pattern, flags) => {
  let text = pattern.replace(/\\Z/g, "$").replace(/\\([-#&~ ])/g, (whole, sign, at) => {
    const inside = pattern.lastIndexOf("[", at) > pattern.lastIndexOf("]", at);
    return inside && sign === "-" ? "\\-" : sign;
  });
  // Without ASCII, a digit of any script is a digit.
  if (!(flags & ASCII)) text = text.replace(/\\D/g, "\\P{Nd}").replace(/\\d/g, "\\p{Nd}");
  return text;
};

class Match {
  constructor(found) {
    this.found = found;
  }
  group(...places) {
    if (places.length > 1) return places.map((place) => this.group(place));
    return this.found[places[0] ?? 0] ?? null;
  }
  item(place) {
    return this.group(place);
  }
  groups() {
    return [...this.found].slice(1).map((each) => each ?? null);
  }
  start(place = 0) {
    return this.found.indices[place]?.[0] ?? -1;
  }
  end(place = 0) {
    return this.found.indices[place]?.[1] ?? -1;
  }
  span(place = 0) {
    return [this.start(place), this.end(place)];
  }
}

class Pattern {
  constructor(pattern, flags = 0) {
    const text = written(pattern, flags);
    // Case is that of ASCII alone where ASCII is asked for, which is what no `u` means.
    const letters = (flags & IGNORECASE ? "i" : "") + (flags & ASCII ? "" : "u") + "d";
    this.sticky = new RegExp(text, `${letters}y`);
    this.whole = new RegExp(`(?:${text})$`, `${letters}y`);
    this.anywhere = new RegExp(text, `${letters}g`);
  }
  run(expression, text, from) {
    expression.lastIndex = from;
    const found = expression.exec(text);
    return found ? new Match(found) : null;
  }
  match(text, from = 0) {
    return this.run(this.sticky, text, from);
  }
  fullmatch(text) {
    return this.run(this.whole, text, 0);
  }
  search(text) {
    return this.run(this.anywhere, text, 0);
  }
  sub(by, text) {
    if (typeof by === "string") return text.replace(this.anywhere, by.replace(/\$/g, "$$$$").replace(/\\(\d)/g, "$$$1"));
    return text.replace(this.anywhere, (...found) => by({ group: (place = 0) => found[place] }));
  }
}

const kept = new Map();
const compile = (pattern, flags = 0) => {
  const key = `${flags} ${pattern}`;
  if (!kept.has(key)) kept.set(key, new Pattern(pattern, flags));
  return kept.get(key);
};

export const re = {
  ASCII,
  IGNORECASE,
  I: IGNORECASE,
  compile,
  match: (pattern, text, flags = 0) => compile(pattern, flags).match(text),
  fullmatch: (pattern, text, flags = 0) => compile(pattern, flags).fullmatch(text),
  search: (pattern, text, flags = 0) => compile(pattern, flags).search(text),
  sub: (pattern, by, text) => compile(pattern).sub(by, text),
  escape: (text) => text.replace(/[.*+?^${}()|[\]\\/-]/g, "\\$&"),
};

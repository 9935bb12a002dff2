// The wheel and the places near it in one position: a section in the wheel's own half-plane, and a
// view from above. Both are drawn through the points that the computation itself uses: a place is
// shown by its edges.
//
//   section(look, sites, position, chosen)    look: {outline, held}; sites: [{site, coarse, word}]
//   plan(look, sites, position, chosen)       for the page of a record too, which has it at both locks
import { draw, rounded, scaleBar } from "./drawn.js";
import { closest } from "./fit/outline.js";
import { poses } from "./fit/motion.js";
import { figure, inBothUnits } from "./numbers.js";

const WIDTH = 640;
const EDGE = 30;
const KEY = 44;

const framed = (id, title, desc, height, children) =>
  draw(
    "svg",
    {
      class: "dw", role: "img", "aria-labelledby": `${id}-title ${id}-desc`,
      viewBox: `0 0 ${WIDTH} ${Math.round(height)}`, width: WIDTH, height: Math.round(height),
    },
    draw("title", { id: `${id}-title` }, title),
    draw("desc", { id: `${id}-desc` }, desc),
    ...children,
  );

const lineOf = (points, x, y, close = "") =>
  points.length ? "M" + points.map(([a, b]) => `${rounded(x(a))} ${rounded(y(b))}`).join(" ") + close : "";

const words = (x, y, text, anchor = "start") =>
  draw("text", { class: "dw-text", x: rounded(x), y: rounded(y), "text-anchor": anchor }, text);

const placed = (coarse, motion) => {
  const found = [];
  for (let at = 0; at < coarse.count; at += 1) {
    const x = coarse.points[3 * at] - motion[9];
    const y = coarse.points[3 * at + 1] - motion[10];
    const z = coarse.points[3 * at + 2] - motion[11];
    const a = motion[0] * x + motion[3] * y + motion[6] * z;
    const c = motion[2] * x + motion[5] * y + motion[8] * z;
    found.push([motion[1] * x + motion[4] * y + motion[7] * z, Math.hypot(a, c)]);
  }
  return found;
};

// The rows of points along the edges of a place; of a line it is the line itself.
const edgesOf = (coarse) => {
  const { parameters, count, shape } = coarse;
  const used = [0, 1, 2].filter((axis) => shape.sizes[axis] > 0);
  const edges = used.flatMap((axis) => {
    const others = used.filter((other) => other !== axis);
    const rows = new Map();
    for (let at = 0; at < count; at += 1) {
      const key = others.map((other) => parameters[3 * at + other]);
      if (!key.every((each) => each === 0 || each === 1)) continue;
      rows.set(key.join(), [...(rows.get(key.join()) ?? []), at]);
    }
    const along = (at) => parameters[3 * at + axis];
    return [...rows.values()].map((row) => row.sort((one, other) => along(one) - along(other)));
  });
  return used.length ? edges : [[0]];
};

const edges = (coarse, points, isSeen, x, y, word, isChosen) => {
  coarse.edges ??= edgesOf(coarse);
  const parts = [];
  const marks = [];
  for (const row of coarse.edges) {
    let isOn = false;
    const inView = [];
    for (const at of row) {
      const seen = isSeen(points[at]);
      const [a, b] = points[at];
      if (seen) parts.push(`${isOn ? "L" : "M"}${rounded(x(a))} ${rounded(y(b))}${row.length === 1 ? "h0.01" : ""}`);
      isOn = seen;
      if (seen) inView.push(points[at]);
    }
    // Every edge that is in view at all has its cross.
    const middle = inView[inView.length >> 1];
    if (word === "touches" && middle) marks.push(crossAt(x(middle[0]), y(middle[1])));
  }
  return lines(parts.join(""), word, isChosen ? 5 : 2.5, marks.join(""));
};

// What touches has crosses upon it, so that no word is told by its colour alone; tight is in dashes
// and not known in dots (try.css).
const crossAt = (x, y) => `M${rounded(x - 7)} ${rounded(y - 7)}l14 14m0 -14l-14 14`;

const lines = (d, word, breadth, marks = "") => {
  const line = draw("path", { class: styleOf(word), "stroke-width": breadth, d });
  if (!marks) return line;
  return draw("g", {}, line, draw("path", { class: styleOf(word), "stroke-width": 2.5, d: marks }));
};

// What the lines mean, in a row: those that are drawn.
const KEYS = [["clears", 132], ["tight", 122], ["touches", 148], ["not known", 160]];
const key = (y, sites) => {
  let x = 14;
  return KEYS.filter(([word]) => sites.some((each) => each.word === word)).flatMap(([word, breadth]) => {
    const at = x;
    x += breadth;
    return [lines(`M${at} ${y - 7}h40`, word, 2.5, word === "touches" ? crossAt(at + 20, y - 7) : ""), words(at + 50, y, word)];
  });
};

// The chosen place is drawn last, upon the others.
const inTurn = (sites, chosen) => [...sites].sort((a, b) => (a.site.name === chosen) - (b.site.name === chosen));

const styleOf = (word) => `try-place try-${word.replace(" ", "-")}`;

// Outboard is to the left, as in every section of the guide; the crown is up.
export const section = (look, sites, position, chosen) => {
  const { outline, held } = look;
  const pairs = [];
  for (let at = 0; at < outline.points.length; at += 2) {
    pairs.push([outline.points[at], outline.points[at + 1]]);
  }
  const us = pairs.map(([u]) => u);
  const rs = pairs.map(([, r]) => r);
  const [low, high] = [Math.min(...us) - 70, Math.max(...us) + 70];
  const [bottom, top] = [Math.min(...rs) - 30, Math.max(...rs) + 70];
  const perMm = (WIDTH - 2 * EDGE) / (high - low);
  const x = (u) => WIDTH - EDGE - perMm * (u - low);
  const y = (r) => EDGE + perMm * (top - r);
  const height = EDGE + perMm * (top - bottom) + 56 + KEY;
  const children = [
    draw("path", { class: "dw-tyre dw-edge", d: lineOf(pairs, x, y, "z") }),
    draw("path", { class: "dw-axis", d: `M${rounded(x(0))} ${EDGE}V${rounded(y(bottom))}` }),
    words(x(0), 20, "hub face", "middle"),
  ];
  let told = "";
  let least;
  const isSeen = ([u, r]) => u > low && u < high && r > bottom && r < top;
  for (const { site, coarse, word } of inTurn(sites, chosen)) {
    const motion = poses(held.motion.corner, [position], site.view);
    const points = placed(coarse, motion);
    children.push(edges(coarse, points, isSeen, x, y, word, site.name === chosen));
    if (site.name !== chosen) continue;
    let best = null;
    for (const [u, r] of points) {
      const near = closest(outline, u, r);
      if (!best || near.gap < best.near.gap) best = { near, u, r };
    }
    least = best.near.gap - site.thickness;
    told = `${site.label}: computed gap ${inBothUnits(least)}`;
    if (!isSeen([best.u, best.r])) continue;
    const [x0, y0, x1, y1] = [x(best.u), y(best.r), x(best.near.u), y(best.near.r)];
    children.push(
      draw("path", { class: "dw-leader try-gap", d: `M${rounded(x0)} ${rounded(y0)}L${rounded(x1)} ${rounded(y1)}` }),
      draw("circle", { class: "try-nearest", cx: rounded(x0), cy: rounded(y0), r: 5 }),
    );
  }
  children.push(words(14, height - 14, "through the wheel, outboard left"), ...scaleBar(perMm, WIDTH - EDGE, height - 14), ...key(height - 14 - KEY, sites));
  const drawn = framed("try-section", "Section of wheel and tyre with the places near it", told, height, children);
  if (least !== undefined) drawn.dataset.gap = least;
  return drawn;
};

const isWithin = (outline, [a, b]) => {
  let isIn = false;
  outline.forEach(([x1, y1], at) => {
    const [x0, y0] = outline.at(at - 1);
    if (y0 > b !== y1 > b && a < x0 + ((x1 - x0) * (b - y0)) / (y1 - y0)) isIn = !isIn;
  });
  return isIn;
};

// Seen from above: forward is up, outboard is to the left.
export const plan = (look, sites, position, chosen, id = "try-plan") => {
  const { outline, held } = look;
  const [motion] = [poses(held.motion.corner, [position], "body")];
  const span = 430;
  const perMm = (WIDTH - 2 * EDGE) / (2 * span);
  const height = 2 * EDGE + 2 * span * perMm + 30 + KEY;
  const x = (out) => WIDTH / 2 - perMm * (out + 90);
  const y = (ahead) => EDGE + perMm * (span - ahead);
  const silhouette = [];
  const put = (u, along) =>
    silhouette.push([
      motion[4] * u + motion[3] * along + motion[10],
      motion[1] * u + motion[0] * along + motion[9],
    ]);
  const { points, count } = outline;
  for (let at = 0; at < count; at += 1) put(points[2 * at], points[2 * at + 1]);
  for (let at = count - 1; at >= 0; at -= 1) put(points[2 * at], -points[2 * at + 1]);
  const children = [
    draw("path", { class: "dw-g-tyre dw-edge", d: lineOf(silhouette, x, y, "z") }),
    draw("path", { class: "dw-axis", d: `M${rounded(x(0))} ${EDGE}V${rounded(y(-span))}` }),
  ];
  const isSeen = ([out, ahead]) => x(out) > 4 && x(out) < WIDTH - 4 && Math.abs(ahead) < span;
  let crossing;
  for (const { site, coarse, word } of inTurn(sites, chosen)) {
    if (site.view !== "body") continue;
    const points = [];
    for (let at = 0; at < coarse.count; at += 1) points.push([coarse.points[3 * at + 1], coarse.points[3 * at]]);
    const within = site.name === chosen ? points.findIndex((point) => isWithin(silhouette, point)) : -1;
    if (within >= 0) crossing = coarse.points[3 * within + 2] > motion[11] ? "over" : "under";
    children.push(edges(coarse, points, isSeen, x, y, word, site.name === chosen));
  }
  children.push(
    words(14, height - 14, "from above, outboard left, forward up"),
    words(x(0), 22, "hub face", "middle"),
    ...scaleBar(perMm, WIDTH - EDGE, height - 14),
    ...key(height - 14 - KEY, sites.filter(({ site }) => site.view === "body")),
  );
  const drawn = framed(id, "The wheel from above", `steer ${figure(position[1], 0, true)} degrees`, height, children);
  if (crossing) drawn.dataset.crossing = crossing;
  return drawn;
};

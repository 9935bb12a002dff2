// Outlines of tyre and rim laid over each other, from the hub face, as SVG in the guide's style.
// Outboard is to the left, as in every section of the guide.
import { draw, scaleBar } from "./drawn.js";
import { figure } from "./numbers.js";

const WIDTH = 640;
const MARGIN = 40;
const TOP = 64;
const STEP = 100;
const GONE_STEP = 230;
const GONE_INK = 0.5;

const text = (x, y, words, attributes = {}) =>
  draw("text", { class: "dw-text", x, y, ...attributes }, words);

const scaleOf = (outlines, skins) => {
  const points = outlines.flatMap((each) => each.points);
  const across = [0, ...points.map((point) => point[0]), ...skins];
  const low = Math.min(...across);
  const high = Math.max(...across);
  const least = Math.min(...points.map((point) => point[1]));
  const most = Math.max(...points.map((point) => point[1]));
  const perMm = Math.min(1.6, (WIDTH - 2 * MARGIN) / (high - low));
  const middle = WIDTH / 2 + (perMm * (low + high)) / 2;
  return {
    perMm,
    x: (u) => Math.round((middle - perMm * u) * 10) / 10,
    y: (r) => Math.round((TOP + perMm * (most - r)) * 10) / 10,
    bottom: TOP + perMm * (most - least),
  };
};

const pathOf = (points, scale) =>
  "M" + points.map(([u, r]) => `${scale.x(u)} ${scale.y(r)}`).join(" ") + "z";

const line = ({ letter, isGone }, d) =>
  draw("path", { class: `dw-laid dw-laid-${letter.toLowerCase()}`, d, ...(isGone ? { opacity: GONE_INK } : {}) });

// Which line is whose, above the drawing.
const key = (outlines) => {
  const steps = outlines.map((each) => (each.isGone ? GONE_STEP : STEP));
  let x = (WIDTH - steps.reduce((sum, step) => sum + step)) / 2 + 8;
  return outlines.flatMap((each, at) => {
    const parts = [line(each, `M${x} 22h48`), text(x + 56, 30, each.name)];
    x += steps[at];
    return parts;
  });
};

const upright = (scale, u, words, row) => [
  draw("path", { class: "dw-axis", d: `M${scale.x(u)} ${TOP - 20}V${scale.bottom + 16}` }),
  text(Math.min(Math.max(scale.x(u), 60), WIDTH - 60), scale.bottom + 16 + 26 * row, words, {
    "text-anchor": "middle",
  }),
];

// outlines: {letter, name, isGone, points}; skins: distances of the body's widest skin, told once each.
export const overlay = (id, title, outlines, skins) => {
  const scale = scaleOf(outlines, skins);
  const height = Math.round(scale.bottom + (skins.length ? 128 : 102));
  const told = outlines.map(({ name, points }) => {
    const across = points.map((point) => point[0]);
    return `${name}: from ${figure(Math.min(...across), 1, true)} to ` +
      `${figure(Math.max(...across), 1, true)} mm from the hub face`;
  });
  return draw(
    "svg",
    {
      class: "dw",
      role: "img",
      "aria-labelledby": `${id}-title ${id}-desc`,
      viewBox: `0 0 ${WIDTH} ${height}`,
      width: WIDTH,
      height,
    },
    draw("title", { id: `${id}-title` }, title),
    draw("desc", { id: `${id}-desc` }, told.join("; ")),
    ...outlines.map((each) => line(each, pathOf(each.points, scale))),
    ...upright(scale, 0, "hub face", 1),
    ...skins.flatMap((skin) => upright(scale, skin, "skin", 2)),
    draw("g", {}, ...key(outlines)),
    text(14, height - 16, "seen from behind, left wheel", { class: "dw-text dw-seen" }),
    ...scaleBar(scale.perMm, WIDTH - 24, height - 16),
  );
};

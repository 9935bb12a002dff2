// What the drawings of scripts have in common with those of components/drawing.
import { MM_PER_INCH, ownFirst } from "./numbers.js";

const NS = "http://www.w3.org/2000/svg";

export const draw = (tag, attributes, ...children) => {
  const element = document.createElementNS(NS, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
};

export const rounded = (value) => Math.round(value * 10) / 10;

// Round in either unit, and as long as it says (generator/rendering/dimensions.py).
const BARS = ownFirst(["dw-metric", 100, "100\u00a0mm"], ["dw-inch", 4 * MM_PER_INCH, "4\u00a0in"]);

export const scaleBar = (perMm, right, y) =>
  BARS.map(([unit, mm, words], at) =>
    draw(
      "g",
      { class: `dw-scale dw-${at ? "second" : "first"} ${unit}`, transform: `translate(${right} ${rounded(y)})` },
      draw("path", { d: `M0 -7v7h-${rounded(mm * perMm)}v-7` }),
      draw("text", { class: "dw-text", x: 0, y: -12, "text-anchor": "end" }, words),
    ),
  );

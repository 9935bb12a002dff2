// Wheel and tyre of one end against the stock ones, seen from behind: where the faces stand from
// the hub's mounting face. The numbers are those that the checks compare.
const SVG = "http://www.w3.org/2000/svg";
const INCH = 25.4;
const WIDTH = 320;
const HEIGHT = 190;

const shape = (tag, attributes, text = "") => {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.textContent = text;
  return made;
};

const mm = (value) => `${Math.abs(Math.round(value * 10) / 10)} mm`;
const moved = (by, away, towards) => (Math.abs(by) < 0.05 ? "as stock" : `${mm(by)} further ${by > 0 ? away : towards}`);

const told = (end, now, stock) => {
  const outer = now.faces.outboard.value;
  const inner = now.faces.inboard.value;
  const shift = now.face_moved.value;
  if (!stock) return `${end}: tyre from ${mm(inner)} inboard to ${mm(outer)} outboard of the hub face.`;
  const out = moved(outer + shift - stock.faces.outboard.value, "outboard", "inboard");
  const into = moved(stock.faces.inboard.value - inner - shift, "inboard", "outboard");
  const tall = now.diameter - stock.diameter;
  const size = Math.abs(tall) < 0.05 ? "diameter as stock" : `${mm(tall)} ${tall > 0 ? "taller" : "smaller"}`;
  return `${end}: outer face ${out}, inner face ${into}, ${size}.`;
};

// Half of the tyre above the spin axis, as a frame round its rim.
const half = (stance, rim, x, y, name) => {
  const shift = stance.face_moved.value;
  const [left, right] = [stance.faces.inboard.value + shift, stance.faces.outboard.value + shift];
  return shape("path", {
    class: name,
    d: `M${x(left)} ${y(rim)}V${y(stance.diameter / 2)}H${x(right)}V${y(rim)}Z`,
  });
};

export const endDrawing = (end, now, stock, rimInches) => {
  const all = [now, stock].filter(Boolean);
  const faces = all.flatMap(({ faces: each, face_moved: by }) => [each.inboard.value + by.value, each.outboard.value + by.value]);
  const low = Math.min(...faces, 0) - 25;
  const high = Math.max(...faces, 0) + 25;
  const top = Math.max(...all.map((each) => each.diameter / 2)) + 20;
  if (![low, high, top].every(Number.isFinite)) return null;
  const rim = (rimInches * INCH) / 2;
  const bottom = Math.max(0, rim - 60);
  const x = (value) => (((value - low) / (high - low)) * WIDTH).toFixed(1);
  const y = (value) => (((top - value) / (top - bottom)) * (HEIGHT - 24)).toFixed(1);
  const words = told(end, now, stock);
  const picture = shape("svg", { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: "submit-drawing", role: "img", "aria-label": words });
  if (stock) picture.append(half(stock, rim, x, y, "is-stock"));
  picture.append(
    half(now, rim, x, y, "is-fitted"),
    shape("line", { class: "is-face", x1: x(0), x2: x(0), y1: 0, y2: HEIGHT - 20 }),
    shape("text", { x: x(0), y: HEIGHT - 5, "text-anchor": "middle" }, "hub face"),
    shape("text", { x: 2, y: 14 }, "inboard"),
    shape("text", { x: WIDTH - 2, y: 14, "text-anchor": "end" }, "outboard"),
  );
  const figure = document.createElement("figure");
  const caption = document.createElement("figcaption");
  caption.textContent = words;
  figure.append(picture, caption);
  return figure;
};

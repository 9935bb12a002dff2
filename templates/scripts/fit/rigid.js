// Rigid motions as twelve numbers: rotation by rows, then translation. Generator/geometry/frames.py.
import { radians } from "./facts.js";

export const still = () => Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0);

// Rotation by an angle in degrees about a direction of any length (Rodrigues).
export const rotation = (x, y, z, angle, out = still()) => {
  const size = Math.sqrt(x * x + y * y + z * z);
  const [a, b, c] = [x / size, y / size, z / size];
  const turn = radians(angle);
  const sine = Math.sin(turn);
  const rest = 1 - Math.cos(turn);
  out[0] = 1 - rest * (b * b + c * c);
  out[1] = rest * a * b - sine * c;
  out[2] = rest * a * c + sine * b;
  out[3] = rest * a * b + sine * c;
  out[4] = 1 - rest * (a * a + c * c);
  out[5] = rest * b * c - sine * a;
  out[6] = rest * a * c - sine * b;
  out[7] = rest * b * c + sine * a;
  out[8] = 1 - rest * (a * a + b * b);
  out[9] = 0;
  out[10] = 0;
  out[11] = 0;
  return out;
};

// A turn about the line through a point.
export const turnThrough = (axis, angle, point, out = still()) => {
  rotation(axis[0], axis[1], axis[2], angle, out);
  const [x, y, z] = point;
  out[9] = x - (out[0] * x + out[1] * y + out[2] * z);
  out[10] = y - (out[3] * x + out[4] * y + out[5] * z);
  out[11] = z - (out[6] * x + out[7] * y + out[8] * z);
  return out;
};

// `inner` first, then `outer`; out is another array than both.
export const composed = (outer, inner, out = still()) => {
  for (let row = 0; row < 3; row += 1) {
    const a = outer[3 * row];
    const b = outer[3 * row + 1];
    const c = outer[3 * row + 2];
    out[3 * row] = a * inner[0] + b * inner[3] + c * inner[6];
    out[3 * row + 1] = a * inner[1] + b * inner[4] + c * inner[7];
    out[3 * row + 2] = a * inner[2] + b * inner[5] + c * inner[8];
    out[9 + row] = a * inner[9] + b * inner[10] + c * inner[11] + outer[9 + row];
  }
  return out;
};

// Camber, top outboard, then toe-out, both as a gauge reads them.
export const attitude = (camber, toe, out = still()) => {
  const lean = radians(camber);
  const turn = radians(toe);
  const [sine, cosine] = [Math.sin(turn), Math.cos(turn)];
  const [side, up] = [Math.sin(lean), Math.cos(lean)];
  out[0] = cosine;
  out[1] = -sine * up;
  out[2] = -sine * side;
  out[3] = sine;
  out[4] = cosine * up;
  out[5] = cosine * side;
  out[6] = 0;
  out[7] = -side;
  out[8] = up;
  out[9] = 0;
  out[10] = 0;
  out[11] = 0;
  return out;
};

// The setups of the guide that are most like the one typed: by wheel width, effective offset and
// tyre diameter of both ends, in millimetres, of those numbers that both know.
const INCH = 25.4;
const SHOWN = 3;
const SCALES = [INCH / 2, 1, 0.5];

const numbersOf = (fitted) => {
  const offset = fitted.wheel.offset_measured ?? fitted.wheel.offset;
  return [
    fitted.wheel.size.width_code,
    offset ? offset.value - (fitted.spacer?.thickness.value ?? 0) : NaN,
    fitted.tyre.diameter ? fitted.tyre.diameter.value : NaN,
  ];
};

// `near` has id, title, and width, effective offset and diameter of both ends; null is not known.
export const nearest = (near, chassis, value) => {
  const wanted = [value.front, value.rear].map(numbersOf);
  const found = [];
  for (const { id, title, ends } of near) {
    if (!id.startsWith(`${chassis}/`)) continue;
    let [far, known] = [0, 0];
    for (const [end, numbers] of ends.entries()) {
      for (const [at, number] of numbers.entries()) {
        const by = number === null ? NaN : Math.abs(number - wanted[end][at]) * SCALES[at];
        if (!(by >= 0)) continue;
        far += by;
        known += 1;
      }
    }
    if (known >= 3) found.push({ id, title, far: far / known });
  }
  found.sort((one, other) => one.far - other.far || (one.id < other.id ? -1 : 1));
  return found.slice(0, SHOWN);
};

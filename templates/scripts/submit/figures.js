// Numbers in texts as Python writes them: halves go to the even digit, and only true halves.
const EXACT = 25;

// Tells whether a number lies exactly between two texts of so many decimals. A double has more
// decimals than these only far below any measurement.
const isHalf = (value, decimals) => {
  const places = Math.min(100, decimals + EXACT);
  const tail = value.toFixed(places).split(".")[1]?.slice(decimals) ?? "";
  return /^50*$/.test(tail);
};

export const fixed = (value, decimals) => {
  const size = Math.abs(value);
  const sign = value < 0 || Object.is(value, -0) ? "-" : "";
  if (!Number.isFinite(value)) return Number.isNaN(value) ? "nan" : `${sign}inf`;
  let told = size.toFixed(decimals);
  if (size < 1e15 && isHalf(size, decimals)) {
    const down = size.toFixed(decimals + 1).slice(0, -1).replace(/\.$/, "");
    const isEven = Number(down.at(-1)) % 2 === 0;
    if (isEven) told = down;
  }
  return sign + told;
};

// The general form: so many digits, without trailing zeros, with a power of ten only far out.
export const general = (value, digits = 6) => {
  if (!Number.isFinite(value)) return fixed(value, 0);
  if (value === 0) return Object.is(value, -0) ? "-0" : "0";
  const most = Math.max(1, digits);
  let power = Number(value.toExponential(most - 1).split("e")[1]);
  if (power >= -4 && power < most) {
    let told = fixed(value, most - 1 - power);
    if (told.includes(".")) told = told.replace(/\.?0+$/, "");
    return told;
  }
  let [head, tail] = value.toExponential(most - 1).split("e");
  if (head.includes(".")) head = head.replace(/\.?0+$/, "");
  power = Number(tail);
  return `${head}e${power < 0 ? "-" : "+"}${String(Math.abs(power)).padStart(2, "0")}`;
};

export const round = (value, decimals = 0) => {
  if (decimals >= 0) return Number(fixed(value, decimals));
  const unit = 10 ** -decimals;
  return round(value / unit) * unit;
};

const padded = (told, form) => {
  const width = Number(/^0?(\d+)/.exec(form)?.[1] ?? 0);
  if (!width) return told;
  if (!form.startsWith("0")) return told.padStart(width);
  return told.startsWith("-") ? `-${told.slice(1).padStart(width - 1, "0")}` : told.padStart(width, "0");
};

export const format = (value, form) => {
  const [, head, dot, kind] = /^(0?\d*)(?:\.(\d+))?([a-zX%]?)$/.exec(form) ?? [];
  if (head === undefined) throw new TypeError(`no form ${form}`);
  if (kind === "f") return padded(fixed(value, Number(dot ?? 6)), head);
  if (kind === "g") return padded(general(value, Number(dot ?? 6)), head);
  if (kind === "d" || (kind === "" && head)) return padded(str(value), head);
  if (kind === "x" || kind === "X") {
    const told = value.toString(16);
    return padded(kind === "X" ? told.toUpperCase() : told, head);
  }
  throw new TypeError(`no form ${form}`);
};

export const str = (value) => {
  if (value === null || value === undefined) return "None";
  if (value === true) return "True";
  if (value === false) return "False";
  if (typeof value === "object" && value.__str__) return value.__str__();
  return String(value);
};

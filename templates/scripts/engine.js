// Finds setups in columns. Every filter is a bit; a row passes when none of its bits is set.
// Rows that fail by one bit alone tell how many more there were without that filter.
const lonely = (mask) => mask !== 0 && (mask & (mask - 1)) === 0;

// Front and rear in their unit; what is not known is NaN, which lies within no limits.
const ends = ({ front, rearLess, noFront, perUnit }) => {
  const fronts = Float64Array.from(front, (value) => (value === null ? NaN : value / perUnit));
  const rears = Float64Array.from(rearLess, (less, row) => {
    if (front[row] === null) return less === 0 ? NaN : (noFront + less) / perUnit;
    return less === null ? NaN : (front[row] + less) / perUnit;
  });
  return [fronts, rears];
};

export const prepare = (facets) => {
  const choices = facets.choices.map((choice, at) => ({
    ...choice,
    bit: 1 << at,
    codes: Int32Array.from(choice.codes),
    ids: choice.words.map((word) => word[0]),
  }));
  const ranges = facets.ranges.map((range, at) => ({
    ...range,
    bit: 1 << (choices.length + at),
    ends: ends(range),
  }));
  const wordsBit = 1 << (choices.length + ranges.length);
  return { choices, ranges, wordsBit, count: facets.count, orders: new Map() };
};

const byNumber = (values, isDescending) => (one, other) => {
  const a = values[one];
  const b = values[other];
  if (Number.isNaN(a) || Number.isNaN(b)) return Number.isNaN(a) - Number.isNaN(b) || one - other;
  return (isDescending ? b - a : a - b) || one - other;
};

const rangeOf = (data, key) => data.ranges.find((range) => range.key === key);

const ORDERS = {
  newest: null,
  oldest: () => (one, other) => other - one,
  chassis: (data) => {
    const column = data.choices.find((choice) => choice.key === "chassis");
    return byNumber(Float64Array.from(column.codes), false);
  },
  "front-offset": (data) => byNumber(rangeOf(data, "offset").ends[0], false),
  "rear-offset": (data) => byNumber(rangeOf(data, "offset").ends[1], false),
  "front-width": (data) => byNumber(rangeOf(data, "width").ends[0], true),
  "rear-width": (data) => byNumber(rangeOf(data, "width").ends[1], true),
  "front-diameter": (data) => byNumber(rangeOf(data, "diameter").ends[0], true),
};

const ordered = (data, sort) => {
  if (!data.orders.has(sort)) {
    const order = Int32Array.from({ length: data.count }, (_, row) => row);
    if (ORDERS[sort]) order.sort(ORDERS[sort](data));
    data.orders.set(sort, order);
  }
  return data.orders.get(sort);
};

const chosenOf = (data, state) =>
  data.choices
    .filter((choice) => state.choices[choice.key]?.length)
    .map((choice) => {
      const wanted = new Uint8Array(choice.ids.length);
      let mask = 0;
      for (const id of state.choices[choice.key]) {
        const at = choice.ids.indexOf(id);
        wanted[at] = 1;
        mask |= 1 << at;
      }
      return { bit: choice.bit, codes: choice.codes, isMany: choice.many, wanted, mask };
    });

const limitsOf = (data, state) =>
  data.ranges
    .filter((range) => state.ranges[range.key])
    .map((range) => {
      const [low, high] = state.ranges[range.key];
      // Half a step of the file more on either side: it keeps values to whole steps.
      const slack = 0.5 / range.perUnit + 1e-9;
      return {
        bit: range.bit,
        ends: range.ends,
        low: low === null ? -Infinity : low - slack,
        high: high === null ? Infinity : high + slack,
      };
    });

// Sets the bit of each limit in the rows that fail it, column by column.
const failing = (limits, end, count) => {
  const fails = new Int32Array(count);
  for (const { bit, ends, low, high } of limits) {
    const values = ends[end];
    for (let row = 0; row < count; row += 1) {
      if (!(values[row] >= low && values[row] <= high)) fails[row] |= bit;
    }
  }
  return fails;
};

const joined = (front, rear) => front.map((fails, row) => fails | rear[row]);

const WAYS = {
  either: (front, rear) => [front, rear],
  both: (front, rear) => Array(2).fill(joined(front, rear)),
  front: (front) => [front, front],
  rear: (_, rear) => [rear, rear],
};

const failingAll = (data, chosen, hits) => {
  const fails = new Int32Array(data.count);
  if (hits) for (let row = 0; row < data.count; row += 1) if (!hits[row]) fails[row] = data.wordsBit;
  for (const { bit, codes, isMany, wanted, mask } of chosen) {
    for (let row = 0; row < data.count; row += 1) {
      if (!(isMany ? codes[row] & mask : wanted[codes[row]])) fails[row] |= bit;
    }
  }
  return fails;
};

// Counts what each choice would leave: rows that pass, and rows that fail by this choice alone.
const tally = (choice, one, other) => {
  const { bit, codes } = choice;
  const found = new Int32Array(choice.many ? 1 << choice.ids.length : choice.ids.length);
  for (let row = 0; row < codes.length; row += 1) {
    const a = one[row];
    const b = other[row];
    if (a === 0 || b === 0 || a === bit || (b === bit && !lonely(a))) found[codes[row]] += 1;
  }
  if (!choice.many) return found;
  const counts = new Int32Array(choice.ids.length);
  found.forEach((number, code) => {
    for (let at = 0; code && number; code >>= 1, at += 1) counts[at] += number * (code & 1);
  });
  return counts;
};

// What is found, in order. `counts` is worked out when it is asked for, which can wait.
export const search = (data, state, hits) => {
  const limits = limitsOf(data, state);
  const all = failingAll(data, chosenOf(data, state), hits);
  const [one, other] = limits.length
    ? WAYS[state.end](failing(limits, 0, data.count), failing(limits, 1, data.count)).map((fails) =>
        joined(fails, all),
      )
    : [all, all];
  const rows = new Int32Array(data.count);
  const without = new Map();
  const add = (bit) => without.set(bit, (without.get(bit) || 0) + 1);
  let total = 0;
  for (const row of ordered(data, state.sort)) {
    const a = one[row];
    const b = other[row];
    if (a === 0 || b === 0) {
      rows[total] = row;
      total += 1;
      continue;
    }
    if (lonely(a)) add(a);
    if (b !== a && lonely(b)) add(b);
  }
  const counts = () => data.choices.map((choice) => tally(choice, one, other));
  return { rows: rows.subarray(0, total), total, counts, without };
};

export const SORTS = Object.keys(ORDERS);
export const END_WAYS = Object.keys(WAYS);

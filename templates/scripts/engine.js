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

const failing = (limits, end, row) => {
  let mask = 0;
  for (const limit of limits) {
    const value = limit.ends[end][row];
    if (!(value >= limit.low && value <= limit.high)) mask |= limit.bit;
  }
  return mask;
};

const WAYS = {
  either: (front, rear) => [front, rear],
  both: (front, rear) => [front | rear, front | rear],
  front: (front) => [front, front],
  rear: (_, rear) => [rear, rear],
};

const tally = (choice, counts, row) => {
  if (!choice.many) {
    counts[choice.codes[row]] += 1;
    return;
  }
  for (let code = choice.codes[row], at = 0; code; code >>= 1, at += 1) counts[at] += code & 1;
};

export const search = (data, state, hits) => {
  const chosen = chosenOf(data, state);
  const limits = limitsOf(data, state);
  const way = WAYS[state.end];
  const counts = data.choices.map((choice) => new Int32Array(choice.ids.length));
  const byBit = new Map(data.choices.map((choice, at) => [choice.bit, at]));
  const rows = new Int32Array(data.count);
  const without = new Map();
  let total = 0;
  for (const row of ordered(data, state.sort)) {
    let fails = hits && !hits[row] ? data.wordsBit : 0;
    for (const each of chosen) {
      const code = each.codes[row];
      if (!(each.isMany ? code & each.mask : each.wanted[code])) fails |= each.bit;
    }
    let one = fails;
    let other = fails;
    if (limits.length) {
      const ends = way(failing(limits, 0, row), failing(limits, 1, row));
      one |= ends[0];
      other |= ends[1];
    }
    if (one === 0 || other === 0) {
      rows[total] = row;
      total += 1;
      for (let at = 0; at < counts.length; at += 1) tally(data.choices[at], counts[at], row);
      continue;
    }
    if (lonely(one)) without.set(one, (without.get(one) || 0) + 1);
    if (other !== one && lonely(other)) without.set(other, (without.get(other) || 0) + 1);
    const at = byBit.get(lonely(one) ? one : lonely(other) ? other : 0);
    if (at !== undefined) tally(data.choices[at], counts[at], row);
  }
  return { rows: rows.subarray(0, total), total, counts, without };
};

export const SORTS = Object.keys(ORDERS);
export const END_WAYS = Object.keys(WAYS);

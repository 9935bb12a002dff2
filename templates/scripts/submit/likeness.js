// Which known words are like a word: the longest runs of letters that two texts share, taken
// again and again on both sides, over the length of both.
const longest = (one, other, [a, b, c, d]) => {
  let [bestOne, bestOther, size] = [a, c, 0];
  let before = new Map();
  for (let i = a; i < b; i += 1) {
    const runs = new Map();
    for (let j = c; j < d; j += 1) {
      if (one[i] !== other[j]) continue;
      const run = (before.get(j - 1) ?? 0) + 1;
      runs.set(j, run);
      if (run > size) [bestOne, bestOther, size] = [i - run + 1, j - run + 1, run];
    }
    before = runs;
  }
  return [bestOne, bestOther, size];
};

const shared = (one, other, [a, b, c, d]) => {
  const [i, j, size] = longest(one, other, [a, b, c, d]);
  if (!size) return 0;
  return size + shared(one, other, [a, i, c, j]) + shared(one, other, [i + size, b, j + size, d]);
};

export const ratio = (one, other) => {
  const all = one.length + other.length;
  return all ? (2 * shared(one, other, [0, one.length, 0, other.length])) / all : 1;
};

export const get_close_matches = (word, known, most = 3, least = 0.6) => {
  const wanted = [...word];
  const found = [...known].map((each) => [ratio([...each], wanted), each]).filter(([like]) => like >= least);
  found.sort(([one, a], [other, b]) => other - one || (a < b ? 1 : a > b ? -1 : 0));
  return found.slice(0, most).map(([, each]) => each);
};

// Words made alike as generator/site/synonyms.py makes them, and setups that have them all.
export const alike = (text) => {
  const plain = text.replace(/×/g, "x").normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "");
  const words = plain.replace(/[^\p{L}\p{N}.]|\.(?!\d)/gu, " ").trim();
  return words ? " " + words.replace(/\s+/g, " ") : "";
};

// Each word of the reader, or phrase that has synonyms, as the list of what may stand for it.
export const wanted = (query, synonyms) => {
  let rest = alike(query) + " ";
  const groups = [];
  const phrases = synonyms.flatMap((group) => group.map((phrase) => [phrase, group]));
  phrases.sort((one, other) => other[0].length - one[0].length);
  for (const [phrase, group] of phrases) {
    const found = " " + phrase + " ";
    if (rest.includes(found)) {
      groups.push(group.map((each) => " " + each));
      rest = rest.replaceAll(found, " ");
    }
  }
  for (const word of rest.trim().split(" ")) if (word) groups.push([" " + word]);
  return groups;
};

export const hits = (texts, groups) => {
  const found = new Uint8Array(texts.length);
  for (let row = 0; row < texts.length; row += 1) {
    const text = texts[row];
    found[row] = groups.every((group) => group.some((each) => text.includes(each))) ? 1 : 0;
  }
  return found;
};

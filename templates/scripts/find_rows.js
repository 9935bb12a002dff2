// One setup as a row of the results: the markup of components/setup_line.
import { length, longDate, make, withLengths } from "./numbers.js";

const END_NAMES = ["Front", "Rear"];

const wordOf = (data, key, row) => {
  const choice = data.choices.find((each) => each.key === key);
  return choice.words[choice.codes[row]][1];
};

const coded = (column, row) => column.words[column.codes[row]];

const together = (text) => text.replaceAll(" ", "\u00a0");

const flag = (templates, word) => {
  const template = templates.get(word);
  return template ? template.content.cloneNode(true) : make("span", {}, word);
};

const endCell = (data, shown, end, row) => {
  const value = data.ranges.find((range) => range.key === "offset").ends[end][row];
  const lines = [coded(shown.wheel[end], row), coded(shown.tyre[end], row)].map(together);
  const differs = coded(shown.differs[end], row);
  return make(
    "td",
    { role: "cell", "data-label": END_NAMES[end] },
    make("span", {}, lines[0], make("br"), lines[1], make("br"), make("span", { class: "find-offset" }, length(value, { isSigned: true })), ...(differs ? [make("span", { class: "soft small own-line" }, ...withLengths(differs))] : [])),
  );
};

const nameCell = (data, shown, row) => {
  const standing = coded(shown.standing, row);
  const told = [
    wordOf(data, "chassis", row),
    coded(shown.member, row),
    longDate(shown.days[row]),
  ].join(", ");
  return make(
    "th",
    { scope: "row", role: "rowheader" },
    make("a", { href: `setups/${shown.setups[row]}.html` }, make("bdi", {}, shown.titles[row])),
    make("br"),
    make(
      "span",
      { class: "soft small" },
      told,
      ...(standing ? ["; ", make("strong", {}, standing)] : []),
    ),
  );
};

const pickCell = (id, isPicked) =>
  make(
    "td",
    { role: "cell", "data-label": "Compare", class: "find-pick" },
    make("input", {
      type: "checkbox",
      name: "pick",
      value: id,
      checked: isPicked,
      autocomplete: "off",
      "aria-label": "compare this setup",
    }),
  );

export const resultRow = (data, shown, row, { templates, picked }) => {
  const id = shown.setups[row];
  const borneOut = wordOf(data, "flag", row);
  return make(
    "tr",
    { role: "row" },
    nameCell(data, shown, row),
    endCell(data, shown, 0, row),
    endCell(data, shown, 1, row),
    make(
      "td",
      { role: "cell", "data-label": "Flags" },
      make(
        "span",
        {},
        ...(borneOut === "no flag" ? [] : [flag(templates, borneOut), " "]),
        flag(templates, wordOf(data, "reported", row)),
        make("br"),
        make("span", { class: "find-road" }, wordOf(data, "road", row)),
      ),
    ),
    pickCell(id, picked.includes(id)),
  );
};

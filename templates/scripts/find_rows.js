// One setup as a row of the results: the markup of components/setup_line.
import { length, longDate, make } from "./numbers.js";

const END_NAMES = ["Front", "Rear"];

// The name of the file tells setups apart until their titles have come.
const fromFile = (id) => {
  const words = id.slice(id.lastIndexOf("/") + 1).replace(/-/g, " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
};

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

const endCells = (data, end, row) => {
  const shown = data.facets.shown;
  const name = END_NAMES[end];
  const value = data.ranges.find((range) => range.key === "offset").ends[end][row];
  const wheel = together(coded(shown.wheel[end], row));
  const tyre = together(coded(shown.tyre[end], row));
  return [
    make("td", { role: "cell", "data-label": name }, make("span", {}, wheel, make("br"), tyre)),
    make(
      "td",
      { role: "cell", "data-label": name + " effective offset", class: "figure" },
      length(value, { isSigned: true }),
    ),
  ];
};

const nameCell = (data, titles, row, way) => {
  const id = data.facets.setups[row];
  const standing = coded(data.facets.shown.standing, row);
  const told = [
    wordOf(data, "chassis", row),
    coded(data.facets.shown.member, row),
    longDate(data.facets.days[row]),
  ].join(", ");
  return make(
    "th",
    { scope: "row", role: "rowheader" },
    make("a", { href: way(id) }, make("bdi", {}, titles(row) || fromFile(id))),
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

export const resultRow = (data, row, { titles, templates, way, picked }) => {
  const id = data.facets.setups[row];
  const borneOut = wordOf(data, "flag", row);
  return make(
    "tr",
    { role: "row" },
    nameCell(data, titles, row, way),
    ...endCells(data, 0, row),
    ...endCells(data, 1, row),
    make(
      "td",
      { role: "cell", "data-label": "Flags" },
      make(
        "span",
        {},
        ...(borneOut === "not computed" ? [] : [flag(templates, borneOut), " "]),
        flag(templates, wordOf(data, "reported", row)),
      ),
    ),
    make("td", { role: "cell", "data-label": "Road" }, wordOf(data, "road", row)),
    pickCell(id, picked.includes(id)),
  );
};

// Puts a sorting button into each header of the tables it is given; the order is told once.
const collator = new Intl.Collator("en", { numeric: true });

const valueOf = (row, at) => {
  const cell = row.cells[at];
  if (cell.dataset.sort !== undefined) return Number(cell.dataset.sort);
  const text = cell.textContent.trim();
  return text.startsWith("not known") ? null : text;
};

// What is not known stands last either way.
const compare = (one, other, sign) => {
  if (one === null || other === null) return (one === null) - (other === null);
  return sign * (typeof one === "number" && typeof other === "number"
    ? one - other
    : collator.compare(String(one), String(other)));
};

const arrange = (table, header, status) => {
  const isUp = header.getAttribute("aria-sort") !== "ascending";
  for (const each of table.tHead.rows[0].cells) each.removeAttribute("aria-sort");
  header.setAttribute("aria-sort", isUp ? "ascending" : "descending");
  const body = table.tBodies[0];
  const rows = [...body.rows].map((row) => [row, valueOf(row, header.cellIndex)]);
  rows.sort(([, one], [, other]) => compare(one, other, isUp ? 1 : -1));
  body.append(...rows.map(([row]) => row));
  status.textContent =
    `sorted by ${header.textContent.toLowerCase()}, ${isUp ? "least" : "greatest"} first`;
};

const prepare = (table) => {
  if (!table.tHead || table.tBodies[0].rows.length < 2) return;
  const status = document.createElement("p");
  status.className = "hidden";
  status.setAttribute("role", "status");
  table.after(status);
  for (const header of table.tHead.rows[0].cells) {
    const button = document.createElement("button");
    button.type = "button";
    button.append(...header.childNodes);
    button.addEventListener("click", () => arrange(table, header, status));
    header.append(button);
  }
};

export const start = (element) => {
  for (const table of element.querySelectorAll("table")) prepare(table);
};

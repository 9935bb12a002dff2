// One choice for all lengths of the guide: millimetres, inches, or both as without a script.
const key = "gapbook-units";
const root = document.documentElement;

const remembered = () => {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
};

const remember = (units) => {
  try {
    localStorage.setItem(key, units);
  } catch {
    // Without storage the address carries the choice from page to page.
  }
};

const show = (units) => {
  if (units === "both") delete root.dataset.units;
  else root.dataset.units = units;
  document.dispatchEvent(new CustomEvent("gapbook:units"));
};

const inAddress = (address, units) => {
  const changed = new URL(address);
  changed.searchParams.set("units", units);
  return changed.href;
};

export const start = (element) => {
  const inputs = [...element.querySelectorAll("input")];
  const mark = () => {
    const shown = root.dataset.units || "both";
    for (const input of inputs) input.checked = input.value === shown;
  };
  mark();
  element.addEventListener("change", (event) => {
    const units = event.target.value;
    remember(units);
    history.replaceState(history.state, "", inAddress(location.href, units));
    show(units);
  });
  addEventListener("pageshow", mark);
  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    const units = root.dataset.units;
    if (!link || !units || remembered() === units) return;
    if (link.origin === location.origin && link.pathname.endsWith(".html")) {
      link.href = inAddress(link.href, units);
    }
  });
};

// Runs before the first paint, so that choosing a unit never moves a page that is already shown.
{
  const root = document.documentElement;
  // Modules are not loaded from a disk: a page opened there stays as it was written.
  if (location.protocol !== "file:") root.dataset.scripted = "";
  let chosen = "";
  try {
    chosen = localStorage.getItem("gapbook-units") || "";
  } catch {
    // A reader may have closed the storage; the address still tells.
  }
  if (location.search.length < 4000) {
    chosen = new URLSearchParams(location.search).get("units") || chosen;
  }
  if (chosen === "metric" || chosen === "inch") root.dataset.units = chosen;
  // The foot of each printed page (print.css): a string of CSS is escaped as one of JSON is.
  addEventListener("DOMContentLoaded", () => {
    const [stamp] = (document.querySelector(".foot-stamp p")?.textContent ?? "").split(" (");
    root.style.setProperty("--paper-foot", JSON.stringify(`${document.title} · ${stamp}`));
  });
}

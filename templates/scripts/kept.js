// Lists on the page for readers without a network what this device has kept.
import { askWorker } from "./offline.js";

const wordsOf = (path) => path.replace(/(?:^|\/)index\.html$/, "").replace(/\.html$/, "").replace(/-/g, " ") || "home";

export const start = async (element) => {
  const wanted = new URLSearchParams(location.search).get("page") || "";
  const again = element.querySelector("[data-part=again]");
  if (/^[a-z0-9_][a-z0-9._/-]{0,239}$/.test(wanted) && !wanted.includes("..")) {
    const link = again.querySelector("a");
    link.href = new URL(wanted, document.baseURI).href;
    link.textContent = wanted;
    again.hidden = false;
  }
  if (!("serviceWorker" in navigator)) return;
  const { pages } = await askWorker({ ask: "state" });
  const list = element.querySelector("ul");
  for (const path of pages.filter((each) => each !== "offline.html").sort()) {
    const item = document.createElement("li");
    const link = document.createElement("a");
    link.href = new URL(path, document.baseURI).href;
    link.textContent = wordsOf(path);
    item.append(link);
    list.append(item);
  }
  element.querySelector("[data-part=list]").hidden = !pages.length;
};

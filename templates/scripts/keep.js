// The button that keeps one chassis on this device: its page, setups, sheets and all articles.
import { askWorker } from "./offline.js";

const troubles = {
  full: "There is no room for all of it on this device. Give up another chassis first.",
};

const inWords = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

export const start = async (element) => {
  const chassis = element.dataset.chassis;
  const button = element.querySelector("button");
  const status = element.querySelector("[role=status]");
  if (!("serviceWorker" in navigator)) {
    element.hidden = true;
    return;
  }
  const show = (state) => {
    const isKept = state.kept.includes(chassis);
    button.textContent = isKept ? "Give up the kept copy" : "Keep this chassis for the garage";
    button.dataset.ask = isKept ? "drop" : "keep";
    return isKept;
  };
  const waiting = new Promise((resolve) => setTimeout(resolve, 8000, { kept: [] }));
  show(await Promise.race([askWorker({ ask: "state" }), waiting]));
  button.removeAttribute("aria-disabled");
  button.addEventListener("click", async () => {
    if (button.getAttribute("aria-disabled") === "true") return;
    button.setAttribute("aria-disabled", "true");
    status.textContent = "Working…";
    const told = await askWorker({ ask: button.dataset.ask, chassis });
    button.removeAttribute("aria-disabled");
    if (told.trouble) {
      const plain = "Not all of it could be fetched, so nothing was kept. Try again with a network.";
      status.textContent = troubles[told.trouble] || plain;
    } else if (show(told)) {
      status.textContent = `Kept, data as of ${element.dataset.asOf}: ${inWords(told.size)} on this device. It can be read without a network.`;
    } else {
      status.textContent = "The copy was given up.";
    }
  });
};

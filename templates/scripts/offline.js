// Registers the worker that keeps pages for reading without a network, and says what it does.
const ask = (worker, question) =>
  new Promise((resolve) => {
    const line = new MessageChannel();
    line.port1.onmessage = (event) => resolve(event.data);
    worker.postMessage(question, [line.port2]);
  });

export const askWorker = async (question) => {
  const { active } = await navigator.serviceWorker.ready;
  return ask(active, question);
};

const registered = (element) => {
  const address = new URL(element.dataset.worker, document.baseURI).href;
  let trusted = address;
  if (window.trustedTypes) {
    const rule = trustedTypes.createPolicy("gapbook-worker", { createScriptURL: () => address });
    trusted = rule.createScriptURL("");
  }
  return navigator.serviceWorker.register(trusted, { updateViaCache: "none" });
};

const offer = (element, registration) => {
  if (document.getElementById("newer-guide")) return;
  const box = document.createElement("p");
  box.id = "newer-guide";
  box.className = "newer";
  box.setAttribute("role", "status");
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button";
  button.textContent = "Show the newer guide";
  button.addEventListener("click", () => {
    let isDone = false;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (!isDone) location.reload();
      isDone = true;
    });
    if (registration.waiting) ask(registration.waiting, { ask: "take-over" });
    else location.reload();
  });
  box.append("The guide was changed since the pages kept on this device. ", button);
  element.append(box);
};

const watch = (element, registration) => {
  const look = () => {
    if (registration.waiting && navigator.serviceWorker.controller) offer(element, registration);
  };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
};

const tell = async (element) => {
  const note = element.querySelector("[data-part=kept]");
  const state = await askWorker({ ask: "visit", address: location.href });
  const isKept = state.served === "kept" || !navigator.onLine;
  note.hidden = !isKept;
  note.textContent = isKept ? "This page was kept on this device; there may be a newer one." : "";
};

export const start = async (element) => {
  const isSafe = location.protocol === "https:" || location.hostname === "localhost" || location.hostname === "127.0.0.1";
  if (!isSafe || !("serviceWorker" in navigator)) return;
  try {
    const registration = await registered(element);
    watch(element, registration);
    await tell(element);
  } catch {
    // A browser may forbid storage; the guide then works with a network only.
  }
  addEventListener("online", () => tell(element));
  addEventListener("offline", () => tell(element));
};

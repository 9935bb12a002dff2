// Keeps the guide on this device. What stands before this line was written when the guide was made:
//   VERSION  names this edition of the guide; one cache holds files of one edition and no others
//   CORE     the files every page needs, each with the start of its SHA-256
//   LISTS    for each part of the guide, the file that lists its files in the same way
// A file is kept only if its digest is the one listed. So a page of a newer edition, met before the
// new worker has taken over, is shown but never kept, and no two editions can mix.
const HOME = new URL("./", self.location.href);
const PREFIX = `gapbook ${HOME.pathname} `;
const NAME = PREFIX + VERSION;
const LIMIT = 5_000_000;
const PATIENCE = 4000;
const AT_ONCE = 6;
const SIZE = "x-kept-bytes";
const WHY = "x-kept-for";
const KEPT = "kept/";
const ASSETS = "assets/";
const REST = "rest";
const READING = "reading";
const VISITED = "visited";
const SWITCH = "worker.json";

const addressOf = (path) => new URL(path, HOME).href;

const pathOf = (address) => {
  const url = new URL(address);
  if (url.origin !== HOME.origin || !url.pathname.startsWith(HOME.pathname)) return null;
  const path = decodeURIComponent(url.pathname.slice(HOME.pathname.length));
  return path === "" || path.endsWith("/") ? `${path}index.html` : path;
};

const partOf = (path) => {
  const [folder, name] = path.split("/");
  const isOfChassis = folder === "setups" || folder === "compare";
  return isOfChassis && Object.hasOwn(LISTS, name) ? name : REST;
};

const digest = async (bytes) => {
  const found = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...found.slice(0, 8)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
};

const squeezed = (bytes) =>
  new Response(new Blob([bytes]).stream().pipeThrough(new CompressionStream("gzip"))).arrayBuffer();

// Gives a kept file as it came, or nothing.
const fromCache = async (path, cache) => {
  const found = await (cache || (await caches.open(NAME))).match(addressOf(path));
  if (!found) return undefined;
  const headers = { "content-type": found.headers.get("content-type") };
  return new Response(found.body.pipeThrough(new DecompressionStream("gzip")), { headers });
};

const packed = async (bytes, type, why) => {
  const body = await squeezed(bytes);
  const headers = { "content-type": type, [SIZE]: String(body.byteLength), [WHY]: why };
  return new Response(body, { headers });
};

const isWhole = (answer) => answer.status === 200 && answer.type === "basic" && !answer.redirected;

// Fetches one file of this edition and packs it; fails if the host gives anything else.
const fetched = async (path, hash, why) => {
  const answer = await fetch(addressOf(path), { cache: "no-cache", credentials: "same-origin" });
  if (!isWhole(answer)) throw new Error(`${path}: status ${answer.status}`);
  const bytes = await answer.arrayBuffer();
  if ((await digest(bytes)) !== hash) throw new Error(`${path} is of another edition`);
  return packed(bytes, answer.headers.get("content-type") || "application/octet-stream", why);
};

// Takes a file from an earlier edition's cache if it is the same, otherwise from the network.
const carried = async (path, hash, why, earlier) => {
  for (const cache of earlier) {
    const same = await fromCache(path, cache);
    if (!same) continue;
    const bytes = await same.arrayBuffer();
    if ((await digest(bytes)) === hash) return packed(bytes, same.headers.get("content-type"), why);
  }
  return fetched(path, hash, why);
};

// All or nothing: what has been gathered is put away only when every file is there.
const gathered = async (files, why, earlier) => {
  const waiting = Object.entries(files);
  const found = [];
  const take = async () => {
    for (let next = waiting.pop(); next; next = waiting.pop()) {
      found.push([next[0], await carried(next[0], next[1], why, earlier)]);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, take));
  return found;
};

const bytesOf = (answer) => Number(answer.headers.get(SIZE) || 0);

const holdings = async (cache) => {
  const found = [];
  for (const request of await cache.keys()) {
    const answer = await cache.match(request);
    found.push({ request, size: bytesOf(answer), why: answer.headers.get(WHY) });
  }
  return found;
};

const sizeOf = (held) => held.reduce((sum, { size }) => sum + size, 0);

// Makes room by letting go of visited pages, the longest kept first. What was asked for stays.
const makeRoom = async (cache, wanted) => {
  const held = await holdings(cache);
  const visited = held.filter(({ why }) => why === VISITED);
  let free = LIMIT - sizeOf(held);
  if (free + sizeOf(visited) < wanted) return false;
  for (const { request, size } of visited) {
    if (free >= wanted) break;
    await cache.delete(request);
    free += size;
  }
  return true;
};

const putAll = async (cache, found) => {
  const wanted = found.reduce((sum, [, answer]) => sum + bytesOf(answer), 0);
  if (!(await makeRoom(cache, wanted))) throw new Error("full");
  for (const [path, answer] of found) await cache.put(addressOf(path), answer);
};

const readJson = async (answer) => (answer ? answer.json() : undefined);

// Gives the list of a part: kept, or fetched under its name, which carries its digest.
const listOf = async (part) => {
  const file = LISTS[part];
  if (!file) return {};
  const cache = await caches.open(NAME);
  const known = await readJson(await fromCache(file.path, cache));
  if (known) return known;
  const answer = await fetched(file.path, file.hash, "list");
  await cache.put(addressOf(file.path), answer.clone());
  return readJson(await fromCache(file.path, cache));
};

const hashOf = async (path) =>
  Object.hasOwn(CORE, path) ? CORE[path] : (await listOf(partOf(path)))[path];

// What is read beside any chassis.
const reading = async () => {
  const rest = Object.entries(await listOf(REST));
  const wanted = rest.filter(([path]) => path.startsWith("articles/") || path === "glossary.html");
  return Object.fromEntries(wanted);
};

const keptChassis = async (cache) => {
  const mark = addressOf(KEPT);
  const found = (await cache.keys()).filter((request) => request.url.startsWith(mark));
  return found.map((request) => request.url.slice(mark.length));
};

const keep = async (chassis, earlier = []) => {
  if (chassis === REST || !Object.hasOwn(LISTS, chassis)) throw new Error("unknown");
  const cache = await caches.open(NAME);
  const from = [cache, ...earlier];
  const found = [
    ...(await gathered(await listOf(chassis), chassis, from)),
    ...(await gathered(await reading(), READING, from)),
  ];
  const stays = (await holdings(cache)).filter(({ why }) => why === "core" || why === READING);
  const there = new Set(stays.map(({ request }) => request.url));
  await putAll(cache, found.filter(([path]) => !there.has(addressOf(path))));
  await cache.put(addressOf(KEPT + chassis), new Response("kept"));
};

const drop = async (chassis) => {
  const cache = await caches.open(NAME);
  await cache.delete(addressOf(KEPT + chassis));
  const isLast = !(await keptChassis(cache)).length;
  for (const { request, why } of await holdings(cache)) {
    if (why === chassis || (isLast && why === READING)) await cache.delete(request);
  }
};

const earlierCaches = async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== NAME);
  return Promise.all(names.map((name) => caches.open(name)));
};

const carryVisited = async (cache, earlier) => {
  for (const old of earlier) {
    for (const { request, why } of await holdings(old)) {
      const path = pathOf(request.url);
      const hash = why === VISITED ? await hashOf(path) : undefined;
      if (!hash || (await cache.match(request))) continue;
      await carried(path, hash, VISITED, [old]).then(
        (answer) => putAll(cache, [[path, answer]]),
        () => {},
      );
    }
  }
};

const install = async () => {
  const earlier = await earlierCaches();
  // What an installation that broke off has left is of this edition, but nobody waits for it.
  await caches.delete(NAME);
  try {
    const cache = await caches.open(NAME);
    await putAll(cache, await gathered(CORE, "core", earlier));
    for (const old of earlier) {
      for (const chassis of await keptChassis(old)) {
        if (Object.hasOwn(LISTS, chassis)) await keep(chassis, earlier);
      }
    }
    await carryVisited(cache, earlier);
  } catch (trouble) {
    await caches.delete(NAME);
    throw trouble;
  }
};

const clear = async (isOld) => {
  for (const name of await caches.keys()) {
    if (name.startsWith(PREFIX) && (!isOld || name !== NAME)) await caches.delete(name);
  }
};

const goAway = async () => {
  await clear(false);
  await self.registration.unregister();
};

// The host says in a small file whether workers shall go on; any other answer changes nothing.
const obeySwitch = async () => {
  const answer = await fetch(addressOf(SWITCH), { cache: "no-store" }).catch(() => undefined);
  if (!answer || !isWhole(answer)) return;
  const said = await answer.json().catch(() => ({}));
  if (said.worker === "off") await goAway();
  else if (said.version && said.version !== VERSION) await self.registration.update();
};

// Which windows show a page of this edition: only those may be given its data.
const shown = new Map();

const remember = async (path, answer) => {
  const bytes = await answer.arrayBuffer();
  const hash = await hashOf(path).catch(() => undefined);
  if (!hash || (await digest(bytes)) !== hash) return false;
  const cache = await caches.open(NAME);
  const before = await cache.match(addressOf(path));
  if (before && before.headers.get(WHY) !== VISITED) return true;
  const found = await packed(bytes, answer.headers.get("content-type"), VISITED);
  await cache.delete(addressOf(path));
  await putAll(cache, [[path, found]]).catch(() => {});
  return true;
};

const inTime = (request, hasKept) => {
  const asked = fetch(request);
  if (!hasKept) return asked;
  const late = new Promise((_, fail) => setTimeout(() => fail(new Error("late")), PATIENCE));
  return Promise.race([asked, late]);
};

const page = async (event, path) => {
  const kept = await fromCache(path);
  const answer = await inTime(event.request, Boolean(kept)).catch(() => undefined);
  const isDown = !answer || answer.status >= 500;
  if (isDown && kept) {
    shown.set(event.resultingClientId, "kept");
    return kept;
  }
  if (answer) {
    // Until it is proven of this edition, it gets nothing from the cache.
    shown.set(event.resultingClientId, "other");
    if (isWhole(answer)) {
      const copy = answer.clone();
      event.waitUntil(
        remember(path, copy).then((isOurs) =>
          shown.set(event.resultingClientId, isOurs ? "this" : "other"),
        ),
      );
    }
    event.waitUntil(obeySwitch());
    return answer;
  }
  const instead = new URL("offline.html", HOME);
  instead.searchParams.set("page", path);
  return path === "offline.html" ? Response.error() : Response.redirect(instead.href);
};

const file = async (event, path) => {
  // The name of an asset carries its digest, so that a kept one is right for any page.
  const mayKept = path.startsWith(ASSETS) || shown.get(event.clientId) !== "other";
  const kept = mayKept ? await fromCache(path) : undefined;
  if (kept) return kept;
  const answer = await fetch(event.request);
  if (mayKept && isWhole(answer)) event.waitUntil(remember(path, answer.clone()));
  return answer;
};

const state = async (client) => {
  const cache = await caches.open(NAME);
  const held = await holdings(cache);
  const pages = held.map((each) => pathOf(each.request.url)).filter((path) => /\.html$/.test(path));
  return {
    version: VERSION,
    kept: await keptChassis(cache),
    pages,
    size: sizeOf(held),
    served: shown.get(client) || "",
  };
};

// A page that was there before the worker tells that it was visited.
const visit = async (address) => {
  const path = pathOf(address);
  const hash = path && (await hashOf(path));
  if (!hash || (await fromCache(path))) return;
  await putAll(await caches.open(NAME), [[path, await fetched(path, hash, VISITED)]]);
};

const answerTo = async ({ ask, chassis, address }, client) => {
  if (ask === "keep") await keep(chassis);
  if (ask === "drop") await drop(chassis);
  if (ask === "visit") await visit(address).catch(() => {});
  if (ask === "take-over") await self.skipWaiting();
  return state(client);
};

if (IS_ON) {
  self.addEventListener("install", (event) => event.waitUntil(install()));
  self.addEventListener("activate", (event) =>
    event.waitUntil(clear(true).then(() => self.clients.claim())),
  );
  self.addEventListener("fetch", (event) => {
    const path = event.request.method === "GET" ? pathOf(event.request.url) : null;
    if (path === null || path === SWITCH || path === "sw.js") return;
    if (event.request.mode === "navigate") event.respondWith(page(event, path));
    else event.respondWith(file(event, path));
  });
  self.addEventListener("message", (event) => {
    const done = answerTo(event.data, event.source?.id).then(
      (told) => event.ports[0]?.postMessage(told),
      (trouble) => event.ports[0]?.postMessage({ trouble: trouble.message }),
    );
    event.waitUntil(done);
  });
} else {
  self.addEventListener("install", () => self.skipWaiting());
  self.addEventListener("activate", (event) => event.waitUntil(goAway()));
}

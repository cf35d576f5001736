// Keeps every file of one build on the device. `cargo xtask build` fills in the two constants.
const VERSION = "";
const FILES = [];

// The folder is part of the name: two copies of the app on one host leave each other alone.
const SCOPE = self.registration.scope;
const PREFIX = `offsquare:${new URL(SCOPE).pathname}:`;
const CACHE = PREFIX + VERSION;

// All or nothing, past the HTTP cache. A file whose bytes are not this build's fails its integrity
// check, so page, glue and wasm always come from one build.
async function install() {
  const wanted = FILES.map(
    ([name, integrity]) => new Request(new URL(name, SCOPE), { cache: "reload", integrity }),
  );
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll(wanted);
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function answer(request) {
  const url = new URL(request.url);
  url.search = "";
  url.hash = "";
  if (url.href === new URL(`./index.html`, SCOPE).href) url.href = SCOPE;
  const cache = await caches.open(CACHE);
  const stored = await cache.match(url.href, { ignoreVary: true });
  if (stored) return stored;
  try {
    return await fetch(request);
  } catch {
    return new Response("Not found", { status: 404, headers: { "Content-Type": "text/plain" } });
  }
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET" || !request.url.startsWith(SCOPE)) return;
  event.respondWith(answer(request));
});
// An update waits for a tap: only the page may hurry it.
self.addEventListener("message", (event) => {
  if (event.data === "skip-waiting") self.skipWaiting();
});

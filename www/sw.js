// Keeps every file of one build on the device. `cargo xtask build` fills in the two constants.
const VERSION = "";
const FILES = [];

// The folder is part of the name: two copies of the app on one host leave each other alone.
const SCOPE = self.registration.scope;
const PREFIX = `offsquare:${new URL(SCOPE).pathname}:`;
const CACHE = PREFIX + VERSION;

// What another app has shared with this one, until the page asks for it.
const SHARED = PREFIX + "shared";
const SHARE = new URL("./share", SCOPE).href;
const BROUGHT = new URL("./brought", SCOPE).href;

// Every file by its whole address, with the hash of its bytes.
const WANTED = new Map(FILES.map(([name, integrity]) => [new URL(name, SCOPE).href, integrity]));

// The page's name says nothing of its bytes, so it is asked for past the browser's own store. Every other name is of
// these bytes only: what the first visit has fetched is not fetched again.
function ask(url, integrity) {
  return new Request(url, { integrity, cache: url === SCOPE ? "reload" : "default" });
}

// All or nothing. A file whose bytes are not this build's fails its integrity check, so page, glue and wasm always come
// from one build.
async function install() {
  const cache = await caches.open(CACHE);
  try {
    await cache.addAll([...WANTED].map(([url, integrity]) => ask(url, integrity)));
  } catch (error) {
    await caches.delete(CACHE);
    throw error;
  }
}

// A browser short of room, or a person, may have emptied the store: what is missing is fetched again, as far as the
// server still has it.
let filling = null;

async function fill() {
  const cache = await caches.open(CACHE);
  const have = new Set((await cache.keys()).map((request) => request.url));
  const missing = [...WANTED].filter(([url]) => !have.has(url));
  await Promise.allSettled(missing.map(([url, integrity]) => cache.add(ask(url, integrity))));
}

function fillOnce() {
  filling ??= fill().finally(() => (filling = null));
  return filling;
}

async function activate() {
  const names = await caches.keys();
  const old = names.filter((name) => name.startsWith(PREFIX) && name !== CACHE && name !== SHARED);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

function address(request) {
  const url = new URL(request.url);
  url.search = "";
  url.hash = "";
  return url.href === new URL(`./index.html`, SCOPE).href ? SCOPE : url.href;
}

// What is not stored comes, or fails, as the network has it.
async function answer(event, url) {
  const cache = await caches.open(CACHE);
  const stored = await cache.match(url, { ignoreVary: true });
  if (!stored || event.request.mode === "navigate") event.waitUntil(fillOnce());
  return stored ?? fetch(event.request);
}

// A file, or a text that may have a link in it, goes to the page that opens it; nothing of it leaves the device.
async function share(request) {
  const sent = await request.formData();
  const words = ["text", "url", "title"].map((name) => sent.get(name) ?? "").join("\n");
  const cache = await caches.open(SHARED);
  await cache.put(BROUGHT, new Response(sent.get("file") || words));
  return Response.redirect(new URL("./#/open?shared", SCOPE).href, 303);
}

// Handed out once.
async function brought() {
  const cache = await caches.open(SHARED);
  const stored = await cache.match(BROUGHT);
  await caches.delete(SHARED);
  return stored ?? new Response(null, { status: 204 });
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = address(request);
  if (request.method === "POST" && url === SHARE) return event.respondWith(share(request));
  if (url === BROUGHT) return event.respondWith(brought());
  // A file that is not ours, or one that is to come from the server itself, is the network's own affair.
  if (request.method !== "GET" || request.cache === "no-store" || !WANTED.has(url)) return;
  event.respondWith(answer(event, url));
});
// An update waits for a tap: only the page may hurry it.
self.addEventListener("message", (event) => {
  if (event.data === "skip-waiting") self.skipWaiting();
});

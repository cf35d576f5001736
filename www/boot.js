// Starts the app and passes the service worker's news on to it.
//
// News goes out as events on `window` and stays as a mark on the root element, so that a listener
// that comes late sees it too:
//   offsquare:offline-ready  data-offline-ready   every file is stored; the network may go
//                            data-offline-first   that, for the first time on this device
//   offsquare:update-ready   data-update-ready    a new version waits for a tap
// The app answers with `offsquare:apply-update` once it has saved what was typed, and asks with
// `offsquare:look-for-update` whether a part that could not be fetched has been taken away by a new version.

const root = document.documentElement;

// The worker's address is known only after the build has named the files.
root.dataset.worker = new URL("./worker.js", import.meta.url).href;

function tell(name, mark) {
  if (root.dataset[mark] !== undefined) return;
  root.dataset[mark] = "";
  window.dispatchEvent(new CustomEvent(`offsquare:${name}`));
}

function offlineReady() {
  // Said once on a device, on the bench, and in no other visit.
  try {
    if (localStorage.getItem("offsquare.offline") === null) {
      localStorage.setItem("offsquare.offline", "said");
      root.dataset.offlineFirst = "";
    }
  } catch {
    // Storage is closed: nothing is said.
  }
  tell("offline-ready", "offlineReady");
}
const updateReady = () => tell("update-ready", "updateReady");

// A sentence in the place of the app, which did not start.
function say(sentence) {
  document.querySelector(".shell .late")?.remove();
  const place = document.querySelector(".shell .wait") ?? document.createElement("p");
  place.className = "said";
  place.setAttribute("role", "alert");
  place.textContent = sentence;
  if (!place.isConnected) document.body.append(place);
}

// What an Offsquare without a database kept, and where it set aside what it could not read.
const BENCH = "offsquare.bench";
const ASIDE = "offsquare.aside";
const JOURNAL = "offsquare.journal.";

const done = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    // There is no database: none is made.
    request.onupgradeneeded = () => request.transaction.abort();
  });

// Adds a fragment to a file: rows to rows, members to members.
function join(whole, part) {
  for (const [name, value] of Object.entries(part)) {
    const there = whole[name];
    if (Array.isArray(there)) whole[name] = there.concat(value);
    else if (there && typeof there === "object") join(there, value);
    else whole[name] = value;
  }
}

// All that the device keeps, as a file: the records of its database, and journals of what is not in them yet.
async function kept() {
  const file = { journal: [] };
  try {
    const database = await done(indexedDB.open("offsquare"));
    for (const text of await done(database.transaction("records").objectStore("records").getAll())) {
      const record = JSON.parse(text);
      if (record.bench) join(file, record);
    }
    database.close();
  } catch {
    // No database, or nothing that can be read.
  }
  try {
    for (const name of Object.keys(localStorage).filter((name) => name.startsWith(JOURNAL))) {
      join(file, JSON.parse(localStorage.getItem(name)));
    }
    if (file.offsquare === undefined) return localStorage.getItem(BENCH);
  } catch {
    // Storage is closed.
  }
  return file.offsquare === undefined ? null : JSON.stringify(file);
}

// All of that is put aside, so that the next start is a fresh one.
async function putAside(text) {
  try {
    const database = await done(indexedDB.open("offsquare"));
    const stores = ["records", "log", "steps", "marks"];
    const all = database.transaction([...stores, "aside"], "readwrite");
    for (const name of stores) all.objectStore(name).clear();
    await done(all.objectStore("aside").put(text, String(Date.now()).padStart(15, "0")));
    database.close();
    for (const name of Object.keys(localStorage)) {
      if (name.startsWith(JOURNAL) || name === "offsquare.small") localStorage.removeItem(name);
    }
  } catch {
    // No database, or none that takes it: what is kept there stays.
  }
  const old = localStorage.getItem(BENCH);
  if (old === null) return;
  localStorage.removeItem(BENCH);
  try {
    localStorage.setItem(ASIDE, old);
  } catch {
    // Another tab filled the storage meanwhile: what is kept stays.
    localStorage.setItem(BENCH, old);
  }
}

// The app has died: nothing of it can be asked anymore, so all of this is the page's own. It says so, and hands out
// what is kept. Where the app died before it showed anything, it may do so at every start: what is kept can be put
// aside, as the app does with what it cannot read.
async function broken() {
  if (document.getElementById("broken")) return;
  const shell = document.querySelector(".shell .wait");
  const banner = document.createElement("div");
  banner.className = "notice";
  banner.id = "broken";
  banner.setAttribute("role", "alert");
  const put = (kind, words, act) => {
    const made = document.createElement(kind);
    made.textContent = words;
    if (kind !== "p") made.className = kind === "a" ? "key link" : "key";
    if (act) made.addEventListener("click", act);
    banner.append(made);
    return made;
  };
  const said = put("p", "Something went wrong in Offsquare itself.");
  put("button", "Reload", () => location.reload());
  shell?.remove();
  document.body.prepend(banner);
  const text = await kept();
  if (text === null) return;
  said.textContent += " What you typed is kept on this device.";
  const save = put("a", "Save a file");
  save.download = "offsquare.json";
  save.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  if (!shell) return;
  put("button", "Set it aside and start fresh", async () => {
    await putAside(text);
    location.hash = "";
    location.reload();
  });
}

// A panic is a trap, and too deep a call an error of the stack; both come out of the wasm with nobody to catch them.
function watchForDeath(event) {
  const error = event.error ?? event.reason;
  const trapped = WebAssembly.RuntimeError && error instanceof WebAssembly.RuntimeError;
  if (trapped || String(error?.stack).includes("wasm-function")) broken();
}

// The glue and the wasm, without which nothing starts.
const NEEDED = ["./offsquare.js", "./offsquare_bg.wasm"];

// Why the app did not start. A build may be half on its server, or taken away by the next one.
async function whyNot() {
  for (const name of NEEDED) {
    try {
      const got = await fetch(new URL(name, import.meta.url));
      if (!got.ok) return "Part of this version of Offsquare is not on its server: it is still on its way there, or a newer version has taken its place. Load the page again in a minute.";
    } catch {
      return "Part of Offsquare is not on this device, and its server cannot be reached. Load the page again once there is a network.";
    }
  }
  return "Offsquare could not start here. Load the page again, or try a newer browser.";
}

// Without the app the page itself offers the version that waits.
function offerUpdate() {
  const offer = () => {
    if (document.getElementById("use-update")) return;
    const key = document.createElement("button");
    key.id = "use-update";
    key.className = "key";
    key.textContent = "Use the new version";
    key.addEventListener("click", () => window.dispatchEvent(new Event("offsquare:apply-update")));
    document.querySelector(".shell").append(key);
  };
  if (root.dataset.updateReady !== undefined) offer();
  window.addEventListener("offsquare:update-ready", offer);
}

// Which part of the app a place needs for its first answer. The page came with the bench, whose questions say it.
function partOf(place) {
  const [first, , face] = place.split("/");
  if (["parts", "boards", "rack", "shop", "open"].includes(first) || face) return "work";
  const asked = [...document.querySelectorAll(".questions a")].find((a) => a.hash === `#/${place}`);
  return asked ? asked.dataset.part : "more";
}

async function start() {
  if (typeof WebAssembly !== "object") {
    say("Offsquare needs WebAssembly, which this browser lacks or has switched off. Use a newer browser, or switch it on.");
    return;
  }
  try {
    const place = location.hash.replace(/^#\/?/, "").split("?")[0];
    const part = place && partOf(place);
    // The page came with the bench, which the app takes the drawings from.
    const bench = document.querySelector(".bench");
    if (place && bench) bench.hidden = true;
    const app = await import("./offsquare.js");
    if (part) app.preload?.(part);
    await app.default();
    for (const kind of ["error", "unhandledrejection"]) window.addEventListener(kind, watchForDeath);
    root.dataset.loaded = "";
    app.app_main();
    root.dataset.started = "";
  } catch (error) {
    console.error(error);
    if (root.dataset.loaded !== undefined) return broken();
    say(await whyNot());
    offerUpdate();
  }
}

// Without a service worker a new version is a matter of loading the page.
let applyUpdate = () => location.reload();
window.addEventListener("offsquare:apply-update", () => applyUpdate());

// Whether the server's page still starts this script. In a first visit no service worker tells.
window.addEventListener("offsquare:look-for-update", async () => {
  try {
    const page = await fetch("./", { cache: "no-store" });
    const own = import.meta.url.split("/").pop();
    if (page.ok && !(await page.text()).includes(own) && !navigator.serviceWorker?.controller) updateReady();
  } catch {
    // The network is away: nothing can be known.
  }
});

async function watchForVersions() {
  if (!("serviceWorker" in navigator)) return;
  const { serviceWorker } = navigator;
  // The page's own base, not this file's, so that the scope is the app's folder.
  const registration = await serviceWorker.register("./sw.js", { updateViaCache: "none" });
  let asked = false;
  let hadController = serviceWorker.controller !== null;

  const look = () => {
    if (registration.active) offlineReady();
    if (registration.waiting && registration.active) updateReady();
  };
  const follow = (worker) => worker?.addEventListener("statechange", look);
  registration.addEventListener("updatefound", () => follow(registration.installing));
  follow(registration.installing);
  follow(registration.waiting);
  look();

  serviceWorker.addEventListener("controllerchange", () => {
    if (asked) location.reload();
    // Another tab took the new version: this one still runs the old and is told so.
    else if (hadController) updateReady();
    hadController = true;
  });

  applyUpdate = () => {
    asked = true;
    if (registration.waiting) registration.waiting.postMessage("skip-waiting");
    else location.reload();
  };
  const lookAgain = () => registration.update().catch(() => {});
  window.addEventListener("offsquare:look-for-update", lookAgain);
  if (root.dataset.started === undefined) lookAgain();

  // An installed app is rarely opened afresh: look for a new version when it comes back to view.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") lookAgain();
  });
}

// No prompt to install before the second answered visit, which the app counts; the menu installs any time.
window.addEventListener("beforeinstallprompt", (event) => {
  let visits = 0;
  try {
    visits = Number(localStorage.getItem("offsquare.visits"));
  } catch {
    // Storage is closed: nobody is asked.
  }
  if (!(visits >= 2)) event.preventDefault();
});

await start();
// The first visit's answer comes before the store is filled.
watchForVersions().catch((error) => console.warn("Offsquare stays online only:", error));

// Starts the app and passes the service worker's news on to it.
//
// News goes out as events on `window` and stays as a mark on the root element, so that a listener
// that comes late sees it too:
//   offsquare:offline-ready  data-offline-ready   every file is stored; the network may go
//                            data-offline-first   that, for the first time on this device
//   offsquare:update-ready   data-update-ready    a new version waits for a tap
// The app answers with `offsquare:apply-update` once it has saved what was typed.

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
  const place = document.querySelector(".shell .wait") ?? document.createElement("p");
  place.className = "said";
  place.setAttribute("role", "alert");
  place.textContent = sentence;
  if (!place.isConnected) document.body.append(place);
}

const KEPT = "offsquare.bench";
const ASIDE = "offsquare.aside";

function kept() {
  try {
    return localStorage.getItem(KEPT);
  } catch {
    return null;
  }
}

// The app has died: nothing of it can be asked anymore, so all of this is the page's own. It says so, and hands out
// what is kept. Where the app died before it showed anything, it may do so at every start: the kept text can be put
// aside, as the app does with what it cannot read.
function broken() {
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
  const text = kept();
  put("p", "Something went wrong in Offsquare itself." + (text === null ? "" : " What you typed is kept on this device."));
  put("button", "Reload", () => location.reload());
  if (text !== null) {
    const save = put("a", "Save a file");
    save.download = "offsquare.json";
    save.href = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  }
  if (text !== null && shell) {
    put("button", "Set it aside and start fresh", () => {
      try {
        localStorage.removeItem(KEPT);
        localStorage.setItem(ASIDE, text);
      } catch {
        // Storage is closed, or another tab filled it meanwhile: what is kept stays.
        if (kept() === null) localStorage.setItem(KEPT, text);
      }
      location.hash = "";
      location.reload();
    });
  }
  shell?.remove();
  document.body.prepend(banner);
}

// A panic is a trap, and too deep a call an error of the stack; both come out of the wasm with nobody to catch them.
function watchForDeath(event) {
  const error = event.error ?? event.reason;
  const trapped = WebAssembly.RuntimeError && error instanceof WebAssembly.RuntimeError;
  if (trapped || String(error?.stack).includes("wasm-function")) broken();
}

async function start() {
  if (typeof WebAssembly !== "object") {
    say("Offsquare needs WebAssembly, which this browser lacks or has switched off. Use a newer browser, or switch it on.");
    return;
  }
  try {
    const app = await import("./offsquare.js");
    await app.default();
    for (const kind of ["error", "unhandledrejection"]) window.addEventListener(kind, watchForDeath);
    root.dataset.loaded = "";
    app.app_main();
    root.dataset.started = "";
  } catch (error) {
    console.error(error);
    if (root.dataset.loaded !== undefined) return broken();
    say("Offsquare could not start here. Load the page again, or try a newer browser.");
  }
}

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

  window.addEventListener("offsquare:apply-update", () => {
    asked = true;
    if (registration.waiting) registration.waiting.postMessage("skip-waiting");
    else location.reload();
  });

  // An installed app is rarely opened afresh: look for a new version when it comes back to view.
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") registration.update().catch(() => {});
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

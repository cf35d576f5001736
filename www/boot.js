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

async function start() {
  if (typeof WebAssembly !== "object") {
    say("Offsquare needs WebAssembly, which this browser lacks or has switched off. Use a newer browser, or switch it on.");
    return;
  }
  try {
    const app = await import("./offsquare.js");
    await app.default();
    app.app_main();
    root.dataset.started = "";
  } catch (error) {
    console.error(error);
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

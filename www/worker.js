// Long work runs here, on the same wasm as the page.
//
// A message that is sent before its handler exists is lost, so this side speaks first: it posts
// "ready" once `worker_main` has set its handler, and the page holds its messages until then.
import init, * as app from "./offsquare.js";

await init();
app.worker_main?.();
self.postMessage("ready");

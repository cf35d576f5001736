// Put before the text of the app's own worker: tells times, and rests once the price is proven (or the job
// is done), so that the thread's processor time is that of the way there and no more.
const clock = () => performance.timeOrigin + performance.now();
const later = self.setTimeout.bind(self);
const say = self.postMessage.bind(self);
let resting = false;
let held = null;
let begun = 0;
let busy = 0;
let longest = 0;
let memory = null;
let proof = true;

function turn(work) {
  if (resting) {
    held = work;
    return;
  }
  begun = performance.now();
  work();
  const took = performance.now() - begun;
  busy += took;
  longest = Math.max(longest, took);
}

self.setTimeout = (work, ms) => later(() => turn(work), ms);

self.postMessage = said => {
  const news = said.about?.news ?? {};
  const settled = news.plain === false
    && (news.news !== "plan" || news.done || news.plan.proven);
  if (settled && proof) resting = true;
  const now = performance.now();
  say({
    said, settled, at: clock(), busy: busy + now - begun, longest: Math.max(longest, now - begun),
    wasm: memory ? memory.buffer.byteLength : 0,
  });
};

// Heard before the app's own handler; what was held goes on after it.
self.addEventListener("message", event => {
  if (event.data?.proof !== undefined) {
    proof = event.data.proof;
    event.stopImmediatePropagation();
    return;
  }
  busy = longest = 0;
  begun = performance.now();
  say({ heard: event.data === null ? "stop" : "ask", at: clock() });
  resting = false;
  const work = held;
  held = null;
  if (work) later(() => turn(work), 0);
});

for (const how of ["instantiate", "instantiateStreaming"]) {
  const plain = WebAssembly[how];
  WebAssembly[how] = async (...all) => {
    const made = await plain.apply(WebAssembly, all);
    memory = (made.instance ?? made).exports.memory;
    return made;
  };
}

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

self.postMessage = text => {
  const words = String(text).split(" ", 7);
  const settled = /^(best|nonebest|openbest)$/.test(words[0])
    && (words[0] !== "best" || words[6] === "1" || words[3] === "1");
  if (settled && proof) resting = true;
  const now = performance.now();
  say({
    text, settled, at: clock(), busy: busy + now - begun, longest: Math.max(longest, now - begun),
    wasm: memory ? memory.buffer.byteLength : 0,
  });
};

// Heard before the app's own handler; what was held goes on after it.
self.addEventListener("message", event => {
  if (typeof event.data === "object") {
    proof = event.data.proof;
    event.stopImmediatePropagation();
    return;
  }
  busy = longest = 0;
  begun = performance.now();
  say({ heard: event.data.split(" ", 2).join(" "), at: clock() });
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

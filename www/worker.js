// The planner, off the page's thread. Where no worker starts, the app imports this file and has it run on the page.

// Goes on with a request in turns of so many steps, so that what comes in meanwhile is heard; each message goes to
// `tell`. Gives what takes a request, or null for none. Words of our own: "unread", the request comes from another
// version; "died", the planner did.
export async function open(tell, steps) {
  // A page remembers what failed to load by its address, so a later try has another one.
  const planner = await import("./planner.js" + new URL(import.meta.url).search);
  await planner.default();
  let going = false;
  const turn = () => {
    let said;
    try {
      said = planner.step(steps);
    } catch (error) {
      console.error(error);
      return tell("died");
    }
    going = said !== undefined;
    said?.forEach(tell);
    if (going) setTimeout(turn);
  };
  return (request) => {
    if (!planner.ask(request)) tell("unread");
    if (!going) setTimeout(turn);
    going = true;
  };
}

// A message that is sent before its handler exists is lost, so this side speaks first, and the page holds its request
// until then.
if (self.document === undefined) {
  try {
    const hear = await open((said) => self.postMessage(said), 20_000_000);
    self.onmessage = (event) => hear(event.data);
    self.postMessage("ready");
  } catch (error) {
    console.error(error);
    self.postMessage("missing");
  }
}

// Asks for the plan: a little after each change, again and longer, or no more.

import { listen } from "./ask.js";
import { say } from "./dom.js";
import { desk } from "./state.js";
import { words } from "./words.js";

const pause = 120;

/** The plan as far as it is known. `isOld`: something was typed since. */
export const plan = { made: null, problems: [], told: "", isWorking: false, isOld: false, isStopped: false, isFinal: false };

let timer = null, running = null;

/** Plans after a pause; what is being worked out is no longer wanted. */
export function planSoon() {
  halt();
  Object.assign(plan, { isOld: true, isStopped: false });
  desk.tell("plan");
  if (desk.order) { timer = setTimeout(() => work("usual"), pause); }
}

export function planLonger() { halt(); work("long"); }

/** Keeps the best plan that has come so far. */
export function stopPlanning() {
  halt();
  Object.assign(plan, { isWorking: false, isStopped: true, told: "" });
  say(plan.made && !plan.isOld ? words.stoppedWith : words.stoppedWithout);
  desk.tell("plan");
}

function halt() {
  clearTimeout(timer);
  running?.abort();
  running = null;
}

async function work(effort) {
  const mine = running = new AbortController();
  Object.assign(plan, { isWorking: true, isFinal: false, isStopped: false, told: words.planning });
  desk.tell("plan");
  try {
    await listen({ ask: "plan", desk: desk.question(), effort }, (line) => { if (running === mine) { hear(line); } }, mine.signal);
  } catch (trouble) {
    if (running === mine && trouble.name !== "AbortError") { desk.tell("news", { told: trouble.message }); }
  }
  if (running === mine) { end(); }
}

function hear(line) {
  if (line.is === "fault") { desk.tell("news", { told: line.told.join(" ") }); }
  if (line.is === "progress") { plan.told = line.told; }
  if (line.is === "plan") {
    Object.assign(plan, { made: sameOr(plan.made, line.made), problems: line.problems, isOld: false, isFinal: line.final, told: line.final ? "" : words.stillPlanning });
  }
  desk.tell("plan");
}

// The final plan is often the first one: what is shown then stays, and so does the focus in it.
function sameOr(shown, made) { return JSON.stringify(shown) === JSON.stringify(made) ? shown : made; }

function end() {
  running = null;
  Object.assign(plan, { isWorking: false, told: "" });
  say(plan.made?.verdict ?? words.cannot);
  desk.tell("plan");
}

/** Whether a longer search could still find something. */
export function isProven(made) {
  return made.proven ?? made.sure.every((group) => group.claims.some((claim) => claim.proven ?? claim.includes("(proven)")));
}

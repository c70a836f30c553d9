// The ticks of the walk: the schedule keeps them in the browser, the desk keeps them on disk.

import { get, post } from "./ask.js";

const own = "cardwright-";

/** Where the walk begins. */
export const first = "go-1";

/** Puts the ticks of a report where its schedule looks for them. @returns {Promise<string>} the step where she was */
export async function fetchTicks(report) {
  const { ticks } = await get(`ticks?report=${encodeURIComponent(report)}`);
  for (const [key, value] of Object.entries(ticks)) { localStorage.setItem(key, value); }
  const walk = Object.entries(ticks).find(([key]) => key.startsWith(`${own}walk-`));
  try { return JSON.parse(walk[1]).at || first; } catch { return first; }
}

/** Keeps the ticks of the schedule in `frame` on disk while it is open; `lost` is called where that fails. */
export function keepTicks(frame, report, lost) {
  let timer = null;
  const keep = () => post("ticks", { report: report(), ticks: ticksOf(frame) }).catch(lost);
  addEventListener("storage", (event) => {
    if (!event.key?.startsWith(own) || !report()) { return; }
    clearTimeout(timer);
    timer = setTimeout(keep, 200);
  });
}

/** The entries of the plan that the frame shows; all of them where it cannot be asked. */
export function ticksOf(frame) {
  const plan = frame.contentDocument?.documentElement.dataset.plan ?? "";
  const keys = Object.keys(localStorage).filter((key) => key.startsWith(own) && key.endsWith(plan));
  return Object.fromEntries(keys.map((key) => [key, localStorage.getItem(key)]));
}

/** What was spoiled by the walk's own count: pairs of piece and number. */
export function spoiledSoFar(frame) {
  const walk = Object.entries(ticksOf(frame)).find(([key]) => key.startsWith(`${own}walk-`));
  try { return Object.entries(JSON.parse(walk[1]).spoiled).filter(([, count]) => Number(count) > 0).map(([piece, count]) => [piece, Number(count)]); } catch { return []; }
}

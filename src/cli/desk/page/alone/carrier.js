// How the page reaches the program: it is a part of the page, and runs beside it.

import { make } from "../dom.js";
import { words } from "../words.js";
import { Meanwhile } from "./folder.js";
import { Fault, Program } from "./program.js";
import { Workshop } from "./workshop.js";
import { download, showHome, welcome } from "./home.js";

export const hasPhone = false;

let program, workshop;

/** Unpacks the program, opens the workshop, and asks where to begin if there is none. */
export async function begin() {
  overlay(words, words.alone.instead);
  const ready = unpack();
  workshop = await Workshop.open();
  program = await ready;
  showHome(workshop);
  stayHere();
  if (!workshop.isBegun || workshop.closed) { await welcome(workshop, startWith); }
}

// A page that is served from somewhere is kept for when there is no network; one that is a file is there anyway.
function stayHere() {
  if (location.protocol.startsWith("http")) { navigator.serviceWorker?.register("cardwright-offline.js").catch(() => { /* whoever serves it left that out */ }); }
}

/** Other words where there is no terminal and no folder of a desk. */
function overlay(all, other) {
  for (const [key, value] of Object.entries(other)) {
    if (typeof value === "object") { overlay(all[key], value); } else { all[key] = value; }
  }
}

// The program lies in the page as text, packed.
async function unpack() {
  const place = document.getElementById("program"), bytes = fromLetters(place.textContent);
  place.remove();
  const body = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  const module = await WebAssembly.compileStreaming(new Response(body, { headers: { "content-type": "application/wasm" } }));
  return new Program(module, document.getElementById("worker").textContent);
}

/** Bytes from letters of seven bits each; one above 127 stands for the one 128 before it. The last letter is filled up. */
function fromLetters(text) {
  const bytes = new Uint8Array(Math.floor(text.length * 7 / 8));
  let at = 0, left = 0, bits = 0;
  for (let index = 0; at < bytes.length; index += 1) {
    left = (left << 7) | (text.charCodeAt(index) & 127);
    bits += 7;
    if (bits >= 8) { bits -= 8; bytes[at] = left >> bits; at += 1; left &= (1 << bits) - 1; }
  }
  return bytes;
}

/** Puts the small workshop that the program comes with. */
async function startWith(unit) {
  const { ended } = await program.run({ method: "POST", path: "start", body: JSON.stringify({ unit }) }, {});
  await workshop.take(Object.fromEntries((await ended).map(({ path, bytes }) => [path, bytes])));
}

/** @returns {Promise<Response>} */
export async function reach(path, { method = "GET", body = "", signal } = {}) {
  const [place, query = ""] = path.split("?"), request = { method, path: place, query, body };
  try { return place === "ask" ? await ask(request, signal) : await keep(request); } catch (trouble) {
    if (signal?.aborted) { throw new DOMException("stopped", "AbortError"); }
    if (trouble instanceof Meanwhile) { return response({ status: 503 }, JSON.stringify({ told: words.alone.meanwhile(trouble.path) })); }
    if (trouble instanceof Fault) { return response({ status: 500 }, JSON.stringify({ told: words.alone.fault(trouble.message) })); }
    throw trouble;
  }
}

// A question changes nothing: it needs no more than what says where the stock lies, and its answer is heard as it comes.
async function ask(request, signal) {
  const files = Object.fromEntries(Object.entries(await workshop.seen()).filter(([path]) => !path.startsWith("reports/")));
  const { head, body } = await program.run(request, files, signal);
  return response(head, body);
}

// What a request leaves in the folder is kept before anybody hears that it is done.
async function keep(request) {
  return workshop.work(async (files) => {
    const { head, body, ended } = await program.run(request, files), bytes = await new Response(body).arrayBuffer();
    return { changes: await ended, result: response(head, bytes) };
  });
}

function response({ status, media = "application/json" }, body) { return new Response(body, { status, headers: { "content-type": media } }); }

/** Shows the schedule of a report at a step. */
export async function showSchedule(frame, report, step) {
  const page = await (await reach(`reports/${encodeURIComponent(report)}/schedule.html`)).text();
  frame.onload = () => frame.contentWindow.location.replace(`about:srcdoc#at-${step}`);
  // Its own links begin with #; they lead within it, and not to the page round it.
  frame.srcdoc = page.replace("<head>", '<head><base href="about:srcdoc">');
}

/** A link to a file of a report. */
export function fileLink(report, file) {
  const path = `reports/${encodeURIComponent(report)}/${encodeURIComponent(file)}`;
  return make("a", { href: "#", onclick: (event) => { event.preventDefault(); download(file, reach(path).then((answer) => answer.blob())); } }, file);
}

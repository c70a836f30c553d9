// Asks the program: pure questions that answer in lines, and the folder on disk.

import * as carrier from "./carrier.js";
import { words } from "./words.js";

/** What went wrong, as a sentence to show. `status` 0: the program does not answer. */
export class Trouble extends Error {
  constructor(status, answer) {
    super(answer?.told || words.trouble(status));
    this.status = status;
    this.answer = answer || {};
  }
}

/** Sends one question; calls `line` with each answer as it comes. Aborting `signal` stops the work. */
export async function listen(question, line, signal) {
  const response = await reach("ask", body(question, signal));
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    const lines = (rest + (value || "")).split("\n");
    rest = done ? "" : lines.pop();
    lines.filter((text) => text.trim()).forEach((text) => line(JSON.parse(text)));
    if (done) { return; }
  }
}

/** The last answer to a question that has one. */
export async function ask(question) {
  let answer = null;
  await listen(question, (line) => { answer = line; });
  if (answer?.is === "fault") { throw new Trouble(500, { told: answer.told.join(" ") }); }
  if (!answer) { throw new Trouble(500); }
  return answer;
}

export async function get(path) { return (await reach(path, { cache: "no-store" })).json(); }

export async function post(path, question) { return (await reach(path, body(question))).json(); }

export function save(name, was, text) { return post("save", { name, was, text }); }

function body(question, signal) {
  return { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(question), signal };
}

async function reach(path, options) {
  let response;
  try { response = await carrier.reach(path, options); } catch (error) {
    if (error.name === "AbortError") { throw error; }
    throw new Trouble(0);
  }
  if (!response.ok) { throw new Trouble(response.status, await response.json().catch(() => null)); }
  return response;
}

// Asks for the tables of the files. One question after the other, so that each edit finds the text of the one before.

import { ask } from "./ask.js";
import { desk, write } from "./state.js";
import { words } from "./words.js";

let queue = Promise.resolve();
const waiting = {};

/** Applies changes to a file; `show` gets the table once no newer change of it waits. */
export function change(kind, changes, show) {
  const file = desk.file(kind);
  waiting[kind] = (waiting[kind] ?? 0) + 1;
  if (file) { file.asked += 1; }
  queue = queue.then(() => run(kind, changes, file, show)).catch((trouble) => desk.tell("news", { told: trouble.message }));
  return queue;
}

async function run(kind, changes, file, show) {
  let answer = null;
  try { answer = await answerFor(kind, changes, file); } finally {
    waiting[kind] -= 1;
    if (file) { file.asked -= 1; }
  }
  if (answer && waiting[kind] === 0) { show(answer); }
}

async function answerFor(kind, changes, file) {
  if (desk.file(kind) !== file) { return null; }
  const answer = await ask({ ask: "table", desk: desk.question(), kind, changes });
  if (answer.refused?.length) { desk.tell("news", { told: words.refused(answer.refused) }); }
  else if (changes.length && answer.is === "table" && desk.file(kind) === file) { write(kind, answer.text); }
  return answer;
}

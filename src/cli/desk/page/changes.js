// What a step would change on the shelf: told first, done only when she says so.

import { button, make, say } from "./dom.js";
import { post } from "./ask.js";
import { allSaved, own } from "./state.js";
import { words } from "./words.js";

/**
 * Looks at a step, and offers to do it.
 * @param {HTMLElement} box  where to show it
 * @param {{path: string, question: Object, act: string, done: string, then: function()}} step
 */
export async function lookAt(box, step) {
  box.replaceChildren();
  if (!(await allSaved())) { box.replaceChildren(note(words.cut.unsaved)); return; }
  const answer = await answerOf(step, { preview: true });
  box.replaceChildren(...shown(answer));
  if (answer.ok !== false) { box.append(offer(box, step, answer.seen)); }
  box.tabIndex = -1;
  box.focus();
}

// The button goes at the first press: a second one would do the step once more.
function offer(box, step, seen) {
  const tools = make("div", { class: "tools" });
  const press = button(step.act, () => {
    press.disabled = true;
    tools.replaceChildren(make("p", { role: "status" }, words.saving));
    doIt(box, step, seen);
  }, { class: "main" });
  tools.append(press);
  return tools;
}

async function doIt(box, step, seen) {
  box.focus();
  const answer = await own(() => answerOf(step, { preview: false, seen }));
  const isDone = answer.ok !== false;
  box.replaceChildren(isDone ? make("p", { class: "good" }, step.done) : "", ...shown(answer));
  box.focus();
  if (!isDone) { return; }
  say(step.done);
  step.then?.(answer);
}

async function answerOf(step, how) {
  try { return await post(step.path, { ...step.question, ...how }); } catch (trouble) {
    return { ok: false, told: trouble.message, problems: trouble.answer?.problems ?? [], files: [] };
  }
}

function shown(answer) {
  return [answer.told ? make("pre", { class: "told", tabindex: "0" }, answer.told) : "", ...problems(answer), ...files(answer)];
}

export function problems(answer) {
  return (answer.problems ?? []).map((problem) => make("p", { class: problem.severity },
    make("strong", {}, `${words.severity(problem.severity)}: ${problem.title}. `), words.remedy(problem)));
}

function files(answer) {
  const changed = (answer.files ?? []).filter((file) => file.lines.length);
  if (answer.ok === false) { return []; }
  return [make("h3", {}, words.cut.changes), ...(changed.length ? changed.map(changedFile) : [make("p", {}, words.cut.noChanges)])];
}

function changedFile(file) { return make("div", { class: "changed" }, make("h4", {}, file.name), changedLines(file.lines)); }

/** Lines that begin with - go, lines that begin with + come. */
export function changedLines(lines) {
  return make("ul", { class: "changes", tabindex: "0" }, lines.map((line) => {
    const way = { "+": "comes", "-": "goes" }[line[0]];
    const told = { comes: words.cut.added, goes: words.cut.removed }[way];
    return make("li", { class: way ?? null }, told ? make("span", { class: "unseen" }, `${told}: `) : null, line);
  }));
}

export function note(text) { return make("p", { class: "error" }, text); }

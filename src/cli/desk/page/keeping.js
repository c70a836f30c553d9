// What is saved and what is not, undo and redo, and the quiet lines of news.

import { button, byId, make, say } from "./dom.js";
import { canRedo, canUndo, desk, look, redo, store, undo } from "./state.js";
import { words } from "./words.js";

export function showKeeping() {
  const state = make("p", { class: "saved", role: "status" });
  const back = button(words.undo, undo), forth = button(words.redo, redo);
  byId("keeping").append(state, back, forth);
  const show = () => {
    back.disabled = !canUndo();
    forth.disabled = !canRedo();
    showState(state);
  };
  desk.hear("saving", show);
  desk.hear("text", show);
  show();
  addEventListener("keydown", pressUndo);
  desk.hear("news", ({ told }) => news(told));
}

function showState(state) {
  const lost = desk.all().find((file) => file.trouble && !file.isHeld);
  const held = desk.all().find((file) => file.isHeld);
  const text = held ? words.held(held.name) : lost ? words.notSaved(lost.name, lost.trouble) : desk.all().some((file) => file.isSaving || file.isDirty) ? words.saving : words.saved;
  if (state.dataset.text === text) { return; }
  state.dataset.text = text;
  state.classList.toggle("wrong", Boolean(lost || held));
  state.replaceChildren(text, lost ? button(words.saveAgain, () => store(lost)) : "");
}

function pressUndo(event) {
  const isTyping = event.target.closest?.("input, textarea, dialog"), key = event.key.toLowerCase();
  if (isTyping || !(event.ctrlKey || event.metaKey) || !["z", "y"].includes(key)) { return; }
  event.preventDefault();
  if (key === "y" || event.shiftKey) { redo(); } else { undo(); }
}

/** A quiet line that stays until she closes it; the same line stands once. */
export function news(text) {
  const box = byId("notices");
  if ([...box.children].some((line) => line.dataset.text === text)) { return null; }
  const line = make("div", { class: "notice", "data-text": text }, make("p", {}, text));
  line.append(button(words.close, () => line.remove()));
  box.append(line);
  say(text);
  return line;
}

// A program that is only busy answers at the next look.
function silent(trouble) {
  const told = trouble.status === 0 ? words.stopped : trouble.answer?.told;
  return told ? news(told) : null;
}

/** Looks at the disk once a second while the page is seen. */
export function watchDisk() {
  let silence = null;
  const turn = async () => {
    if (document.visibilityState === "visible") {
      try { await look(); silence?.remove(); silence = null; } catch (trouble) { silence ??= silent(trouble); }
    }
    setTimeout(turn, 1000);
  };
  setTimeout(turn, 1000);
}

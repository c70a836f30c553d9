// Where her files are, told plainly, and the ways to take them in and out.

import { button, byId, freshId, make, say } from "../dom.js";
import { words } from "../words.js";
import { NoZip } from "./zip.js";

const told = words.alone;

/** Hands a file over to the browser. */
export async function download(name, blob) {
  const address = URL.createObjectURL(await blob);
  make("a", { href: address, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** The line that says where the files are, and when they were last saved outside the browser. */
export function showHome(workshop) {
  const place = make("p"), tools = make("div", { class: "tools" }), trouble = make("p", { class: "error", role: "alert" });
  const show = () => {
    place.replaceChildren(workshop.folder ? told.inFolder(workshop.folder.name) : told.inBrowser, " ", make("span", { class: isUnsaved(workshop) ? "warning" : "note" }, savedWhen(workshop)));
    tools.replaceChildren(button(told.save, act(trouble, () => save(workshop))), opener(workshop, trouble, reload),
      workshop.folder ? button(told.leave, act(trouble, () => workshop.leaveFolder())) : folderButton(workshop, trouble, reload));
  };
  byId("places").before(make("section", { class: "home", "aria-label": told.label }, place, tools, trouble));
  workshop.addEventListener("change", show);
  setInterval(show, 60_000);
  show();
}

function isUnsaved(workshop) { return !workshop.folder && workshop.changed !== null && (workshop.saved ?? 0) < workshop.changed; }

function savedWhen(workshop) {
  if (workshop.folder) { return told.onDisk; }
  return workshop.saved ? told.saved(new Date(workshop.saved), isUnsaved(workshop)) : told.neverSaved;
}

async function save(workshop) {
  const day = new Date().toISOString().slice(0, 10);
  await download(told.fileName(day), workshop.asFile());
  await workshop.noteSaved();
  say(told.savedNow);
}

/** Everything on the page is read anew. */
function reload() { location.hash = ""; location.reload(); }

function opener(workshop, trouble, then) {
  const file = make("input", { type: "file", accept: ".zip,application/zip", hidden: true, tabindex: "-1", "aria-hidden": "true" });
  file.addEventListener("change", act(trouble, async () => {
    if (!file.files[0] || !mayReplace(workshop)) { return; }
    await workshop.takeFile(file.files[0]);
    then();
  }));
  return make("span", {}, file, button(told.open, () => { file.value = ""; file.click(); }));
}

function folderButton(workshop, trouble, then) {
  if (!workshop.canOpenFolder) { return null; }
  return button(told.openFolder, act(trouble, async () => { if (mayReplace(workshop) && await workshop.chooseFolder()) { then(); } }));
}

function mayReplace(workshop) { return !isUnsaved(workshop) || confirm(told.replace); }

function act(trouble, deed) {
  return async () => {
    trouble.replaceChildren();
    try { await deed(); } catch (error) { trouble.replaceChildren(error instanceof NoZip ? told.noFile[error.why] : told.failed(error.message)); }
  };
}

/** The first page of all: where to begin. */
export async function welcome(workshop, startWith) {
  const title = make("h2", { id: freshId("title"), tabindex: "-1" }, told.welcome), trouble = make("p", { class: "error", role: "alert" });
  // The ways in stand on the page; at the top they would stand there twice.
  document.body.classList.add("beginning");
  await new Promise((done) => {
    const start = (text, deed) => button(text, act(trouble, async () => { if (await deed() !== false) { done(); } }), { class: "tile" });
    const again = workshop.closed ? [start(told.openAgain(workshop.closed.name), () => workshop.openAgain()), start(told.goOn, () => workshop.leaveFolder())] : [];
    const fresh = workshop.isBegun ? [] : [start(told.startInches, () => startWith("in")), start(told.startMetric, () => startWith("mm")), start(told.startEmpty, () => workshop.take({}))];
    byId("main").replaceChildren(make("section", { class: "welcome", "aria-labelledby": title.id }, title, make("p", { class: "about" }, told.welcomeTold),
      make("div", { class: "tiles" }, again, fresh, opener(workshop, trouble, done)), trouble));
    title.focus();
  });
  byId("main").replaceChildren();
  document.body.classList.remove("beginning");
}

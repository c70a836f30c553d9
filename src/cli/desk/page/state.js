// The files as the page has them: what is typed, what is saved, what can be undone.

import { get, save } from "./ask.js";
import { say } from "./dom.js";
import { words } from "./words.js";

export const lists = ["sheets", "offcuts", "envelopes", "sundries"];
const standing = { sheets: "sheets.csv", offcuts: "offcuts.csv", envelopes: "envelopes.csv", sundries: "sundries.csv", workshop: "workshop.toml" };

/** Tells `text` {kind, isOwn}, `orders`, `saving`, `conflict` {file}, `news` {told}. */
class Desk extends EventTarget {
  folder = ""; oddNames = []; orders = []; files = {}; order = null; reports = []; phone = null;
  tell(name, detail = {}) { this.dispatchEvent(new CustomEvent(name, { detail })); }
  hear(name, listener) { this.addEventListener(name, (event) => listener(event.detail)); }
  file(kind) { return kind === "order" ? this.order : this.files[kind]; }
  all() { return [...this.orders, ...Object.values(this.files)]; }
  question() {
    const known = (file) => (file.text === null ? null : { name: file.name, text: file.text });
    const question = { order: this.order ? { name: this.order.name, text: this.order.text ?? "" } : { name: "order.csv", text: "" } };
    for (const kind of Object.keys(standing)) { question[kind] = known(this.files[kind]); }
    return question;
  }
}

export const desk = new Desk();
const past = [], future = [];

function fresh(kind, name, found) {
  return { kind, name, text: found?.text ?? null, digest: found?.digest ?? null, problems: found?.problems ?? [], isDirty: false, isSaving: false, isHeld: false, asked: 0, trouble: null };
}

/** Reads the folder for the first time. */
export async function open() {
  const found = await get("files");
  desk.folder = found.folder;
  desk.phone = found.phone; desk.phoneCode = found.phone_code;
  desk.reports = found.reports; desk.oddNames = found.odd_names ?? [];
  for (const [kind, name] of Object.entries(standing)) {
    desk.files[kind] = fresh(kind, found.files[kind]?.name ?? name, found.files[kind]);
  }
  desk.orders = found.orders.map((order) => fresh("order", order.name, order));
}

/** Makes another order the one that is worked on. */
export function choose(name) {
  const next = desk.orders.find((order) => order.name === name) ?? desk.orders[0] ?? null;
  if (next === desk.order) { return; }
  desk.order = next;
  forget((step) => step.file.kind === "order");
  desk.tell("orders");
  desk.tell("text", { kind: "order" });
}

/** Writes a new order; refused where there is a file of that name. */
export async function begin(name, text) {
  const { digest } = await save(name, null, text);
  desk.orders.push(fresh("order", name, { text, digest }));
  desk.orders.sort((one, other) => one.name.localeCompare(other.name));
  choose(name);
}

/** What she typed: it can be undone, and is saved. */
export function write(kind, text) {
  const file = desk.file(kind);
  if (!file || file.text === text) { return; }
  past.push({ file, before: file.text ?? "", after: text });
  future.length = 0;
  take(file, text, true);
}

export const canUndo = () => past.length > 0;
export const canRedo = () => future.length > 0;

export function undo() { step(past, future, "before"); }
export function redo() { step(future, past, "after"); }

function step(from, to, side) {
  const turn = from.pop();
  if (!turn) { return; }
  to.push(turn);
  take(turn.file, turn[side]);
  say(side === "before" ? words.undone(turn.file.name) : words.redone(turn.file.name));
}

function forget(isOver) {
  for (const list of [past, future]) { list.splice(0, list.length, ...list.filter((turn) => !isOver(turn))); }
}

/** `isOwn`: whoever shows the file knows already. */
function take(file, text, isOwn = false) {
  file.text = text;
  file.isDirty = true;
  if (file.kind !== "order" || file === desk.order) { desk.tell("text", { kind: file.kind, isOwn }); }
  store(file);
}

/** Saves until what is on disk is what is on the page. One save at a time for each file. */
export async function store(file) {
  if (file.isSaving || file.isHeld) { return; }
  file.isSaving = true;
  desk.tell("saving");
  try { await keep(file); } catch (trouble) { refuse(file, trouble); }
  file.isSaving = false;
  desk.tell("saving");
}

async function keep(file) {
  while (file.isDirty) {
    file.isDirty = false;
    file.digest = (await save(file.name, file.digest, file.text)).digest;
    file.trouble = null;
  }
}

function refuse(file, trouble) {
  file.isDirty = true;
  file.trouble = trouble.message;
  if (trouble.status !== 409) { return; }
  file.isHeld = true;
  desk.tell("conflict", { file, theirs: trouble.answer });
}

/** Her text wins: it replaces what is on disk now. */
export function keepMine(file, theirs) {
  Object.assign(file, { digest: theirs.digest, isHeld: false, isDirty: true });
  return store(file);
}

/** The text on disk wins. */
export function takeTheirs(file, theirs) {
  Object.assign(file, { text: theirs.text, digest: theirs.digest, problems: theirs.problems ?? [], isHeld: false, isDirty: false, trouble: null });
  forget((turn) => turn.file === file);
  desk.tell("text", { kind: file.kind });
  desk.tell("saving");
}

/** Waits until all is saved; false where something could not be. */
export async function allSaved() {
  for (const file of desk.all().filter((each) => each.isDirty)) { store(file); }
  while (desk.all().some((file) => file.isSaving)) { await new Promise((done) => setTimeout(done, 40)); }
  return !desk.all().some((file) => file.isDirty || file.isHeld);
}

let acts = 0;

/** Does what changes files on disk, and takes them over: nobody has to be told of it. */
export async function own(act) {
  acts += 1;
  try {
    const answer = await act();
    // A phone has no files, and what is missed here is seen at the next look.
    await refresh().catch(() => {});
    return answer;
  } finally { acts -= 1; }
}

/** Whether what is on disk must not replace it now: something of hers is on its way. */
function isOurs(file) { return file.isDirty || file.isSaving || file.isHeld || file.asked > 0; }

/** Looks whether somebody else wrote a file, and takes over what changed. */
export async function look() {
  if (acts > 0) { return; }
  const digests = await get("digests");
  const isStill = (file) => isOurs(file) || (digests[file.name] ?? null) === file.digest;
  const isNew = Object.keys(digests).some((name) => name.endsWith(".csv") && !desk.all().some((file) => file.name === name));
  if (isNew || !desk.all().every(isStill)) { await refresh(); }
}

/** Takes the folder as it is on disk, but for what is not saved yet. */
async function refresh() {
  const found = await get("files");
  desk.reports = found.reports; desk.oddNames = found.odd_names ?? [];
  tellOddNames();
  for (const kind of Object.keys(standing)) { adopt(desk.files[kind], found.files[kind]); }
  for (const order of found.orders) {
    const known = desk.orders.find((each) => each.name === order.name);
    if (known) { adopt(known, order); } else { desk.orders.push(fresh("order", order.name, order)); }
  }
  drop(found.orders);
  desk.tell("orders");
}

const oddTold = new Set();

/** Tells once of tables in the folder whose names no order here can have. */
export function tellOddNames() {
  const names = desk.oddNames.filter((name) => !oddTold.has(name));
  names.forEach((name) => oddTold.add(name));
  if (names.length) { desk.tell("news", { told: words.oddNames(names) }); }
}

function adopt(file, found) {
  if (isOurs(file) || (found?.digest ?? null) === file.digest) { return; }
  Object.assign(file, { text: found?.text ?? null, digest: found?.digest ?? null, problems: found?.problems ?? [] });
  forget((turn) => turn.file === file);
  if (file.kind !== "order" || file === desk.order) { desk.tell("text", { kind: file.kind }); }
  if (acts === 0) { desk.tell("news", { told: file.problems.length ? words.unreadable(file.name) : found ? words.tookDisk(file.name) : words.fileGone(file.name) }); }
}

function drop(orders) {
  const isGone = (file) => !isOurs(file) && !orders.some((order) => order.name === file.name);
  const gone = desk.orders.filter(isGone);
  desk.orders = desk.orders.filter((file) => !gone.includes(file)).sort((one, other) => one.name.localeCompare(other.name));
  if (gone.includes(desk.order)) { desk.tell("news", { told: words.fileGone(desk.order.name) }); choose(null); }
}

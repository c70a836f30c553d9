// Where her workshop is: in this browser alone, or in a folder on disk with the browser's copy beside it.

import { canOpen, DiskFolder } from "./folder.js";
import { openMemory } from "./memory.js";
import { packed, unpacked } from "./zip.js";

/** Tells `change` whenever something of it is another. */
export class Workshop extends EventTarget {
  /** As it was left last. */
  static async open() {
    const workshop = new Workshop();
    workshop.memory = await openMemory();
    const [folder, saved, changed, isBegun] = await Promise.all(["folder", "saved", "changed", "begun"].map((fact) => workshop.memory.fact(fact)));
    Object.assign(workshop, { saved: saved ?? null, changed: changed ?? null, isBegun: Boolean(isBegun), folder: null, closed: folder ? new DiskFolder(folder) : null });
    if (workshop.closed && await workshop.closed.isOpen(false)) { await workshop.follow(workshop.closed); }
    navigator.storage?.persist?.();
    return workshop;
  }

  get canOpenFolder() { return canOpen(); }
  tell() { this.dispatchEvent(new Event("change")); }

  /** Does something with all files, then keeps what it changed; one after the other, also where the page is open twice. */
  async work(act) {
    return alone(async () => {
      const { changes, result } = await act(await this.files());
      if (changes.length) { await this.keep(changes); }
      return result;
    });
  }

  /** All files, read between two writings of this page and never in the middle of one. */
  async seen() { return alone(() => this.files()); }

  async files() { return this.folder ? this.folder.files() : this.memory.files(); }

  async keep(changes) {
    const changed = Date.now();
    // The browser has it first: what a closed page left half written on disk is finished when the folder is opened again.
    await this.memory.change(changes, { changed, begun: true, ...(this.folder ? { unfinished: changes } : {}) });
    Object.assign(this, { changed, isBegun: true });
    if (this.folder) {
      try { await this.folder.change(changes); } finally { await this.memory.change([], { unfinished: null }); }
    }
    this.tell();
  }

  /** Takes other files as the whole workshop. */
  async take(files, known = {}) {
    const facts = { changed: Date.now(), begun: true, folder: null, unfinished: null, saved: null, ...known };
    const changes = Object.entries(files).map(([path, bytes]) => ({ path, bytes }));
    await alone(() => this.memory.change(changes, facts, true));
    Object.assign(this, { changed: facts.changed, saved: facts.saved, isBegun: true, folder: null, closed: null });
    this.tell();
  }

  /** Opens a folder that she chooses. @returns {Promise<boolean>} whether she chose one */
  async chooseFolder() {
    let handle;
    try { handle = await globalThis.showDirectoryPicker({ mode: "readwrite" }); } catch (trouble) {
      if (trouble.name === "AbortError") { return false; }
      throw trouble;
    }
    await this.follow(new DiskFolder(handle), true);
    return true;
  }

  /** Opens the folder that was open last, once she says that the page may. */
  async openAgain() {
    if (!(await this.closed.isOpen(true))) { return false; }
    await this.follow(this.closed);
    return true;
  }

  async follow(folder, isNew = false) {
    const unfinished = isNew ? null : await this.memory.fact("unfinished"), files = await folder.files();
    if (unfinished) { for (const { path, bytes } of unfinished) { await folder.put(path, bytes); } }
    const now = unfinished ? await folder.files() : files;
    await this.memory.change(Object.entries(now).map(([path, bytes]) => ({ path, bytes })), { folder: folder.handle, begun: true, unfinished: null }, true);
    Object.assign(this, { folder, closed: null, isBegun: true });
    this.tell();
  }

  /** Goes on in the browser alone; the folder stays as it is. */
  async leaveFolder() {
    await this.memory.change([], { folder: null, saved: null });
    Object.assign(this, { folder: null, closed: null, saved: null });
    this.tell();
  }

  /** All of it as one file. */
  async asFile() { return packed(keepable(await this.files())); }

  async noteSaved() {
    this.saved = Date.now();
    await this.memory.change([], { saved: this.saved });
    this.tell();
  }

  /** @throws {NoZip} it is no workshop */
  async takeFile(file) { await this.take(await unpacked(new Uint8Array(await file.arrayBuffer())), { saved: Date.now() }); }
}

function keepable(files) { return Object.fromEntries(Object.entries(files).filter(([path]) => !path.endsWith(".cardwright.lock"))); }

async function alone(act) { return navigator.locks ? navigator.locks.request("cardwright-workshop", act) : act(); }


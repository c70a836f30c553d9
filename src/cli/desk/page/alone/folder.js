// A folder on the disk of this machine, where the browser lets a page read and write one.

const deepest = 3, largest = 16 << 20, most = 3000;

/** Somebody else wrote a file between reading and writing. */
export class Meanwhile extends Error {
  constructor(path) { super(path); this.path = path; }
}

export const canOpen = () => typeof globalThis.showDirectoryPicker === "function";

export class DiskFolder {
  /** @param {FileSystemDirectoryHandle} handle */
  constructor(handle) { this.handle = handle; this.known = new Map(); }

  get name() { return this.handle.name; }

  /** Whether the page may use it; `asks` where she may be asked. */
  async isOpen(asks) {
    const how = { mode: "readwrite" };
    const state = await this.handle.queryPermission?.(how) ?? "granted";
    return state === "granted" || (asks && state === "prompt" && (await this.handle.requestPermission(how)) === "granted");
  }

  /** All files as they are now. @returns {Promise<Object<string, Uint8Array>>} */
  async files() {
    const seen = new Map();
    await this.look(this.handle, "", 1, seen);
    this.known = seen;
    return Object.fromEntries([...seen].map(([path, { bytes }]) => [path, bytes]));
  }

  async look(folder, above, depth, seen) {
    for await (const [name, entry] of folder.entries()) {
      const path = above + name;
      if (entry.kind === "directory") { if (depth < deepest && !name.startsWith(".")) { await this.look(entry, `${path}/`, depth + 1, seen); } continue; }
      const file = await entry.getFile(), before = this.known.get(path);
      if (file.size > largest || seen.size >= most) { continue; }
      const isSame = before && before.time === file.lastModified && before.bytes.length === file.size;
      seen.set(path, isSame ? before : { time: file.lastModified, bytes: new Uint8Array(await file.arrayBuffer()) });
    }
  }

  /** Writes what changed, if nobody else did meanwhile. @throws {Meanwhile} */
  async change(changes) {
    for (const { path } of changes) { await this.check(path); }
    for (const { path, bytes } of changes) { await this.put(path, bytes); }
  }

  async check(path) {
    const now = await (await this.entry(path))?.getFile(), known = this.known.get(path);
    if (now ? !known || known.time !== now.lastModified || known.bytes.length !== now.size : known) { throw new Meanwhile(path); }
  }

  async put(path, bytes) {
    const { folder, name } = await this.above(path, bytes !== null);
    if (!folder) { return; }
    if (bytes === null) {
      await folder.removeEntry(name).catch(unlessMissing);
      this.known.delete(path);
      return;
    }
    const entry = await folder.getFileHandle(name, { create: true }), out = await entry.createWritable();
    await out.write(bytes);
    await out.close();
    this.known.set(path, { time: (await entry.getFile()).lastModified, bytes });
  }

  async entry(path) {
    const { folder, name } = await this.above(path, false);
    return folder?.getFileHandle(name).catch(unlessMissing);
  }

  async above(path, create) {
    const parts = path.split("/"), name = parts.pop();
    let folder = this.handle;
    for (const part of parts) { folder = await folder?.getDirectoryHandle(part, { create }).catch(unlessMissing); }
    return { folder, name };
  }
}

function unlessMissing(trouble) {
  if (trouble.name !== "NotFoundError") { throw trouble; }
  return undefined;
}

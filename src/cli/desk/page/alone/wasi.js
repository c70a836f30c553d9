// The system that the program sees: standard streams, a clock, random numbers, and a folder in memory.
// WebAssembly System Interface, preview 1: names, numbers and layouts are those of its published `witx` files.

const errno = { ok: 0, badf: 8, exist: 20, inval: 28, isdir: 31, noent: 44, nosys: 52, notdir: 54, notempty: 55 };
const kinds = { folder: 3, file: 4, stream: 2 };
const open = { create: 1, folder: 2, exclusive: 4, truncate: 8 };
const appends = 1, everyRight = 0xffffffffffffffffn, top = 3;

/** Ends a run; it is no fault. */
class Exit extends Error {
  constructor(code) { super(`exit ${code}`); this.code = code; }
}

class Refused extends Error {
  constructor(number) { super(`errno ${number}`); this.number = number; }
}

function refuse(name) { throw new Refused(errno[name]); }

/** Files and folders by their whole paths, without the first `/`. */
export class Memory {
  /** @param {Object<string, Uint8Array>} files */
  constructor(files) {
    this.nodes = new Map([["", folder()]]);
    for (const [path, bytes] of Object.entries(files)) {
      for (let at = path.indexOf("/"); at >= 0; at = path.indexOf("/", at + 1)) {
        if (!this.nodes.has(path.slice(0, at))) { this.nodes.set(path.slice(0, at), folder()); }
      }
      this.nodes.set(path, file(bytes));
    }
  }

  find(path) { return this.nodes.get(path) ?? refuse("noent"); }

  inside(path) {
    const start = path ? `${path}/` : "";
    return [...this.nodes.keys()].filter((each) => each !== "" && each.startsWith(start) && !each.slice(start.length).includes("/"));
  }

  parent(path) {
    const above = this.find(path.slice(0, Math.max(0, path.lastIndexOf("/"))));
    if (above.kind !== kinds.folder) { refuse("notdir"); }
  }

  make(path, node) {
    this.parent(path);
    this.nodes.set(path, node);
    return node;
  }

  remove(path, kind) {
    const node = this.find(path);
    if (node.kind !== kind) { refuse(kind === kinds.folder ? "notdir" : "isdir"); }
    if (kind === kinds.folder && this.inside(path).length) { refuse("notempty"); }
    this.nodes.delete(path);
  }

  rename(from, to) {
    const node = this.find(from), there = this.nodes.get(to);
    if (from === to) { return; }
    if (to.startsWith(`${from}/`)) { refuse("inval"); }
    this.parent(to);
    if (there) { this.remove(to, node.kind); }
    const moved = [...this.nodes].filter(([path]) => path === from || path.startsWith(`${from}/`));
    moved.forEach(([path]) => this.nodes.delete(path));
    moved.forEach(([path, each]) => this.nodes.set(to + path.slice(from.length), each));
  }

  /** All files. @returns {Object<string, Uint8Array>} */
  files() { return Object.fromEntries([...this.nodes].filter(([, node]) => node.kind === kinds.file).map(([path, node]) => [path, node.bytes.subarray(0, node.size)])); }
}

let last = 0;
function folder() { return { kind: kinds.folder, id: last += 1 }; }
function file(bytes) { return { kind: kinds.file, id: last += 1, bytes, size: bytes.length, isOwn: false }; }

/** Room for `size` bytes; what came from outside is copied before it is changed. */
function grow(node, size) {
  if (node.isOwn && node.bytes.length >= size) { return; }
  const bytes = new Uint8Array(Math.max(size, node.isOwn ? 2 * node.bytes.length : size));
  bytes.set(node.bytes.subarray(0, Math.min(node.size, bytes.length)));
  Object.assign(node, { bytes, isOwn: true });
}

/** One run of the program. */
export class Run {
  /** @param {{memory: Memory, words: string[], input: Uint8Array, out: function(Uint8Array), err: function(Uint8Array)}} how */
  constructor({ memory, words, input, out, err }) {
    Object.assign(this, { memory, input: file(input) });
    this.words = words.map((word) => new TextEncoder().encode(`${word}\0`));
    this.doors = new Map([[0, { node: this.input, at: 0 }], [1, { say: out }], [2, { say: err }], [top, { node: memory.find(""), path: "" }]]);
  }

  /** @returns {Promise<number>} the exit code */
  async go(module) {
    const offered = Object.fromEntries(Object.entries(calls).map(([name, call]) => [name, (...given) => this.answer(call, given)]));
    const missing = new Proxy(offered, { get: (all, name) => all[name] ?? (() => errno.nosys) });
    const names = WebAssembly.Module.imports(module).map(({ name }) => name);
    const system = Object.fromEntries(names.map((name) => [name, missing[name]]));
    const { exports } = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: system });
    this.room = exports.memory;
    try { exports._start(); } catch (end) { if (end instanceof Exit) { return end.code; } throw end; }
    return 0;
  }

  answer(call, given) {
    try { return call(this, ...given) ?? errno.ok; } catch (trouble) {
      if (trouble instanceof Refused) { return trouble.number; }
      throw trouble;
    }
  }

  get view() { return new DataView(this.room.buffer); }
  get bytes() { return new Uint8Array(this.room.buffer); }
  door(number) { return this.doors.get(number) ?? refuse("badf"); }
  number(at, value) { this.view.setUint32(at, value, true); }
  large(at, value) { this.view.setBigUint64(at, BigInt(value), true); }
  copy(at, length) { return this.bytes.slice(at, at + length); }

  /** The whole path of one that is told from a folder. */
  path(number, at, length) {
    const parts = this.door(number).path?.split("/").filter(Boolean) ?? refuse("notdir");
    for (const part of new TextDecoder().decode(this.copy(at, length)).split("/")) {
      if (part === "..") { if (!parts.length) { refuse("inval"); } parts.pop(); } else if (part && part !== ".") { parts.push(part); }
    }
    return parts.join("/");
  }

  /** Each part of memory that a list names. */
  parts(list, count) {
    const { view } = this;
    return Array.from({ length: count }, (_, at) => ({ at: view.getUint32(list + 8 * at, true), length: view.getUint32(list + 8 * at + 4, true) }));
  }

  list(words, list, room) {
    let at = room;
    words.forEach((word, index) => { this.number(list + 4 * index, at); this.bytes.set(word, at); at += word.length; });
  }

  sizes(words, count, size) { this.number(count, words.length); this.number(size, words.reduce((sum, word) => sum + word.length, 0)); }

  read(door, list, count, place) {
    const { node } = door;
    if (!node) { refuse("badf"); }
    if (node.kind === kinds.folder) { refuse("isdir"); }
    let at = place;
    for (const part of this.parts(list, count)) {
      const piece = node.bytes.subarray(at, Math.min(at + part.length, node.size));
      this.bytes.set(piece, part.at);
      at += piece.length;
    }
    return at - place;
  }

  write(door, list, count, place) {
    const parts = this.parts(list, count), length = parts.reduce((sum, part) => sum + part.length, 0);
    if (door.say) { parts.forEach((part) => door.say(this.copy(part.at, part.length))); return length; }
    const { node } = door;
    if (node?.kind !== kinds.file) { refuse("badf"); }
    grow(node, Math.max(node.size, place + length));
    let at = place;
    for (const part of parts) { node.bytes.set(this.bytes.subarray(part.at, part.at + part.length), at); at += part.length; }
    node.size = Math.max(node.size, at);
    return length;
  }

  tell(node, at) {
    [0, node?.id ?? 0, node?.kind ?? kinds.stream, 1, node?.size ?? 0, 0, 0, 0].forEach((value, index) => this.large(at + 8 * index, value));
  }
}

/** The calls of the interface that a program like this one makes. */
const calls = {
  args_sizes_get: (run, count, size) => run.sizes(run.words, count, size),
  args_get: (run, list, room) => run.list(run.words, list, room),
  environ_sizes_get: (run, count, size) => run.sizes([], count, size),
  environ_get: () => {},
  clock_res_get: (run, clock, at) => run.large(at, 1000),
  clock_time_get: (run, clock, precision, at) => run.large(at, Math.round((clock === 0 ? Date.now() : performance.now()) * 1e6)),
  random_get: (run, at, length) => {
    for (let from = at; from < at + length; from += 65536) { run.bytes.set(crypto.getRandomValues(new Uint8Array(Math.min(65536, at + length - from))), from); }
  },
  sched_yield: () => {},
  proc_exit: (run, code) => { throw new Exit(code); },
  poll_oneoff: (run, wanted, happened, count, at) => {
    const wait = run.view.getBigUint64(wanted + 24, true), until = performance.now() + Number(wait) / 1e6;
    while (performance.now() < until) { /* nothing else is to be done in a worker */ }
    run.bytes.fill(0, happened, happened + 32);
    run.large(happened, run.view.getBigUint64(wanted, true));
    run.number(at, 1);
  },
  fd_prestat_get: (run, number, at) => { if (number !== top) { refuse("badf"); } run.number(at, 0); run.number(at + 4, 1); },
  fd_prestat_dir_name: (run, number, at) => { run.bytes.set(new TextEncoder().encode("/"), at); },
  fd_fdstat_get: (run, number, at) => {
    const door = run.door(number);
    run.bytes.fill(0, at, at + 24);
    run.view.setUint8(at, door.node && number !== 0 ? door.node.kind : kinds.stream);
    run.view.setUint16(at + 2, door.appends ? appends : 0, true);
    run.large(at + 8, everyRight);
    run.large(at + 16, everyRight);
  },
  fd_fdstat_set_flags: (run, number, flags) => { run.door(number).appends = Boolean(flags & appends); },
  fd_filestat_get: (run, number, at) => run.tell(run.door(number).node, at),
  fd_filestat_set_size: (run, number, size) => {
    const { node } = run.door(number), length = Number(size);
    grow(node, length);
    if (length > node.size) { node.bytes.fill(0, node.size, length); }
    node.size = length;
  },
  fd_filestat_set_times: () => {},
  path_filestat_set_times: () => {},
  fd_sync: () => {},
  fd_datasync: () => {},
  fd_advise: () => {},
  fd_close: (run, number) => { run.door(number); run.doors.delete(number); },
  fd_renumber: (run, from, to) => { run.doors.set(to, run.door(from)); run.doors.delete(from); },
  fd_tell: (run, number, at) => run.large(at, run.door(number).at),
  fd_seek: (run, number, by, from, at) => {
    const door = run.door(number);
    if (door.say || door.at === undefined) { refuse("inval"); }
    const next = [0, door.at, door.node.size][from] + Number(by);
    if (next < 0) { refuse("inval"); }
    door.at = next;
    run.large(at, next);
  },
  fd_read: (run, number, list, count, at) => {
    const door = run.door(number), length = run.read(door, list, count, door.at);
    door.at += length;
    run.number(at, length);
  },
  fd_pread: (run, number, list, count, place, at) => run.number(at, run.read(run.door(number), list, count, Number(place))),
  fd_write: (run, number, list, count, at) => {
    const door = run.door(number), place = door.appends ? door.node.size : door.at, length = run.write(door, list, count, place);
    if (!door.say) { door.at = place + length; }
    run.number(at, length);
  },
  fd_pwrite: (run, number, list, count, place, at) => run.number(at, run.write(run.door(number), list, count, Number(place))),
  fd_readdir: (run, number, room, length, cookie, at) => {
    const { path } = run.door(number), names = run.memory.inside(path ?? refuse("notdir"));
    let filled = 0;
    for (let index = Number(cookie); index < names.length && filled < length; index += 1) {
      const node = run.memory.find(names[index]), name = new TextEncoder().encode(names[index].slice(names[index].lastIndexOf("/") + 1));
      const entry = new Uint8Array(24 + name.length), view = new DataView(entry.buffer);
      view.setBigUint64(0, BigInt(index + 1), true);
      view.setBigUint64(8, BigInt(node.id), true);
      view.setUint32(16, name.length, true);
      view.setUint8(20, node.kind);
      entry.set(name, 24);
      const piece = entry.subarray(0, length - filled);
      run.bytes.set(piece, room + filled);
      filled += piece.length;
    }
    run.number(at, filled);
  },
  path_create_directory: (run, number, at, length) => {
    const path = run.path(number, at, length);
    if (run.memory.nodes.has(path)) { refuse("exist"); }
    run.memory.make(path, folder());
  },
  path_filestat_get: (run, number, flags, at, length, to) => run.tell(run.memory.find(run.path(number, at, length)), to),
  path_open: (run, number, follow, at, length, how, base, inheriting, flags, to) => {
    const path = run.path(number, at, length), { memory } = run;
    let node = memory.nodes.get(path);
    if (node && how & open.create && how & open.exclusive) { refuse("exist"); }
    if (!node) { node = how & open.create ? memory.make(path, file(new Uint8Array())) : refuse("noent"); }
    if (how & open.folder && node.kind !== kinds.folder) { refuse("notdir"); }
    if (how & open.truncate && node.kind === kinds.file) { Object.assign(node, { bytes: new Uint8Array(), size: 0, isOwn: true }); }
    let door = top + 1;
    while (run.doors.has(door)) { door += 1; }
    run.doors.set(door, node.kind === kinds.folder ? { node, path } : { node, at: 0, appends: Boolean(flags & appends) });
    run.number(to, door);
  },
  // There are no links here, so nothing that is one.
  path_readlink: () => refuse("inval"),
  path_link: (run, number, follow, at, length, other, to, long) => {
    const node = run.memory.find(run.path(number, at, length)), path = run.path(other, to, long);
    if (run.memory.nodes.has(path)) { refuse("exist"); }
    run.memory.make(path, node);
  },
  path_remove_directory: (run, number, at, length) => run.memory.remove(run.path(number, at, length), kinds.folder),
  path_unlink_file: (run, number, at, length) => run.memory.remove(run.path(number, at, length), kinds.file),
  path_rename: (run, number, at, length, other, to, long) => run.memory.rename(run.path(number, at, length), run.path(other, to, long)),
};

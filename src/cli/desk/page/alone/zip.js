// A workshop as one file: a plain ZIP of its files (PKWARE APPNOTE 6.3, and RFC 1951 for what is deflated in it).

const marks = { file: 0x04034b50, entry: 0x02014b50, end: 0x06054b50 };
const stored = 0, deflated = 8, utf8 = 0x0800, version = 20;
const most = { files: 5000, bytes: 64 << 20 };

/** Why a file is no workshop; `why` is a key of the words for it. */
export class NoZip extends Error {
  constructor(why) { super(why); this.why = why; }
}

/** @param {Object<string, Uint8Array>} files @returns {Promise<Blob>} */
export async function packed(files) {
  const parts = [], entries = [];
  let at = 0;
  for (const [path, bytes] of Object.entries(files).sort(([one], [other]) => (one < other ? -1 : 1))) {
    const name = new TextEncoder().encode(path), body = await through(bytes, new CompressionStream("deflate-raw"));
    const facts = [version, utf8, deflated, ...dos(new Date()), crc(bytes), body.length, bytes.length, name.length, 0];
    const head = fields([[4, marks.file], ...facts.map((value, index) => [sizes[index], value])]);
    entries.push(fields([[4, marks.entry], [2, version], ...facts.map((value, index) => [sizes[index], value]), [2, 0], [2, 0], [2, 0], [4, 0], [4, at]]), name);
    parts.push(head, name, body);
    at += head.length + name.length + body.length;
  }
  const length = entries.reduce((sum, part) => sum + part.length, 0), count = entries.length / 2;
  return new Blob([...parts, ...entries, fields([[4, marks.end], [2, 0], [2, 0], [2, count], [2, count], [4, length], [4, at], [2, 0]])], { type: "application/zip" });
}

// What is told of a file: version, flags, method, time, day, sum, length packed and whole, lengths of name and extra.
const sizes = [2, 2, 2, 2, 2, 4, 4, 4, 2, 2];

/** Numbers one after the other, each with its length in bytes. */
function fields(list) {
  const view = new DataView(new ArrayBuffer(list.reduce((sum, [size]) => sum + size, 0)));
  let at = 0;
  for (const [size, value] of list) {
    if (size === 2) { view.setUint16(at, value, true); } else { view.setUint32(at, value, true); }
    at += size;
  }
  return new Uint8Array(view.buffer);
}

function dos(date) {
  const day = (Math.max(0, date.getFullYear() - 1980) << 9) | ((date.getMonth() + 1) << 5) | date.getDate();
  return [(date.getHours() << 11) | (date.getMinutes() << 5) | (date.getSeconds() >> 1), day];
}

/** @param {Uint8Array} bytes @returns {Promise<Object<string, Uint8Array>>} @throws {NoZip} */
export async function unpacked(bytes) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength), files = {};
  let room = most.bytes;
  for (const entry of entriesOf(view, bytes)) {
    const path = plain(entry.path);
    if (!path) { continue; }
    const body = await bodyOf(view, bytes, entry, room);
    room -= body.length;
    if (crc(body) !== entry.sum) { throw new NoZip("broken"); }
    files[path] = body;
  }
  return inOneFolder(files);
}

function* entriesOf(view, bytes) {
  let end = view.byteLength - 22;
  const last = Math.max(0, end - 0xffff);
  while (end >= last && view.getUint32(end, true) !== marks.end) { end -= 1; }
  if (end < last || end < 0) { throw new NoZip("other"); }
  const count = view.getUint16(end + 10, true);
  if (count > most.files) { throw new NoZip("large"); }
  let at = view.getUint32(end + 16, true);
  for (let index = 0; index < count; index += 1) {
    if (at + 46 > view.byteLength || view.getUint32(at, true) !== marks.entry) { throw new NoZip("broken"); }
    const [name, extra, note] = [28, 30, 32].map((place) => view.getUint16(at + place, true));
    const [sum, packedSize, size] = [16, 20, 24].map((place) => view.getUint32(at + place, true));
    yield { path: new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + name)), method: view.getUint16(at + 10, true), sum, packedSize, size, place: view.getUint32(at + 42, true), isLocked: view.getUint16(at + 8, true) & 1 };
    at += 46 + name + extra + note;
  }
}

async function bodyOf(view, bytes, { method, packedSize, size, place, isLocked }, room) {
  if (isLocked || ![stored, deflated].includes(method) || place + 30 > view.byteLength || view.getUint32(place, true) !== marks.file) { throw new NoZip("broken"); }
  if (size > room) { throw new NoZip("large"); }
  const start = place + 30 + view.getUint16(place + 26, true) + view.getUint16(place + 28, true), body = bytes.subarray(start, start + packedSize);
  const whole = method === stored ? body.slice() : await through(body, new DecompressionStream("deflate-raw"), size).catch(() => { throw new NoZip("broken"); });
  if (whole.length !== size) { throw new NoZip("broken"); }
  return whole;
}

/** What comes out of a stream; no more than `limit`, whatever the head of the file says. */
async function through(bytes, stream, limit = Infinity) {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader(), pieces = [];
  let length = 0;
  for (;;) {
    const { value, done } = await reader.read();
    if (done) { break; }
    length += value.length;
    if (length > limit) { await reader.cancel(); throw new NoZip("broken"); }
    pieces.push(value);
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) { whole.set(piece, at); at += piece.length; }
  return whole;
}

/** The path as one below the workshop; none for a folder, or where it leads out. */
function plain(path) {
  const parts = path.replaceAll("\\", "/").split("/");
  const isOdd = (part) => part === "" || part === "." || part === ".." || /[\0:*?"<>|]/.test(part);
  return parts.some(isOdd) || parts.length > 4 || parts[0] === "__MACOSX" ? null : parts.join("/");
}

/** A folder that was packed with its name is unpacked without it. */
function inOneFolder(files) {
  const tops = new Set(Object.keys(files).map((path) => path.split("/")[0])), [top] = tops;
  const isOuter = tops.size === 1 && !(top in files) && !["orders", "reports"].includes(top);
  return isOuter ? Object.fromEntries(Object.entries(files).map(([path, bytes]) => [path.slice(top.length + 1), bytes])) : files;
}

const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let sum = byte;
  for (let bit = 0; bit < 8; bit += 1) { sum = sum & 1 ? 0xedb88320 ^ (sum >>> 1) : sum >>> 1; }
  return sum;
});

/** CRC-32 (ISO/IEC/IEEE 8802-3). */
export function crc(bytes) {
  let sum = 0xffffffff;
  for (const byte of bytes) { sum = table[(sum ^ byte) & 255] ^ (sum >>> 8); }
  return ~sum >>> 0;
}

// Runs the program: one request at a time, in a folder in memory, and gives back what it left there.

import { Memory, Run } from "./wasi.js";

const home = "workshop/";
let program = null;

onmessage = async ({ data }) => {
  if (data.program) { program = data.program; return; }
  const files = Object.fromEntries(Object.entries(data.files).map(([path, bytes]) => [home + path, bytes]));
  const memory = new Memory(files), said = [];
  try {
    const code = await new Run({
      memory, words: ["cardwright-page"], input: new TextEncoder().encode(JSON.stringify(data.request)),
      out: teller(), err: (chunk) => said.push(new TextDecoder().decode(chunk)),
    }).go(program);
    postMessage({ end: { code, changes: changes(files, memory.files()), said: said.join("") } });
  } catch (fault) {
    postMessage({ end: { code: null, changes: [], said: `${said.join("")}${fault.message}` } });
  }
};

// The first line says what the answer is; it comes in one piece.
function teller() {
  let isBegun = false;
  return (chunk) => {
    if (isBegun) { postMessage({ chunk }, [chunk.buffer]); return; }
    isBegun = true;
    postMessage({ head: JSON.parse(new TextDecoder().decode(chunk)) });
  };
}

/** What a run left in the folder that was not there before; `bytes` is null where it took a file away. */
function changes(before, after) {
  const inHome = Object.entries(after).filter(([path]) => path.startsWith(home));
  const written = inHome.filter(([path, bytes]) => !isSame(before[path], bytes)).map(([path, bytes]) => ({ path: path.slice(home.length), bytes: bytes.slice() }));
  const gone = Object.keys(before).filter((path) => !(path in after)).map((path) => ({ path: path.slice(home.length), bytes: null }));
  return [...gone, ...written];
}

function isSame(one, other) {
  return one !== undefined && one.length === other.length && (one.buffer === other.buffer || one.every((byte, at) => byte === other[at]));
}

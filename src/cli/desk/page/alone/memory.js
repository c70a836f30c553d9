// What the browser keeps for this page: the files of a workshop, and a few facts about them.

const name = "cardwright", files = "files", facts = "facts";

/** Opens the browser's own store. A change is kept whole or not at all, also where the page is closed in the middle of it. */
export async function openMemory() {
  const asked = indexedDB.open(name, 1);
  asked.onupgradeneeded = () => { asked.result.createObjectStore(files); asked.result.createObjectStore(facts); };
  return new BrowserMemory(await told(asked));
}

class BrowserMemory {
  constructor(store) { this.store = store; }

  /** @returns {Promise<Object<string, Uint8Array>>} */
  async files() {
    const shelf = this.store.transaction(files).objectStore(files);
    const [paths, bytes] = await Promise.all([told(shelf.getAllKeys()), told(shelf.getAll())]);
    return Object.fromEntries(paths.map((path, at) => [path, bytes[at]]));
  }

  /** @param {{path: string, bytes: Uint8Array|null}[]} changes  @param {Object} known  facts that go with them */
  async change(changes, known = {}, isAnew = false) {
    const work = this.store.transaction([files, facts], "readwrite", { durability: "strict" }), shelf = work.objectStore(files);
    if (isAnew) { shelf.clear(); }
    for (const { path, bytes } of changes) { if (bytes) { shelf.put(bytes, path); } else { shelf.delete(path); } }
    for (const [fact, value] of Object.entries(known)) { work.objectStore(facts).put(value, fact); }
    await new Promise((done, failed) => { work.oncomplete = done; work.onabort = () => failed(work.error); });
  }

  async fact(key) { return told(this.store.transaction(facts).objectStore(facts).get(key)); }
}

function told(request) {
  return new Promise((done, failed) => { request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error); });
}

// The program behind the page: workers that run it, one request each.

/** What ended without an answer. */
export class Fault extends Error {}

/** Runs of the program, side by side: a plan that takes long keeps nothing else waiting. */
export class Program {
  /** @param {WebAssembly.Module} module  @param {string} source  the script of a worker */
  constructor(module, source) {
    this.module = module;
    this.address = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    this.idle = [];
  }

  /** @returns {Promise<{head: {status: number, media: string}, body: ReadableStream, ended: Promise<Array>}>} */
  run(request, files, signal) {
    const worker = this.idle.pop() ?? this.hire(), body = new Body();
    const started = Promise.withResolvers(), ended = Promise.withResolvers();
    const fail = (trouble) => { worker.terminate(); started.reject(trouble); body.fail(trouble); ended.reject(trouble); };
    worker.onmessage = ({ data: { head, chunk, end } }) => {
      if (head) { started.resolve({ head, body: body.stream, ended: ended.promise }); }
      if (chunk) { body.add(chunk); }
      if (!end) { return; }
      if (end.code !== 0) { fail(new Fault(end.said)); return; }
      this.idle.push(worker);
      body.close();
      ended.resolve(end.changes);
    };
    worker.onerror = (event) => fail(new Fault(event.message));
    signal?.addEventListener("abort", () => fail(signal.reason), { once: true });
    ended.promise.catch(() => { /* whoever waits for the head is told as well */ });
    worker.postMessage({ request, files });
    return started.promise;
  }

  hire() {
    const worker = new Worker(this.address);
    worker.postMessage({ program: this.module });
    return worker;
  }
}

/** A body that comes in pieces. Nothing comes after its end. */
class Body {
  constructor() { this.stream = new ReadableStream({ start: (inner) => { this.inner = inner; }, cancel: () => { this.inner = null; } }); }
  add(chunk) { this.inner?.enqueue(chunk); }
  close() { this.inner?.close(); this.inner = null; }
  fail(trouble) { this.inner?.error(trouble); this.inner = null; }
}

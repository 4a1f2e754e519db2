/**
 * In place of worker threads: the same file and the same messages, copied as between threads, but in the thread of whoever
 * starts the worker, where all that the file imports is loaded already. For tests of what a batch makes, not of its threads.
 */
import { EventEmitter } from "node:events";
import { createRequire, syncBuiltinESMExports } from "node:module";
import { pathToFileURL } from "node:url";

const threads = createRequire(import.meta.url)("node:worker_threads");
let copies = 0;
let loading = Promise.resolve();

/** Tells of each task before the worker sees it. */
export const tasks = new EventEmitter();

class WorkerHere extends EventEmitter {
  constructor(file, options) {
    super();
    this.port = new EventEmitter();
    this.port.postMessage = (message) => {
      const copy = structuredClone(message);
      setImmediate(() => this.isEnded || this.emit("message", copy));
    };
    // A copy of the file takes its port and data as it is loaded, so one is loaded at a time.
    this.ready = loading.then(() => {
      threads.parentPort = this.port;
      threads.workerData = structuredClone(options.workerData);
      syncBuiltinESMExports();
      copies += 1;
      return import(`${pathToFileURL(file)}?${copies}`);
    });
    loading = this.ready.catch((error) => this.emit("error", error));
  }

  postMessage(message) {
    const copy = structuredClone(message);
    void this.ready.then(() => {
      if (this.isEnded) return;
      tasks.emit("task", copy);
      this.port.emit("message", copy);
    });
  }

  async terminate() {
    this.isEnded = true;
  }
}

threads.Worker = WorkerHere;
syncBuiltinESMExports();

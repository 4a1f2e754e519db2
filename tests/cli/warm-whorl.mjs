/**
 * The built command, loaded once and asked many times, in a thread of its own: what a test waits for is then the work, not the
 * start of a program.
 */
import { pathToFileURL } from "node:url";
import { workerData } from "node:worker_threads";
import "./worker-here.mjs";

const { command, port } = workerData;
const { main } = await import(pathToFileURL(command));

let said;
for (const [name, stream] of [
  ["out", process.stdout],
  ["err", process.stderr],
])
  stream.write = (chunk, encoding, done) => {
    said[name] += typeof chunk === "string" ? chunk : Buffer.from(chunk).toString();
    (typeof encoding === "function" ? encoding : done)?.();
    return true;
  };

port.on("message", async ({ args, signal }) => {
  said = { out: "", err: "" };
  let code = null;
  try {
    code = await main(["node", "whorl", ...args]);
  } catch (error) {
    said.err += String(error?.stack ?? error);
  }
  port.postMessage({ code, ...said });
  Atomics.store(signal, 0, 1);
  Atomics.notify(signal, 0);
});

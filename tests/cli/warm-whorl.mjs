/**
 * The built command, loaded once and asked many times, in a thread of its own: what a test waits for is then the work, not the
 * start of a program. Started as a process instead, it works in the folder that it is told.
 */
import { pathToFileURL } from "node:url";
import { workerData } from "node:worker_threads";
import "./worker-here.mjs";

const { command, port } = workerData ?? { command: process.argv[2] };
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

async function answer(args) {
  said = { out: "", err: "" };
  let code = null;
  try {
    code = await main(["node", "whorl", ...args]);
  } catch (error) {
    said.err += String(error?.stack ?? error);
  }
  return { code, ...said };
}

port?.on("message", async ({ args, signal }) => {
  port.postMessage(await answer(args));
  Atomics.store(signal, 0, 1);
  Atomics.notify(signal, 0);
});

if (!port)
  process.on("message", async ({ args, folder }) => {
    process.chdir(folder);
    process.send(await answer(args));
  });

#!/usr/bin/env node
import * as module from "node:module";
import { setFlagsFromString } from "node:v8";

// Newer Node keeps compiled code between runs.
module.enableCompileCache?.();
// Eight times the usual: each thread compiles for itself, and at the usual haste that takes as long as the letters. The flag
// is Node 20's; newer ones would complain of it.
if (process.versions.node.startsWith("20.")) setFlagsFromString("--interrupt-budget=540000");
// A reader such as `head` may close the pipe early; that is no fault.
process.stdout.on("error", (error) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
try {
  // The command with its libraries in a few files: opening hundreds of them takes as long as a letter.
  const { main } = await import("../dist/command/main.js");
  process.exitCode = await main(process.argv);
} catch (error) {
  if (error.code !== "EMFILE" && error.code !== "ENFILE") throw error;
  process.stderr.write("Whorl needs more file handles than this session allows (ulimit -n): at least 64.\n");
  process.exit(3);
}

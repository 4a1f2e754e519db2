#!/usr/bin/env node
import * as module from "node:module";

// Newer Node keeps compiled code between runs.
module.enableCompileCache?.();
const { main } = await import("../dist/cli/main.js");

// A reader such as `head` may close the pipe early; that is no fault.
process.stdout.on("error", (error) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
process.exitCode = await main(process.argv);

#!/usr/bin/env node
import { compileLater } from "../dist/cli/load-command.js";

compileLater();
// A reader such as `head` may close the pipe early; that is no fault.
process.stdout.on("error", (error) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
try {
  const { main } = await import("../dist/command/main.js");
  process.exitCode = await main(process.argv);
} catch (error) {
  if (error.code !== "EMFILE" && error.code !== "ENFILE") throw error;
  process.stderr.write("Whorl needs more file handles than this session allows (ulimit -n): at least 64.\n");
  process.exit(3);
}

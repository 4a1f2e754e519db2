/** Before tests that run the built command: builds it again when a source file is newer. */
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { inPackage, packageRoot } from "../src/base/root.js";

/** Compiled code, the private engine, knowledge and command; the desk's page changes seldom and has a build of its own. */
export default function build(): void {
  if (!isStale()) return;
  try {
    node(inPackage("node_modules", "typescript", "bin", "tsc"), "-p", "tsconfig.json");
  } catch {
    // Type errors are for the type check; the compiler writes its output all the same.
  }
  // The compiler has put a plain file in the place of the private engine's bundle.
  node(inPackage("src", "page", "bundle.mjs"));
  node(inPackage("dist", "knowledge", "compile.js"));
  node(inPackage("src", "visit", "prose", "index-phrases.mjs"));
  node(inPackage("src", "letter", "compile-templates.mjs"));
  execFileSync("npm", ["run", "-s", "build:command"], { cwd: packageRoot });
}

function node(...args: string[]): void {
  execFileSync(process.execPath, args, { cwd: packageRoot, stdio: "ignore" });
}

function isStale(): boolean {
  const built = inPackage("dist", "command", "worker.js");
  if (!existsSync(built)) return true;
  const { mtimeMs } = statSync(built);
  return readdirSync(inPackage("src"), { recursive: true, withFileTypes: true }).some(
    (entry) => entry.isFile() && statSync(join(entry.parentPath, entry.name)).mtimeMs > mtimeMs,
  );
}

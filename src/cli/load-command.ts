/**
 * Loads the built command. The build has bundled it and its large libraries into a few files, and kept beside each what V8
 * compiled of it while it ran: compiling takes longer than most commands. Another Node compiles for itself.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";
import type { MessagePort } from "node:worker_threads";
import { inPackage } from "../base/root.js";
import type { JobSettings } from "../batch/job.js";

interface Command {
  /** Runs the command line; returns the exit code. */
  readonly main: (argv: readonly string[]) => Promise<number>;
  /** Does tasks in a thread. */
  readonly work: (port: MessagePort | null, settings: JobSettings) => void;
}

/** Before the name of a bundle that another one asks for. */
export const BUNDLE = "whorl:";

const folder = inPackage("dist", "command");
const outside = createRequire(join(folder, "whorl.cjs"));
const loaded = new Map<string, { readonly script: Script; readonly module: { exports: unknown } }>();

/** Parts of Node that every bundle asks for at once and few commands use, each with a dozen parts of its own. */
const LATER: readonly string[] = ["node:crypto", "node:child_process"];

/** A part of Node that is loaded when something of it is used. */
const later = (id: string): unknown =>
  new Proxy(
    {},
    {
      get: (_, name) => Reflect.get(outside(id) as object, name),
      has: (_, name) => Reflect.has(outside(id) as object, name),
    },
  );

/** What a bundle asks for: another bundle, or a part of Node. */
const inside = Object.assign((id: string): unknown => {
  if (id.startsWith(BUNDLE)) return load(id.slice(BUNDLE.length));
  return LATER.includes(id) ? later(id) : outside(id);
}, outside);

export const bundleFile = (name: string): string => join(folder, `${name}.cjs`);
/** What a process is for: reading visits needs less than half of the code that making documents does. */
type Use = "reading" | "making";
export const compiledCodeFile = (name: string, use: Use): string => join(folder, `${name}.${use}.v8`);

/**
 * Has functions optimised only once they have run some twenty times as long as usual: each thread does so for itself, and at the usual
 * haste that takes as long as the letters. The flag is Node 20's; newer ones would complain of it. What was compiled under one
 * setting is of no use under another.
 */
export function compileLater(): void {
  if (process.versions.node.startsWith("20.")) setFlagsFromString("--interrupt-budget=1500000");
}

const MAKES: readonly string[] = ["letter", "check", "batch", "proof", "send", "desk"];

let use: Use = "making";

/** `argv` is the command line; a thread has none, and makes. */
export function loadCommand(argv: readonly string[] = ["", "", "batch"]): Command {
  use = MAKES.includes(argv[2] ?? "") && !argv.includes("--no-trial") ? "making" : "reading";
  return load("whorl") as Command;
}

/** The bundles loaded so far, each with what has been compiled of it. */
export function compiledCode(): Map<string, Buffer> {
  return new Map([...loaded].map(([name, { script }]) => [name, script.createCachedData()]));
}

/** True when nothing that is loaded had to be compiled: this Node took what the build had compiled. */
export function isReady(): boolean {
  return [...loaded.values()].every(({ script }) => script.cachedDataRejected === false);
}

function load(name: string): unknown {
  const known = loaded.get(name);
  if (known) return known.module.exports;
  const file = bundleFile(name);
  const code = readFileSync(file, "latin1");
  const cachedData = readIfThere(compiledCodeFile(name, use));
  const script = new Script(code, {
    filename: file,
    ...(cachedData ? { cachedData } : {}),
  });
  const module = { exports: {} as unknown };
  loaded.set(name, { script, module });
  script.runInThisContext()(module.exports, inside, module, file);
  return module.exports;
}

function readIfThere(file: string): Buffer | undefined {
  try {
    return readFileSync(file);
  } catch {
    return undefined;
  }
}

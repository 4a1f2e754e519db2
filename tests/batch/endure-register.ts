/** The clinic's register beside a run that is killed: what a kill at any moment must leave true, and what must stand at the end. */
import { existsSync, readFileSync, rmSync } from "node:fs";
import { basename, join } from "node:path";
import { sha256 } from "../../src/base/sha256.js";
import { isManifest, MANIFEST } from "../../src/batch/manifest.js";
import { beginRegister } from "../../src/register/append.js";
import { documentsIn } from "../../src/register/documents.js";
import { contentOf } from "../../src/register/kept.js";
import { registerFile, registerFolder } from "../../src/register/places.js";
import { readRegister } from "../../src/register/read.js";

/** An empty register that has begun. */
export function freshRegister(clinic: string): void {
  rmSync(registerFile(clinic), { force: true });
  rmSync(registerFolder(clinic), { recursive: true, force: true });
  beginRegister(clinic);
}

/** The chain holds, nothing stands in it twice, and neither manifest nor print run is there before the register knows its letters. */
export function registerFaults(clinic: string, out: string, printed: string | undefined): string[] {
  const { lines, problems } = readRegister(clinic);
  const faults = problems.flatMap(({ severity, message }) => (severity === "error" ? [message] : []));
  const documents = documentsIn(lines).map(({ made }) => made);
  const keys = documents.map(({ visit, document, addressee, sha256: hash }) =>
    JSON.stringify([visit, document, addressee, hash]),
  );
  if (new Set(keys).size < keys.length) faults.push("a document is registered twice");
  for (const { name, sha256: hash } of documents)
    if (!contentOf(clinic, hash)) faults.push(`${name} is registered and its content is not kept`);
  const file = join(out, MANIFEST);
  const manifest: unknown = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : undefined;
  const ready = isManifest(manifest) ? manifest.documents.filter(({ state }) => state === "ready") : [];
  const known = new Set(documents.map((one) => one.sha256));
  for (const one of ready)
    if (!known.has(one.sha256)) faults.push(`${one.file} is in the manifest and not registered`);
  if (printed && existsSync(printed) && ready.length === 0)
    faults.push("printed before anything was registered");
  return faults;
}

/** After the last, undisturbed run. */
export function endRegisterFaults(clinic: string, printed: string | undefined): string[] {
  const { lines } = readRegister(clinic);
  const documents = documentsIn(lines);
  if (documents.length === 0) return ["nothing was registered"];
  const prints = lines.filter((line) => line.kind === "printed");
  const hash = printed ? sha256(readFileSync(printed)) : "";
  const ours = prints.findLast((line) => line.sha256 === hash);
  if (printed && !ours) return [`${basename(printed)} is not registered as printed`];
  const held = new Set(ours?.documents);
  return documents.flatMap(({ made }) =>
    printed && !held.has(made.hash) ? [`${made.name} is not in the print run's line`] : [],
  );
}

/**
 * What the YAML of the shipped templates says, worked out by the build (`compile-templates.mjs`), so that a cold start need not
 * parse it. By hash of the text: one that was changed since is parsed as it stands.
 */
import { readFileSync } from "node:fs";
import { inPackage } from "../base/root.js";
import { sha256 } from "../base/sha256.js";

let compiled: Readonly<Record<string, unknown>> | undefined;

function read(): Readonly<Record<string, unknown>> {
  try {
    return JSON.parse(readFileSync(inPackage("dist", "templates.json"), "utf8"));
  } catch {
    return {};
  }
}

/** The value of a YAML text without faults; undefined when the build did not know it. */
export function compiledYaml(text: string): unknown {
  compiled ??= read();
  const key = sha256(text);
  return Object.hasOwn(compiled, key) ? compiled[key] : undefined;
}

/** The lines between --- at the top of a template, and all of them with their marks. */
export function headOf(template: string): { readonly whole: string; readonly yaml: string } | undefined {
  const [whole, yaml] = /^---\n([\s\S]*?\n)---\n/u.exec(template) ?? [];
  return whole && yaml ? { whole, yaml } : undefined;
}

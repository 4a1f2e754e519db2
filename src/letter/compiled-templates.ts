/** The shipped templates as the build compiled them (`compile-templates.mjs`), each by the hash of its text. */
import { createRequire } from "node:module";

type Compiled = Readonly<Record<string, () => TemplateSpecification>>;

const require = createRequire(import.meta.url);
let compiled: Compiled | undefined;

/** Undefined for a template that the build did not know, and where nothing was built. */
export function compiledTemplate(hash: string): TemplateSpecification | undefined {
  compiled ??= load();
  return Object.hasOwn(compiled, hash) ? compiled[hash]?.() : undefined;
}

function load(): Compiled {
  try {
    return require("./compiled-templates.cjs");
  } catch {
    return {};
  }
}

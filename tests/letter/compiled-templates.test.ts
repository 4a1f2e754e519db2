/** The build compiles every shipped template, so that a letter need not. */
import { createRequire } from "node:module";
import { join } from "node:path";
import { expect, it } from "vitest";
import { sha256 } from "../../src/base/sha256.js";
import { loadPack } from "../../src/letter/pack.js";
import { root } from "../house/source-files.js";

const built: Readonly<Record<string, () => unknown>> = createRequire(import.meta.url)(
  join(root, "dist", "letter", "compiled-templates.cjs"),
);

it.each(["en", "de", "es"])("every template in %s stands in what the build compiled", (language) => {
  const { pack } = loadPack(language);
  const sources = [pack?.documents, pack?.parts, pack?.sheets].flatMap((all) => Object.values(all ?? {}));
  expect(sources.length).toBeGreaterThan(5);
  for (const { name, body } of sources)
    expect(built[sha256(body)]?.(), name).toMatchObject({ useData: true });
});

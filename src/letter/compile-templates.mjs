// Build step: keeps what the YAML of the shipped templates says, each text by its hash, each pack of ours as it was read, and their
// templates compiled, as code that the bundle of the command takes in.
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import Handlebars from "handlebars";
import { toAsciiJson } from "../../dist/base/built.js";
import { sha256 } from "../../dist/base/sha256.js";
import { openYaml } from "../../dist/base/yaml-source.js";
import { compileOptions } from "../../dist/letter/fill-template.js";
import { builtPackFile, headOf, loadPack, templatesFolder, templatesLooks } from "../../dist/letter/pack.js";

const compiled = {};
for (const entry of readdirSync(templatesFolder, { recursive: true, withFileTypes: true })) {
  const isWords = entry.name === "words.yaml";
  if (!isWords && !entry.name.endsWith(".hbs")) continue;
  const text = readFileSync(join(entry.parentPath, entry.name), "utf8");
  const yaml = isWords ? text : headOf(text.replace(/\r\n/gu, "\n"))?.yaml;
  if (yaml === undefined) continue;
  const { source, problems } = openYaml(yaml, entry.name);
  // What is faulty is parsed where it is used, so that the fault is told with its place.
  if (source && problems.length === 0) compiled[sha256(yaml)] = source.value;
}
writeFileSync(new URL("../../dist/templates.json", import.meta.url), toAsciiJson(compiled));

const placed = (templates) =>
  Object.fromEntries(
    Object.entries(templates).map(([name, t]) => [name, { ...t, file: relative(templatesFolder, t.file) }]),
  );
const looks = templatesLooks();
const code = new Map();
for (const entry of readdirSync(templatesFolder, { withFileTypes: true })) {
  if (!entry.isDirectory()) continue;
  rmSync(builtPackFile(entry.name), { force: true });
  const { pack, problems } = loadPack(entry.name);
  if (!pack || problems.length > 0) continue;
  const { documents, parts, sheets } = pack;
  for (const { body } of [documents, parts, sheets].flatMap(Object.values))
    code.set(sha256(body), Handlebars.precompile(body, compileOptions()));
  const built = { ...pack, documents: placed(documents), parts: placed(parts), sheets: placed(sheets) };
  writeFileSync(builtPackFile(entry.name), toAsciiJson({ looks, pack: built }));
}
const entries = [...code].map(([hash, compiled]) => `  "${hash}": () => (${compiled}),\n`);
writeFileSync(
  new URL("../../dist/letter/compiled-templates.cjs", import.meta.url),
  `module.exports = {\n${entries.join("")}};\n`,
);

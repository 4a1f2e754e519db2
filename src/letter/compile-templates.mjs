// Build step: keeps what the YAML of the shipped templates says, each text by its hash.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../../dist/base/sha256.js";
import { openYaml } from "../../dist/base/yaml-source.js";
import { headOf, templatesFolder } from "../../dist/letter/pack.js";

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
writeFileSync(new URL("../../dist/templates.json", import.meta.url), JSON.stringify(compiled));

/** Build step: writes the checked knowledge as one JSON file, so that a cold start need not parse a hundred YAML files. */
import { writeFileSync } from "node:fs";
import { inPackage } from "../base/root.js";
import { knowledgeHash, readKnowledge } from "./load.js";

const { value, problems } = readKnowledge();
for (const p of problems) {
  process.stderr.write(
    `${p.file}:${p.line}:${p.column} ${p.severity} ${p.message}${p.suggestion ? ` (${p.suggestion}?)` : ""}\n`,
  );
}
if (value) {
  writeFileSync(
    inPackage("dist", "knowledge.json"),
    JSON.stringify({ hash: knowledgeHash(), knowledge: value }),
  );
} else {
  process.exitCode = 1;
}

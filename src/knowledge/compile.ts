/** Build step: writes the checked knowledge as one JSON file, so that a cold start need not parse a hundred YAML files. */
import { writeFileSync } from "node:fs";
import { toAsciiJson } from "../base/built.js";
import { inPackage } from "../base/root.js";
import {
  compiledLanguageFile,
  knowledgeHash,
  knowledgeLanguages,
  knowledgeLooks,
  readKnowledge,
  readLanguage,
} from "./load.js";

const { value, problems: found } = readKnowledge();
const spoken = knowledgeLanguages().map((language) => ({ language, ...readLanguage(language) }));
const problems = [...found, ...spoken.flatMap((s) => s.problems)];
for (const p of problems) {
  process.stderr.write(
    `${p.file}:${p.line}:${p.column} ${p.severity} ${p.message}${p.suggestion ? ` (${p.suggestion}?)` : ""}\n`,
  );
}
if (value && spoken.every((s) => s.value)) {
  const hash = knowledgeHash();
  const looks = knowledgeLooks();
  writeFileSync(inPackage("dist", "knowledge.json"), toAsciiJson({ looks, hash, knowledge: value }));
  for (const { language, value: texts } of spoken)
    writeFileSync(compiledLanguageFile(language), toAsciiJson({ hash, texts }));
} else {
  process.exitCode = 1;
}

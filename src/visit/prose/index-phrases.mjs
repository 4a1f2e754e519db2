// Build step, after the knowledge is compiled: keeps with it what the reader of free text works out from the knowledge alone.
import { readFileSync, writeFileSync } from "node:fs";
import { toAsciiJson } from "../../../dist/base/built.js";
import { proseIndex } from "../../../dist/visit/prose/prose-index.js";

const file = new URL("../../../dist/knowledge.json", import.meta.url);
const compiled = JSON.parse(readFileSync(file, "utf8"));
compiled.knowledge.readerIndex = proseIndex(compiled.knowledge);
writeFileSync(file, toAsciiJson(compiled));

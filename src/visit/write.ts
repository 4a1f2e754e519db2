/** A Visit back to the YAML of a visit file, in the order in which people write it; reading it again gives the same Visit. */
import { Document, isCollection, isMap, isSeq, type Node } from "yaml";
import type { Knowledge } from "../knowledge/schema.js";
import { type Key, type Keys, type Terms, writeMap } from "./key.js";
import { KEYS } from "./keys.js";
import type { Visit } from "./visit.js";

const MOST_IN_LINE = 110;

/** YAML text of a visit; with `knowledge`, findings and disorders are written as its terms. */
export function writeVisit(
  visit: Visit,
  knowledge?: Pick<Knowledge, "findings" | "disorders" | "facts">,
): string {
  const document = new Document(writeMap(KEYS, { ...visit, visit }, termsOf(knowledge)));
  setLines(document.contents, KEYS);
  return document.toString({ lineWidth: 0, flowCollectionPadding: true });
}

/** Ids in the terms of the knowledge; without one, as they are. */
export function termsOf(knowledge?: Pick<Knowledge, "findings" | "disorders" | "facts">): Terms {
  return {
    finding: (id) => knowledge?.findings[id]?.term ?? id.replaceAll("-", " "),
    disorder: (id) => knowledge?.disorders[id]?.term ?? id.replaceAll("-", " "),
    fact: (id) => knowledge?.facts[id]?.term ?? id.replaceAll("-", " "),
  };
}

/** Sets on one line what the tables of keys say belongs there. */
function setLines(node: Node | null, keys: Keys): void {
  if (!isMap(node)) return;
  for (const pair of node.items) {
    const key = keys[String(pair.key)];
    if (key) setLine(pair.value as Node | null, key);
  }
}

function setLine(node: Node | null, key: Key): void {
  if (!isCollection(node)) return;
  if (key.oneLine === true && fits(node)) node.flow = true;
  else if (key.oneLine === "each" && isMap(node)) {
    for (const { value } of node.items) if (isMap(value)) value.flow = true;
  } else if (isSeq(node)) {
    for (const entry of node.items as Node[]) {
      if (key.oneLine === "each" && isCollection(entry) && fits(entry)) entry.flow = true;
      else if (key.keys) setLines(entry, key.keys);
    }
  } else if (key.keys) setLines(node, key.keys);
}

/** One line holds it, and no text in it has lines of its own. */
function fits(node: Node): boolean {
  const text = JSON.stringify(node);
  return text.length <= MOST_IN_LINE && !text.includes("\\n");
}

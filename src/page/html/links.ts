/** Finds what can be followed: web and e-mail addresses anywhere, and the clinic's own telephone numbers. */
import type { Element, Node } from "./tree.js";

const MAIL = "[\\p{L}\\d._+-]+@[\\p{L}\\d-]+(?:\\.[\\p{L}\\d-]+)+";
const WEB = "https?://[^\\s<>()]*[^\\s<>().,;:]";
/** As people write telephone numbers; at least nine digits, since shorter ones are other numbers more often. */
const PHONE = /(?:\+|\(?0|\(\d{3}\))[\d()\s/-]*\d/g;
const FEWEST_DIGITS = 9;

function words(node: Node): string {
  return node.kind === "words" ? node.text : node.children.map(words).join(" ");
}

/** Telephone numbers in the letterhead: elsewhere a number so written could be anything. */
function phonesIn(root: Element): string[] {
  const heads = root.children.filter((child) => child.kind === "element" && child.name === "header");
  return heads
    .flatMap((head) => words(head).match(PHONE) ?? [])
    .map((phone) => phone.trim())
    .filter((phone) => phone.replace(/\D/g, "").length >= FEWEST_DIGITS);
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}

function target(text: string): string {
  if (text.includes("@")) return `mailto:${text}`;
  return /^https?:/.test(text) ? text : `tel:${text.replace(/[^\d+]/g, "")}`;
}

interface Sought {
  readonly pattern: RegExp;
  /** One of these stands in every text that the pattern finds something in. */
  readonly signs: readonly string[];
}

/** Turns addresses and numbers standing in words below `root` into links. */
export function linkAddresses(root: Element): void {
  const phones = phonesIn(root);
  const whole = phones.map((phone) => `(?<!\\d)${escaped(phone)}(?!\\d)`);
  const pattern = new RegExp([WEB, MAIL, ...whole].join("|"), "gu");
  link(root, { pattern, signs: ["@", "://", ...phones] });
}

function link(element: Element, sought: Sought): void {
  for (let i = 0; i < element.children.length; i += 1) {
    const child = element.children[i] as Node;
    if (child.kind === "element") {
      if (child.name !== "a" && child.name !== "svg") link(child, sought);
      continue;
    }
    if (!sought.signs.some((sign) => child.text.includes(sign))) continue;
    const parts: Node[] = [];
    let from = 0;
    for (const match of child.text.matchAll(sought.pattern)) {
      if (match.index > from) parts.push({ kind: "words", text: child.text.slice(from, match.index) });
      const text: Node = { kind: "words", text: match[0] };
      const attributes = { href: target(match[0]) };
      parts.push({
        kind: "element",
        name: "a",
        classes: [],
        attributes,
        children: [text],
        line: element.line,
      });
      from = match.index + match[0].length;
    }
    if (parts.length === 0) continue;
    if (from < child.text.length) parts.push({ kind: "words", text: child.text.slice(from) });
    element.children.splice(i, 1, ...parts);
    i += parts.length - 1;
  }
}

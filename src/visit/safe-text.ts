/** Characters that have no business in a letter: they show nothing, or they turn the reading order. */

const NOTHING = "one that shows nothing";
const NAMES: readonly (readonly [RegExp, string])[] = [
  [/[\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c]/u, "one that turns the direction of reading"],
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters looked for
  [/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/u, "a control character"],
  [/[\u2028\u2029]/u, "a line separator"],
  // Hangul and Braille fillers count as letters and show nothing; soft hyphens and joiners do so between Latin letters.
  [/[\u00ad\u180e\u200b\u2060-\u2065\u115f\u1160\u3164\uffa0\u2800]/u, NOTHING],
  [/(?<![\p{L}\p{M}\p{Extended_Pictographic}])(?:\u200c|\u200d)/u, NOTHING],
  [/(?<=[\p{Script=Latin}\p{Script=Cyrillic}\p{Script=Greek}])(?:\u200c|\u200d)/u, NOTHING],
  [/[\u{e0000}-\u{e0fff}]/u, NOTHING],
  [/[\ufeff\ufff0-\uffff]/u, "one that stands for no letter"],
  [/\p{Cs}/u, "half of a character"],
];

/** `U+202E, one that turns the direction of reading`; undefined for clean text. U+FFFD is left to the warnings. */
export function badCharacter(text: string): string | undefined {
  for (const [pattern, name] of NAMES) {
    for (const match of text.matchAll(new RegExp(pattern, "gu"))) {
      if (match[0] === "\ufffd") continue;
      const code = (match[0].codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0");
      return `U+${code}, ${name}`;
    }
  }
  return undefined;
}

/** True for a text in which a reader sees nothing, such as accents without letters. */
export function showsNothing(text: string): boolean {
  return text !== "" && !/[^\p{Z}\p{C}\p{M}]/u.test(text);
}

/** Letters of other scripts that look like Latin ones, so that two names look the same and are not. */

/** Cyrillic, then Greek, letter for letter with the Latin ones below. */
const OTHERS = "аеорсухіјѕһԁԛԝАВЕКМНОРСТУХІЈЅΑΒΕΖΗΙΚΜΝΟΡΤΥΧονι";
const LATIN = "aeopcyxijshdqwABEKMHOPCTYXIJSABEZHIKMNOPTYXovi";

const TO_LATIN: ReadonlyMap<string, string> = new Map([...OTHERS].map((ch, i) => [ch, LATIN[i] ?? ch]));

/** The text with look-alike and full-width letters and figures written in Latin; for comparing, never for printing. */
export function inLatin(text: string): string {
  return [...text.normalize("NFKC")].map((ch) => TO_LATIN.get(ch) ?? ch).join("");
}

/**
 * Words of a text that look Latin and are not wholly so: Latin mixed with look-alikes, or look-alikes alone where
 * `beside` (what is written with the text) is Latin.
 */
export function looksLatin(text: string, beside = ""): string[] {
  const latinBeside = /\p{Script=Latin}/u.test(text + beside);
  return text.split(/[^\p{L}\p{M}\p{N}]+/u).filter((word) => {
    if (/[\uff01-\uff5e]/u.test(word)) return true;
    const letters = [...word].filter((ch) => /\p{L}/u.test(ch));
    const alike = letters.filter((ch) => TO_LATIN.has(ch)).length;
    if (alike === 0 || !latinBeside) return false;
    const latin = letters.filter((ch) => /\p{Script=Latin}/u.test(ch)).length;
    return latin > 0 || alike === letters.length;
  });
}

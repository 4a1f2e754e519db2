/** The number of a patient or a visit without what people write in one way or another. */

/** `7` for the seven of another script; those of a script stand in a row from nought to nine. */
function figureOf(letter: string): string {
  const at = letter.codePointAt(0) ?? 0;
  let before = 0;
  while (/\p{Nd}/u.test(String.fromCodePoint(at - before - 1))) before += 1;
  return String(before % 10);
}

/** Without case, spaces, signs between the parts, and leading zeros: `ts 00417` is `TS-417`. */
export function tidyNumber(number: string): string {
  return (
    number
      .normalize("NFKC")
      .replace(/\p{Cf}/gu, "")
      .replace(/(?![0-9])\p{Nd}/gu, figureOf)
      .toUpperCase()
      .match(/\p{N}+|[\p{L}\p{M}]+/gu)
      ?.map((part) => part.replace(/^0+(?=\d)/u, ""))
      .join("-") ?? ""
  );
}

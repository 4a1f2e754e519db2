/** `Asked re fever, sore throat, bruises: none.` What was asked about and answered no is told as absent. */

const ASKED =
  "asked|enquired|inquired|screened|questioned|quizzed|gefragt|nachgefragt|erfragt|preguntad[oa]s?|interrogad[oa]s?";
/** Answers that leave nothing open. */
const NO = [
  "no(?: to (?:all|each|any|both|every|every one|everything)(?: of (?:it|them|these|those))?|[ ,]+(?:never|nothing|none|not ever)|\\s*[x×]\\s*\\d+)?",
  "none(?: of (?:it|them|these|those|that|the above))?",
  "nil(?: to all)?|never|nothing|nope|all (?:no|denied|negative)|denie[sd](?: all)?(?: of (?:it|them|these|those))?|neg(?:ative)?",
  "nein|keine[rs]?|nichts|alles verneint|verneint(?: alles)?|nada|ningun[oa]s?|ninguno de ellos|todo negado|niega(?: todo)?",
].join("|");
/** Words after the answer that take some of it back. */
const YET =
  /^[^.;!?\n]*(?<!\p{L})(?:but|except\p{L}*|apart|although|though|however|only|save|until|till|unless|other than|aber|außer|nur|bis auf|pero|salvo|excepto|solo|sólo|aunque)(?!\p{L})/iu;
const ANSWERED = new RegExp(
  String.raw`(?<!\p{L})(?:${ASKED})(?!\p{L})([^!?;\n]*?)[:?.;–—-]\s*["“”'‘’]?(?:${NO})(?=["“”'’]*\s*(?:[.,;:!?)]|$))`,
  "giu",
);
/** What was said in answer stands before the no, or somebody asked for something: no question that was answered no. */
const TOLD =
  /(?<!\p{L})(?:says?|said|tells?|told|admit\p{L}*|repl\p{L}*|report\p{L}*|disclos\p{L}*|yes|cried|nodded|then|sagt\p{L}*|bejaht\p{L}*|gibt|ja|dice|dijo|cuenta|refiere|sí)(?!\p{L})|^\s+(?:to|for|him|her|them|me|us)(?!\p{L})/iu;
/** A question runs over no more than so many characters. */
const LONGEST = 220;

export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** The stretches of a text, in characters, that were asked about and answered no. */
export function answeredNo(text: string): Stretch[] {
  return [...text.matchAll(ANSWERED)].flatMap((found): Stretch[] => {
    const [whole, asked = ""] = found;
    const end = found.index + whole.length;
    // A full stop inside the question parts it from an earlier one.
    if (whole.length > LONGEST || /\.\s+\p{Lu}/u.test(asked) || TOLD.test(asked) || YET.test(text.slice(end)))
      return [];
    return [{ start: found.index, end }];
  });
}

export const isWithin = (stretches: readonly Stretch[], at: number): boolean =>
  stretches.some(({ start, end }) => start <= at && at < end);

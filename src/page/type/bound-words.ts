/**
 * Words that belong together on one line, in any of our languages: a number with its unit or noun, a day with its month and year,
 * a sign with its numbers, a title with its name, grouped digits, a postal code.
 */

import { once } from "../../base/once.js";

/** The spaces that text may break at; no-break spaces already bind. */
const SPACE = / +/g;

/** Languages a letter may come in. */
export const DATED: readonly string[] = "en de es fr it nl pt nb sv da fi pl cs el ru uk".split(" ");

/** Names of their months, whole and short, as `Intl` writes them in a date: asking it takes as long as setting a page. */
const months = once(
  (): ReadonlySet<string> =>
    new Set(
      (
        "january february march april may june july august september october november december jan feb mar apr jun jul aug " +
        "sep oct nov dec januar februar märz mai juni juli oktober dezember sept okt dez enero febrero marzo abril mayo " +
        "junio julio agosto septiembre octubre noviembre diciembre ene abr ago dic janvier février mars avril juin juillet " +
        "août septembre octobre novembre décembre janv févr avr juil déc gennaio febbraio aprile maggio giugno luglio " +
        "settembre ottobre dicembre gen mag giu lug set ott januari februari maart mei augustus mrt janeiro fevereiro março " +
        "maio junho julho setembro outubro novembro dezembro fev out desember des maj augusti marts tammikuuta helmikuuta " +
        "maaliskuuta huhtikuuta toukokuuta kesäkuuta heinäkuuta elokuuta syyskuuta lokakuuta marraskuuta joulukuuta 1 2 3 4 " +
        "5 6 7 8 9 10 11 12 stycznia lutego marca kwietnia maja czerwca lipca sierpnia września października listopada " +
        "grudnia sty lut kwi cze lip sie wrz paź lis gru ledna února března dubna května června července srpna září října " +
        "listopadu prosince ιανουαρίου φεβρουαρίου μαρτίου απριλίου μαΐου ιουνίου ιουλίου αυγούστου σεπτεμβρίου οκτωβρίου " +
        "νοεμβρίου δεκεμβρίου ιαν φεβ μαρ απρ μαΐ ιουν ιουλ αυγ σεπ οκτ νοε δεκ января февраля марта апреля мая июня июля " +
        "августа сентября октября ноября декабря янв февр мар апр июн июл авг сент окт нояб дек січня лютого березня квітня " +
        "травня червня липня серпня вересня жовтня листопада грудня січ лют бер квіт трав черв лип серп вер жовт лист груд"
      ).split(" "),
    ),
);

function bare(word: string): string {
  return word.replace(/^[("'\u201c\u2018\u201e\u00ab[]+|[)\]"'\u201d\u2019\u00bb.,;:!?]+$/gu, "");
}

export function isMonth(word: string): boolean {
  return months().has(bare(word).toLowerCase());
}

const NUMBER = /^[<>\u2264\u2265\u2248~\u00b1+\u2212-]?\u00a0?\d[\d.,/:\u2013\u2212-]*[\u00bc-\u00be]?$/u;
const YEAR = /^(?:19|20)\d\d$/;
/** Between two numbers, or between a name and its number. */
const SIGN = /^[\u00d7x*=<>\u2264\u2265\u2248~\u00b1/\u2013+\u2212-]$/u;
/** What a number names: n 84, SD 12.1, No. 3, page 2. */
const LABEL =
  /^(?:n|p|r|SD|SE|CI|N|No|Nr|Nos|S|P|T|B|ICD-10|doi|page|Seite|p\u00e1gina|phone|Tel|age|Alter)$/u;
/** Before a name. */
const TITLE = /^(?:Dr|Prof|Mr|Mrs|Ms|Mx|Miss|Sr|Sra|Srta|Dra|Herr|Herrn|Frau|Don|Do\u00f1a|St)$/u;
/** Between day, month and year, or between a part and its whole, as in 4 of 60. */
const OF = /^(?:de|of|del|von)$/iu;

function ends(word: string): boolean {
  return /[.,;:!?)\]\u201d\u2019"]$/u.test(word);
}

/** Whether `left` and `right`, which stand beside one another, stay on one line; `after` says how many words follow. */
function belong(left: string, right: string, after: number): boolean {
  const [a, b] = [bare(left), bare(right)];
  // A bracket is not opened for a word or two letters at a line's end.
  if (/^[([]\p{L}{1,2}$/u.test(left)) return true;
  const leftIsNumber = NUMBER.test(a);
  const rightIsNumber = NUMBER.test(b);
  if (leftIsNumber && !/[,;:!?)\]]$/u.test(left)) {
    if (/^[([]*\d{1,2}\.$/u.test(left)) return isMonth(right);
    if (left.endsWith(".")) return false;
    // Groups of digits, a number and its sign, unit or noun. A year goes with what stands before it.
    if (rightIsNumber && /^\d/.test(right)) return true;
    if (SIGN.test(b) || /^[%\u2030\u00b0\u00b5/]/u.test(b)) return true;
    return !YEAR.test(a) && /^\p{L}/u.test(right);
  }
  if (SIGN.test(a) && a === left) return rightIsNumber;
  // The number of a source and what begins it in the list.
  if (/^\[\d+\]$/u.test(left)) return true;
  // An interval and the number counted, in one bracket.
  if (/^\(\d.*;$/u.test(left) && /^\d+\)$/u.test(right)) return true;
  if (LABEL.test(a) && a === left && SIGN.test(right)) return after > 0;
  if (isMonth(left) && (OF.test(right) || YEAR.test(b))) return !ends(left) || /^\p{Ll}/u.test(left);
  if (OF.test(left)) return isMonth(right) || rightIsNumber;
  if (TITLE.test(a) && /^\p{Lu}/u.test(right)) return /^\.?$/u.test(left.slice(a.length));
  // A type or stage told in Roman numerals, with what names it.
  if (/\p{L}:$/u.test(left) && /^(?:I{1,3}|IV|VI?)[.,;]?$/u.test(right)) return true;
  // A number of a file or a clinic, with what names it.
  if (/^\p{Lu}{1,4}-\d+$/u.test(b) && /^\p{L}+$/u.test(left)) return true;
  if (/^(?:no\.|Nr\.|n\.º)$/u.test(left) && /\d/.test(right)) return true;
  if (/^\p{Lu}{1,2}\d[\p{Lu}\d]?$/u.test(left)) return /^\d\p{Lu}{2}$/u.test(b);
  if (!rightIsNumber || !/^\p{L}/u.test(left) || ends(left)) return false;
  // A number that nothing follows, or that ends its clause, belongs to what stands before it.
  return YEAR.test(b) || LABEL.test(a) || after === 0 || /[.,;:)]$/u.test(right);
}

/** A longer run has to be free to break. */
const LONGEST = 28;

/** A hyphen beside three letters or digits at most: follow-up, X-ray, 20-fold. */
const SHORT_PART = /(?<![\p{L}\d])[\p{L}\d]{1,3}-[\p{L}\d]|[\p{L}\d]-[\p{L}\d]{1,3}(?![\p{L}\d])/u;

export interface Bound {
  readonly text: string;
  readonly isBound: boolean;
}

/** Splits text into pieces, some of which are to stay on one line. */
export function bindWords(text: string): Bound[] {
  const pieces: Bound[] = [];
  for (const line of text.split(/(\n)/)) {
    if (line === "\n") addTo(pieces, line, false);
    else bindLine(line, pieces);
  }
  return pieces;
}

function addTo(pieces: Bound[], text: string, isBound: boolean): void {
  const last = pieces[pieces.length - 1];
  if (text === "") return;
  if (last && !isBound && !last.isBound)
    pieces[pieces.length - 1] = { text: last.text + text, isBound: false };
  else pieces.push({ text, isBound });
}

function bindLine(line: string, pieces: Bound[]): void {
  if (!/\d|\p{Lu}|\p{L}-\p{L}/u.test(line)) {
    addTo(pieces, line, false);
    return;
  }
  const spaces = [...line.matchAll(SPACE)].map(
    (match) => [match.index, match.index + match[0].length] as const,
  );
  const starts = [0, ...spaces.map(([, end]) => end)];
  const endings = [...spaces.map(([start]) => start), line.length];
  const words = starts.map((start, i) => line.slice(start, endings[i]));
  for (let from = 0; from < words.length; ) {
    let to = from;
    while (to + 1 < words.length && belong(words[to] ?? "", words[to + 1] ?? "", words.length - to - 2))
      to += 1;
    const isShort = (endings[to] ?? 0) - (starts[from] ?? 0) <= LONGEST;
    const piece = line.slice(starts[from], endings[to]);
    // A no-break space binds; a unit such as mU/L would still be broken at its stroke, a range at its dash.
    const isOne = /\u00a0|\d\u2013\d/u.test(piece) || SHORT_PART.test(piece);
    addTo(pieces, piece, (to > from || isOne) && isShort);
    addTo(pieces, line.slice(endings[to], starts[to + 1] ?? line.length), false);
    from = to + 1;
  }
}

/** The text with no-break spaces where words are bound, for counting lines. */
export function withBoundSpaces(text: string): string {
  return bindWords(text)
    .map((piece) => (piece.isBound ? piece.text.replaceAll(" ", "\u00a0") : piece.text))
    .join("");
}

/** The words of a language: their shape, and the few rules by which numbers, dates and lists are written. */

import { z } from "zod";
import { once } from "../base/once.js";
import { PAPERS } from "../base/paper.js";
import { fill } from "../base/text.js";
import { sentenceSchema } from "../knowledge/sentence.js";
import { yearsBetween } from "../visit/calendar.js";
import { chartWordsSchema, mapWordsSchema } from "./drawing-words.js";

const phrase = z.string().min(1);
const table = z.record(z.string(), phrase);
const counted = z.strictObject({ one: phrase, other: phrase });

const durations = z.strictObject({ days: counted, weeks: counted, months: counted, years: counted });

export const wordsSchema = once(() =>
  z.strictObject({
    language: phrase,
    /** Set on packs that need a native clinician's review before use; printed by `check`. */
    review: phrase.optional(),
    paper: z.enum(PAPERS),
    date: phrase,
    /** {d} day and {m} the first three letters of the month, for charts. */
    months: z.array(phrase).length(12),
    decimal: z.enum([".", ","]),
    list: z.strictObject({
      comma: z.string(),
      last: z.string(),
      /** In place of `last` where the last item begins so, by a pattern: Spanish `y` before the sound of i. */
      last_before: z.strictObject({ begins: phrase, last: z.string() }).optional(),
      none: phrase,
    }),
    titles: z.array(phrase),
    /** Courtesy title as recorded -> as printed, such as `Ms` -> `Frau`; others are printed as recorded. */
    title_words: table.default({}),
    page: phrase,
    draft: phrase,
    confidential: phrase,
    /** In the charts of an audit: what is shown, the two things compared, and the word in `8 of 10`. */
    audit: z.strictObject({ title: phrase, impression: phrase, engine: phrase, of: phrase }),
    /** An e-mail draft that carries a letter: {salutation}, {clinic}, {phone} and {visit}; one paragraph each. */
    mail: z.strictObject({ subject: phrase, body: z.array(phrase).min(1) }),
    /** At the foot of a sheet on many visits. */
    clinic_only: phrase,
    identifiers: phrase,
    salutation: phrase,
    patient_salutation: phrase,
    /** By purpose of a reader outside the care: why they have a letter that asks nothing; {name} of the patient. */
    notice_why: table,
    parent_salutation: phrase,
    duration: durations,
    /** Round a duration that is not exact: `about {duration}`. */
    about: phrase,
    /** After a word such as "in", where the language then changes the noun; otherwise `duration` serves. */
    duration_after: durations.optional(),
    age: z.strictObject({ years: counted, months: counted }),
    sex: table,
    amounts: table,
    count: counted,
    certainty: table,
    certainty_patient: table,
    certainty_patient_also: table,
    /** Added where the plain name and the trade's differ. */
    doctors_call: phrase,
    amounts_plain: table,
    /** Role of a recipient, in small letters -> as printed; others are printed as written. */
    roles: table.default({}),
    who: table,
    /** The word for the patient by sex, where the language has one for each. */
    patient_by_sex: table.default({}),
    who_patient: table,
    /** How soon a line of the plan is due. */
    urgency: z.strictObject({ now: phrase, "same day": phrase, days: phrase, soon: phrase }),
    /** Why a question is put: {words} of the record name its danger. */
    named_in_passing: phrase,
    /** {date} */
    by_day: phrase,
    /** {date} and {time} of signing. */
    signed_at: phrase,
    /** A later edition: {date} of the letter it replaces, where that is known. */
    replaces: phrase,
    replaces_earlier: phrase,
    onset: table,
    course: table,
    shedding: table,
    symptoms: table,
    pregnancy: table,
    margin: table,
    light: table,
    contact: table,
    extent: table,
    regions: table,
    examination: table,
    how_fast: table,
    /** General list of when to get help, by how fast. */
    help: z.record(z.string(), z.array(sentenceSchema)),
    /** A sign for those to whom hair loss is hard, said once. */
    help_distress: z.array(sentenceSchema),
    /** Whom to call, with {phone}. */
    help_call: z.strictObject({ us: phrase, same_day: phrase }),
    /** Endings a glossary word may carry in the text, such as a plural `s`. */
    glossary_endings: z.array(phrase),
    bands: table,
    states: table,
    /** How many draws, in words: fits before `draws`. */
    draws: table,
    verdicts: table,
    change: table,
    history: table,
    phrases: table,
    /** What a site says where nothing was seen there: looked for and absent, only counted, or never looked for. */
    site_states: z.strictObject({ none_seen: phrase, counted_only: phrase, not_assessed: phrase }),
    site_states_plain: z.strictObject({ none_seen: phrase, counted_only: phrase, not_assessed: phrase }),
    yes: phrase,
    no: phrase,
    /** Words of the scalp map, for the letter and for the handout; left out in English, where the drawing room has them. */
    /** What lists of disease codes are called here, by their English names. */
    code_lists: table,
    map: mapWordsSchema().optional(),
    plain_map: mapWordsSchema().optional(),
    charts: chartWordsSchema().optional(),
    /** Measure id -> printed name, where the pack translates it. */
    measures: table,
    /** English words of a measure (class, unit, reference group, caveat) -> the words printed; left out in English. */
    // Empty for what the letter leaves out.
    measure_texts: z.record(z.string(), z.string()).default({}),
    /** Spelling changes applied to our own texts, never to names or to what a clinician wrote. */
    spelling: table.optional(),
  }),
);

export type Words = Readonly<z.infer<ReturnType<typeof wordsSchema>>>;

/** The printed form of a word somebody typed, where the table has one of its own. */
export function wordIn(table: Readonly<Record<string, string>>, key: string): string | undefined {
  return Object.hasOwn(table, key) ? table[key] : undefined;
}

/** `a, b and c` in the habit of the language, `a, b or c; d` where an item holds a comma itself; empty text for an empty list. */
export function list(words: Words, items: readonly string[]): string {
  if (items.length <= 1) return items[0] ?? "";
  const { comma, last, last_before: other } = words.list;
  if (items.some((item) => item.includes(comma))) return items.join("; ");
  const end = items[items.length - 1] ?? "";
  const and = other && new RegExp(`^(?:${other.begins})`, "iu").test(end) ? other.last : last;
  return `${items.slice(0, -1).join(comma)}${and}${end}`;
}

/** ISO date in words; text that is no ISO date is returned as it is. */
export function writeDate(words: Words, iso: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})/u.exec(iso);
  const month = words.months[Number(match?.[2]) - 1];
  if (!match || !month) return iso;
  return fill(words.date, { d: Number(match[3]), m: month, y: Number(match[1]) });
}

/** `14:05` of an ISO date and time. */
export function clockTime(moment: string): string {
  return /T(\d{2}:\d{2})/u.exec(moment)?.[1] ?? "";
}

/** A number with `places` decimals and the decimal sign of the language; a real minus sign. */
export function writeNumber(words: Words, value: number, places = 0): string {
  const text = value.toFixed(places);
  const zero = Number(text) === 0 ? text.replace("-", "") : text;
  return zero.replace(".", words.decimal).replace("-", "\u2212");
}

const asRecorded = once(() => new Intl.NumberFormat("en", { useGrouping: false, maximumFractionDigits: 20 }));

/** A number a person recorded, to its last decimal, with the decimal sign of the language. */
export function writeRecorded(words: Words, value: number): string {
  const text = asRecorded().format(value);
  return text.replace(".", words.decimal).replace("-", "\u2212");
}

function countOf(pair: { one: string; other: string }, n: number): string {
  return fill(n === 1 ? pair.one : pair.other, { n: n % 1 === 0.5 ? `${Math.floor(n)}½` : n });
}

const WEEKS_A_MONTH = 4.345;
const WEEKS_A_YEAR = 52.18;
/** From here a half year no longer tells a person anything. */
const WHOLE_YEARS_FROM = 10;

/**
 * Weeks in the unit a person would say: days under one week, weeks to 16, months to two years, then years and halves. What
 * is not said exactly is said to be about so much. `after` gives the form that stands after "in".
 */
export function writeDuration(words: Words, weeks: number, after = false): string {
  const units = (after ? words.duration_after : undefined) ?? words.duration;
  const said = (pair: { one: string; other: string }, exact: number, n: number) =>
    Math.abs(exact - n) < 1e-9 ? countOf(pair, n) : fill(words.about, { duration: countOf(pair, n) });
  const halves = (n: number) => Math.round(n * 2) / 2;
  if (weeks < 1) return said(units.days, weeks * 7, Math.max(1, Math.round(weeks * 7)));
  if (weeks <= 16) return said(units.weeks, weeks, halves(weeks));
  if (weeks < 104) return said(units.months, weeks / WEEKS_A_MONTH, Math.round(weeks / WEEKS_A_MONTH));
  const years = weeks / WEEKS_A_YEAR;
  return said(units.years, years, years < WHOLE_YEARS_FROM ? halves(years) : Math.round(years));
}

/** Age in words; months under two years. */
export function writeAge(words: Words, born: string, on: string): string {
  const years = yearsBetween(born, on);
  if (years >= 2) return countOf(words.age.years, years);
  const months =
    (Number(on.slice(0, 4)) - Number(born.slice(0, 4))) * 12 +
    Number(on.slice(5, 7)) -
    Number(born.slice(5, 7)) -
    (on.slice(8) < born.slice(8) ? 1 : 0);
  return countOf(words.age.months, Math.max(0, months));
}

/** First letter in capitals; a letter without a capital of its own, such as `ß` or `ϐ`, stays. */
export function capital(text: string): string {
  const first = [...text][0];
  const large = first?.toUpperCase();
  if (first === undefined || large === undefined || large.toLowerCase() !== first.toLowerCase()) return text;
  return [...large].length > 1 ? text : large + text.slice(first.length);
}

/** Free words as a sentence: capital first, a full stop at the end unless one stands there. */
export function asSentence(text: string): string {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  return /[.!?…:]["')\]]?$/u.test(trimmed) ? capital(trimmed) : `${capital(trimmed)}.`;
}

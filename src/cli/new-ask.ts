/** The questions of `whorl new visit --interactive`: a draft with what was answered; what was skipped stays empty. */
import type { FindingId } from "../base/ids.js";
import {
  type AmountWord,
  type DraftSite,
  firstLook,
  lookFor,
  type VisitDraft,
} from "../exchange/exchange.js";
import type { Disorder, Knowledge } from "../knowledge/schema.js";
import type { Clinic } from "../visit/clinic.js";
import { AMOUNTS, CERTAINTIES, type Impression, REGIONS, type Region, SEXES } from "../visit/visit.js";
import { visitWords } from "../visit/visit-words.js";
import { withoutUndefined } from "../visit/without-undefined.js";

export interface Choice<T> {
  readonly name: string;
  readonly value: T;
}

/** How a question is put. An undefined answer means that the person stopped. */
export interface Asker {
  text(
    message: string,
    how: { fallback?: string | undefined; check?: (answer: string) => true | string },
  ): Promise<string | undefined>;
  choose<T>(message: string, choices: readonly Choice<T>[]): Promise<T | undefined>;
  tick<T>(message: string, choices: readonly Choice<T>[]): Promise<T[] | undefined>;
}

export interface AskOptions {
  readonly knowledge: Knowledge;
  readonly clinic?: Clinic | undefined;
  readonly suspect: readonly Disorder[];
  readonly findings: readonly FindingId[];
}

class Stopped extends Error {}

function given<T>(answer: T | undefined): T {
  if (answer === undefined) throw new Stopped();
  return answer;
}

/** The draft with the answers in it and the disorders suspected, or undefined when the person stopped. */
export async function askVisit(
  ask: Asker,
  start: VisitDraft,
  options: AskOptions,
): Promise<{ draft: VisitDraft; suspect: readonly Disorder[] } | undefined> {
  try {
    const visit = await askWhoAndWhen(ask, start, options);
    const suspect = options.suspect.length > 0 ? options.suspect : await askSuspect(ask, options.knowledge);
    const regions = start.sites.flatMap((s) => s.site ?? []);
    const chosen =
      regions.length > 0
        ? regions
        : given(await ask.tick<Region>("Which places did you look at?", REGIONS.map(plainChoice)));
    const sites: DraftSite[] = [];
    for (const region of chosen) {
      const before = start.sites.find((s) => s.site === region);
      sites.push(await askSite(ask, region, before, suspect, options));
    }
    const impression = await askImpression(ask, options.knowledge);
    const weeks = await askText(
      ask,
      "Weeks until the next visit (empty: none planned)",
      undefined,
      wholeOrNothing,
    );
    const draft: VisitDraft = {
      ...visit,
      sites,
      impression,
      ...(weeks === undefined ? {} : { followUpWeeks: Number(weeks) }),
    };
    return { draft, suspect };
  } catch (error) {
    if (error instanceof Stopped) return undefined;
    throw error;
  }
}

const plainChoice = <T extends string>(value: T): Choice<T> => ({ name: value, value });

async function askWhoAndWhen(ask: Asker, start: VisitDraft, { clinic }: AskOptions): Promise<VisitDraft> {
  const text = (message: string, fallback?: string, check?: (answer: string) => true | string) =>
    askText(ask, message, fallback, check);
  const id = await text("Number of this visit", start.id);
  const date = (await text("Day of the visit (year-month-day)", start.date, dayOrNothing)) ?? start.date;
  const people = Object.entries(clinic?.people ?? {});
  const seenBy =
    people.length > 0
      ? given(
          await ask.choose(
            "Who saw the patient?",
            people.map(([key, p]) => ({ name: p.name, value: key })),
          ),
        )
      : await text("Who saw the patient? (key in the clinic file)", start.seenBy);
  const reason = await text("Why did the patient come?", start.reason);
  const known = start.patient;
  if (known?.id !== undefined) return withoutUndefined({ ...start, date, id, seenBy, reason });
  const patient = {
    id: await text("Patient number"),
    name: {
      title: await text("Title (Ms, Mr, ...)"),
      given: await text("Given name"),
      family: await text("Family name"),
    },
    born: await text("Date of birth (year-month-day)", undefined, dayOrNothing),
    sex: given(await ask.choose("Sex as recorded", SEXES.map(plainChoice))),
  };
  const name = await text("Whom does the letter go to? (name with title)");
  const sendTo =
    name === undefined
      ? []
      : [{ role: "general practitioner", name, address: await askLines(ask), copy: false }];
  return withoutUndefined({ ...start, date, id, seenBy, reason, patient, sendTo });
}

async function askLines(ask: Asker): Promise<string[]> {
  const address = await askText(ask, "Their address, lines parted by commas");
  return (
    address
      ?.split(",")
      .map((l) => l.trim())
      .filter(Boolean) ?? []
  );
}

async function askSuspect(ask: Asker, knowledge: Knowledge): Promise<Disorder[]> {
  const choices = Object.values(knowledge.disorders).map((d) => ({ name: d.term, value: d }));
  return given(await ask.tick<Disorder>("What do you suspect? (none: a first look at everything)", choices));
}

async function askSite(
  ask: Asker,
  region: Region,
  before: DraftSite | undefined,
  suspect: readonly Disorder[],
  { knowledge, findings }: AskOptions,
): Promise<DraftSite> {
  const groups = suspect.length > 0 ? suspect.flatMap((d) => lookFor(d, knowledge)) : firstLook(knowledge);
  const ids = [...new Set([...(before?.ask ?? []), ...findings, ...groups.flatMap((g) => g.findings)])];
  const choice = (id: string): Choice<string> => ({ name: knowledge.findings[id]?.term ?? id, value: id });
  const present = given(await ask.tick(`${region}: what did you see?`, ids.map(choice)));
  const seen: Record<string, AmountWord> = {};
  for (const id of present) {
    const term = knowledge.findings[id]?.term ?? id;
    const amounts: Choice<AmountWord>[] = [...AMOUNTS, "seen" as const].map((a) => ({
      name: a === "seen" ? "seen, without saying how many" : a,
      value: a,
    }));
    seen[id] = given(await ask.choose(`${region}, ${term}: how many in a field of view?`, amounts));
  }
  const rest = ids.filter((id) => !present.includes(id));
  const absent = given(
    await ask.tick(
      `${region}: what did you look for and not see? (what you leave was not assessed)`,
      rest.map(choice),
    ),
  );
  for (const id of absent) seen[id] = "none";
  return { ...before, site: region, seen };
}

async function askImpression(ask: Asker, knowledge: Knowledge): Promise<Impression[]> {
  const words = visitWords(knowledge).disorders;
  const check = (answer: string) => {
    if (answer === "" || words.find(answer) !== undefined) return true;
    const near = words.near(answer);
    return near.length > 0 ? `No such disorder; perhaps ${near.join(" or ")}?` : "No such disorder.";
  };
  const list: Impression[] = [];
  for (;;) {
    const message =
      list.length === 0 ? "Your impression (empty: none yet)" : "A further impression (empty: no more)";
    const answer = await askText(ask, message, undefined, check);
    const disorder = answer === undefined ? undefined : words.find(answer);
    if (disorder === undefined) return list;
    const certainty = given(await ask.choose("How sure?", CERTAINTIES.map(plainChoice)));
    list.push({ disorder, certainty });
  }
}

/** The trimmed answer; undefined when it is empty. */
async function askText(
  ask: Asker,
  message: string,
  fallback?: string,
  check?: (answer: string) => true | string,
): Promise<string | undefined> {
  const answer = given(await ask.text(message, { fallback, ...(check ? { check } : {}) })).trim();
  return answer === "" ? undefined : answer;
}

const dayOrNothing = (answer: string) =>
  /^(?:\d{4}-\d{2}-\d{2})?$/u.test(answer) || "A day as year-month-day, such as 2026-03-12.";
const wholeOrNothing = (answer: string) => /^\d{0,3}$/u.test(answer) || "A whole number of weeks.";

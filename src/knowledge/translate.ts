/** Knowledge with the texts of one language, or of one spelling, in place of the English ones. Evidence and rules stay as they are. */
import type { LanguageTexts } from "./language-schema.js";
import { loadLanguage } from "./load.js";
import { CAUTION_SENTENCES, type Caution, type Knowledge } from "./schema.js";
import { inOtherWords, type Sentence, wordsOf } from "./sentence.js";

const translated = new WeakMap<Knowledge, Map<string, Knowledge>>();

/**
 * The knowledge as documents in `language` (BCP 47) print it: `es-MX` takes `es` and then `es-MX`. English, and a language
 * without texts of its own, gives the knowledge itself.
 */
export function inLanguage(knowledge: Knowledge, language: string): Knowledge {
  const known = translated.get(knowledge) ?? new Map<string, Knowledge>();
  translated.set(knowledge, known);
  const before = known.get(language);
  if (before) return before;
  const parts = language.split("-");
  const result = parts.reduce((sofar, _, i) => {
    const texts = loadLanguage(parts.slice(0, i + 1).join("-"));
    return texts ? withTexts(sofar, texts) : sofar;
  }, knowledge);
  known.set(language, result);
  return result;
}

/** Texts laid over the knowledge; entries the texts do not hold keep theirs. Pure. */
export function withTexts(knowledge: Knowledge, texts: LanguageTexts): Knowledge {
  return {
    ...knowledge,
    findings: mapValues(knowledge.findings, (finding, id) => {
      const t = own(texts.findings, id);
      return t ? { ...finding, term: t.term, plain: { name: t.name, means: t.means } } : finding;
    }),
    disorders: mapValues(knowledge.disorders, (disorder, id) => {
      const t = own(texts.disorders, id);
      if (!t) return disorder;
      const { help, is, means, next, ask, ...patient } = t.patient;
      const p = disorder.patient;
      return {
        ...disorder,
        term: t.term,
        letter: { about: t.about, ...(t.watch ? { watch: t.watch } : {}) },
        patient: {
          ...patient,
          is: inTheirWords(p.is, is),
          means: inTheirWords(p.means, means),
          next: inTheirWords(p.next, next),
          ask: inTheirWords(p.ask, ask),
          help: disorder.patient.help.map((h, i) => ({ ...h, sign: help[i] ?? h.sign })),
        },
      };
    }),
    cautions: mapValues(knowledge.cautions, (caution, id) => {
      const { why, who, ...theirs }: Partial<LanguageTexts["cautions"][string]> =
        own(texts.cautions, id) ?? {};
      const line = caution.must_not_miss;
      return {
        ...caution,
        ...theirs,
        ...(line ? { must_not_miss: { ...line, why: why ?? line.why, who: who ?? line.who } } : {}),
        ...sentenceLists(caution, (sentences, part) => inTheirWords(sentences, theirs[part] ?? [])),
      };
    }),
    facts: mapValues(knowledge.facts, (fact, id) => {
      const asked = own(texts.questions, id);
      return {
        ...fact,
        term: own(texts.facts, id) ?? fact.term,
        ...(asked ? { question: asked.question } : {}),
        ...(asked && fact.called_for ? { called_for: { ...fact.called_for, why: asked.why } } : {}),
      };
    }),
    regions: mapValues(knowledge.regions, (region, id) => ({
      ...region,
      plain: own(texts.regions, id) ?? region.plain,
    })),
    glossary: Object.keys(texts.glossary).length > 0 ? texts.glossary : knowledge.glossary,
  };
}

type SentencePart = (typeof CAUTION_SENTENCES)[number];

/** The lists of sentences that a caution has, each changed. */
function sentenceLists(
  caution: Caution,
  change: (sentences: readonly Sentence[], part: SentencePart) => Sentence[],
): Pick<Caution, SentencePart> {
  return Object.fromEntries(
    CAUTION_SENTENCES.flatMap((part) => {
      const sentences = caution[part];
      return sentences ? [[part, change(sentences, part)]] : [];
    }),
  );
}

/** Every text that a document prints, passed through `change`. Pure. */
export function withChangedTexts(knowledge: Knowledge, change: (text: string) => string): Knowledge {
  const all = (sentences: readonly Sentence[]) => sentences.map((s) => inOtherWords(s, change(wordsOf(s))));
  return {
    ...knowledge,
    findings: mapValues(knowledge.findings, (f) => ({
      ...f,
      term: change(f.term),
      plain: { name: change(f.plain.name), means: change(f.plain.means) },
    })),
    disorders: mapValues(knowledge.disorders, (d) => ({
      ...d,
      term: change(d.term),
      letter: {
        about: change(d.letter.about),
        ...(d.letter.watch ? { watch: change(d.letter.watch) } : {}),
      },
      patient: {
        ...d.patient,
        name: change(d.patient.name),
        ...(d.patient.told ? { told: mapValues(d.patient.told, change) as typeof d.patient.told } : {}),
        is: all(d.patient.is),
        means: all(d.patient.means),
        next: all(d.patient.next),
        ask: all(d.patient.ask),
        help: d.patient.help.map((h) => ({ ...h, sign: change(h.sign) })),
      },
    })),
    cautions: mapValues(knowledge.cautions, (c) => ({
      ...c,
      term: change(c.term),
      ...(c.doctor ? { doctor: change(c.doctor) } : {}),
      ...(c.patient ? { patient: change(c.patient) } : {}),
      ...(c.clinician ? { clinician: change(c.clinician) } : {}),
      ...sentenceLists(c, all),
      ...(c.must_not_miss
        ? {
            must_not_miss: {
              ...c.must_not_miss,
              why: change(c.must_not_miss.why),
              who: change(c.must_not_miss.who),
            },
          }
        : {}),
    })),
    facts: mapValues(knowledge.facts, (f) => ({
      ...f,
      term: change(f.term),
      ...(f.question ? { question: change(f.question) } : {}),
      ...(f.called_for ? { called_for: { ...f.called_for, why: change(f.called_for.why) } } : {}),
    })),
    regions: mapValues(knowledge.regions, (r) => ({ ...r, plain: change(r.plain) })),
    glossary: Object.fromEntries(
      Object.entries(knowledge.glossary).map(([word, means]) => [change(word), change(means)]),
    ),
  };
}

/** Sentence by sentence in the words of a language; circumstances stay those of the English one. */
function inTheirWords(sentences: readonly Sentence[], words: readonly string[]): Sentence[] {
  return sentences.map((s, i) => inOtherWords(s, words[i] ?? wordsOf(s)));
}

function mapValues<T>(
  record: Readonly<Record<string, T>>,
  change: (value: T, key: string) => T,
): Record<string, T> {
  return Object.fromEntries(Object.entries(record).map(([key, value]) => [key, change(value, key)]));
}

function own<T>(record: Readonly<Record<string, T>>, key: string): T | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}

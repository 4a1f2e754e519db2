import { daleChall } from "dale-chall";
import { describe, expect, it } from "vitest";
import type { Disorder, Knowledge } from "../../src/knowledge/schema.js";
import { wordsOf as wordsOfSentence } from "../../src/knowledge/sentence.js";
import { inLanguage } from "../../src/knowledge/translate.js";
import { hardSentenceNotes, languageNotes, sparedNames } from "../../src/letter/notes.js";
import { loadPack } from "../../src/letter/pack.js";
import {
  hardSentences,
  MOST_GRADE,
  passagesOf,
  readability,
  sentencesOf,
  wordsOf,
} from "../../src/letter/readability.js";
import {
  type Counts,
  fernandezHuerta,
  germanSyllables,
  readingOf,
  spanishSyllables,
} from "../../src/letter/readability-formulas.js";
import { clinic, compose, exampleOf, examples, knowledge, withVisit } from "./compose.js";

function counts(parts: Partial<Counts>): Counts {
  return {
    words: 100,
    sentences: 5,
    syllables: 150,
    polysyllables: 10,
    monosyllables: 60,
    longWords: 20,
    ...parts,
  };
}

/** The patient's texts of a disorder as words, whatever their circumstances. */
function saidBy(disorder: Disorder) {
  const { is, means, next, ask, ...rest } = disorder.patient;
  return {
    ...rest,
    is: is.map(wordsOfSentence),
    means: means.map(wordsOfSentence),
    next: next.map(wordsOfSentence),
    ask: ask.map(wordsOfSentence),
  };
}

describe("the formulas", () => {
  it.each([
    [6, 1, 6, -1.45],
    [13, 1, 26, 13.08],
    [100, 5, 150, 9.91],
    [100, 8, 135, 5.215],
  ])("Flesch-Kincaid of %d words, %d sentences, %d syllables is %d", (words, sentences, syllables, grade) => {
    const formula = readingOf("en")?.formula;
    expect(formula?.grade(counts({ words, sentences, syllables }))).toBeCloseTo(grade, 3);
  });

  it.each([
    [4, 1, 14.5546],
    [30, 30, 8.8418],
    [0, 30, 3.1291],
  ])("SMOG of %d long words in %d sentences is %d", (polysyllables, sentences, grade) => {
    expect(readingOf("en")?.besides[0]?.grade(counts({ polysyllables, sentences }))).toBeCloseTo(grade, 3);
  });

  it("Wiener Sachtextformeln 1 and 4, worked by hand", () => {
    // 19.35 x 0.1 + 0.1672 x 20 + 12.97 x 0.2 - 3.27 x 0.6 - 0.875
    expect(readingOf("de-AT")?.formula.grade(counts({}))).toBeCloseTo(5.036, 3);
    // 27.44 x 0.1 + 0.2656 x 20 - 1.693
    expect(readingOf("de")?.besides[0]?.grade(counts({}))).toBeCloseTo(6.363, 3);
  });

  it("Fernández Huerta, worked by hand, with the grades of its table", () => {
    // 206.84 - 60 x 2 - 1.02 x 10
    expect(fernandezHuerta(counts({ syllables: 200, sentences: 10 }))).toBeCloseTo(76.64, 3);
    const grade = (syllables: number) => readingOf("es")?.formula.grade(counts({ syllables, sentences: 10 }));
    expect([170, 185, 200, 220, 235, 260, 300].map(grade)).toEqual([4, 5, 6, 8, 12, 14, 16]);
  });

  it("know no other language, and no empty text", () => {
    expect(readability(["Ein Satz."], "nb")).toBeUndefined();
    expect(readability([], "en")).toBeUndefined();
    expect(readability(["Yes"], "en")).toBeUndefined();
  });
});

describe("syllables", () => {
  it.each([
    ["Haarausfall", 3],
    ["Kopfhaut", 2],
    ["Biopsie", 3],
    ["Untersuchung", 4],
    ["neue", 2],
    ["Quelle", 2],
    ["ÖL", 1],
  ])("German %s: %d", (word, n) => {
    expect(germanSyllables(word)).toBe(n);
  });

  it.each([
    ["alegría", 4],
    ["ciudad", 2],
    ["cuero", 2],
    ["cabello", 3],
    ["raíz", 2],
    ["piel", 1],
    ["muy", 1],
    ["ayuda", 3],
    ["pequeño", 3],
    ["guerra", 2],
    ["leer", 2],
    ["y", 1],
  ])("Spanish %s: %d", (word, n) => {
    expect(spanishSyllables(word)).toBe(n);
  });
});

describe("what is read", () => {
  it("is every passage but headings, labels, letterhead, addresses and drawings", () => {
    const html =
      '<header class="letterhead"><p>Clinic</p></header><h1>Title</h1><p class="subject">Name</p>' +
      "<p><strong>One.</strong> Two &amp; three.<br>Four.</p><ul><li><svg><text>no</text></svg><p>Five.</p></li></ul>" +
      "<table><tr><th>Who</th><td>Six.</td></tr></table><dl><dt>Word</dt><dd><p>Seven.</p></dd></dl>";
    expect(passagesOf(html)).toEqual(["One. Two & three.", "Four.", "Five.", "Six.", "Seven."]);
  });

  it("is parted at full stops, colons and semicolons, not at titles or decimals", () => {
    expect(sentencesOf("See Dr. Brandt today: it is 3.5 mm; she waits. Why?")).toEqual([
      "it is 3.5 mm;",
      "she waits.",
      "Why?",
    ]);
    expect(sentencesOf("the back of the head, near the neck")).toHaveLength(1);
    expect(sentencesOf("Next visit")).toEqual([]);
  });

  it("counts a hyphened word and a number once", () => {
    expect(wordsOf("A 3.5-fold check-up, isn't it?")).toEqual(["A", "3.5-fold", "check-up", "isn't", "it"]);
  });
});

/** A sheet as a whole reads more easily than the hardest text in it may. */
const HANDOUT_GRADE = 7;

describe.each(["en-GB", "en-US", "de", "es"])("every handout in %s", (language) => {
  it.each(examples.map((e) => [e.name, e] as const))(
    "of %s reads at grade 7 or lower by two formulas",
    (_, example) => {
      const read = readability(passagesOf(compose("handout", example, { language }).html), language);
      expect(read?.grade).toBeLessThanOrEqual(HANDOUT_GRADE);
      if (language !== "es") expect(read?.besides.length).toBeGreaterThan(0);
      for (const { name, grade } of read?.besides ?? [])
        expect(grade, name).toBeLessThanOrEqual(HANDOUT_GRADE);
      expect(read?.counts.sentences).toBeGreaterThan(20);
    },
  );
});

it("the handout of each disorder reads at grade 7 or lower by two formulas", () => {
  const hard = Object.values(knowledge.disorders).flatMap(({ id }) => {
    const told = withVisit(exampleOf("TS-2026-0299"), {
      impression: [{ disorder: id, certainty: "probable" }],
    });
    const read = readability(passagesOf(compose("handout", told).html), "en-GB");
    const grades = [read?.grade ?? 99, ...(read?.besides ?? []).map(({ grade }) => grade)];
    return grades.some((grade) => grade > HANDOUT_GRADE) ? [`${id} ${grades.join(" ")}`] : [];
  });
  expect(hard).toEqual([]);
});

/** All that a caution can say to a patient. */
const toPatient = (c: Knowledge["cautions"][string]) => [
  ...(c.patient ? [c.patient] : []),
  ...(c.patient_also ?? []).map(wordsOfSentence),
];

/** A colleague reads a letter in seconds. */
const LONGEST_SENTENCE = 32;
const LONGEST_CAUTION = 60;

describe.each(["en", "de", "es"])("every caution to a colleague in %s", (language) => {
  it.each(Object.values(inLanguage(knowledge, language).cautions).map((c) => [c.id, c] as const))(
    "%s is told in short whole sentences, and briefly",
    (_, c) => {
      const texts = [
        ...(c.doctor ? [c.doctor] : []),
        ...[...(c.doctor_also ?? []), ...(c.doctor_after ?? [])].map(wordsOfSentence),
      ];
      for (const text of texts) expect(text).toMatch(/^[\p{Lu}¿¡].*[.?!]$/su);
      const sentences = texts.flatMap((text) => text.split(/(?<=[.?!;:])\s+/u));
      for (const sentence of sentences)
        expect(sentence.split(/\s+/u).length, sentence).toBeLessThanOrEqual(LONGEST_SENTENCE);
      for (const text of texts) expect(text.split(/\s+/u).length).toBeLessThanOrEqual(LONGEST_CAUTION);
    },
  );
});

describe.each(["en", "de", "es"])("every patient text of the knowledge in %s", (language) => {
  const local = inLanguage(knowledge, language);

  it.each(Object.values(local.disorders).map((d) => [d.id, d] as const))(
    "%s reads at grade 8 or lower",
    (_, d) => {
      const { is, means, next, ask, help } = saidBy(d);
      for (const [part, lines] of Object.entries({ is, means, next, ask, help: help.map((h) => h.sign) })) {
        const grade = readability(
          [lines.map((l) => (/[.?!]$/u.test(l) ? l : `${l}.`)).join(" ")],
          language,
        )?.grade;
        expect(grade, `${d.id} ${part}`).toBeLessThanOrEqual(MOST_GRADE);
      }
    },
  );

  it("findings, cautions and glossary read at grade 8 or lower", () => {
    const hard = [
      ...Object.values(local.findings).map((f) => f.plain.means),
      ...Object.values(local.cautions).flatMap(toPatient),
      // The formulas say nothing of a definition of a few words.
      ...Object.values(local.glossary).filter((m) => wordsOf(m).length >= 10),
    ].filter((text) => (readability([text], language)?.grade ?? 0) > MOST_GRADE);
    expect(hard).toEqual([]);
  });
});

describe("medical words", () => {
  const familiar = new Set(daleChall);
  const stems = (word: string) => [
    word,
    ...["s", "es", "d", "ed", "ing", "ly", "er", "en"].flatMap((end) =>
      word.endsWith(end) ? [word.slice(0, -end.length), `${word.slice(0, -end.length)}e`] : [],
    ),
    word.replace(/ie[sd]$/u, "y"),
    word.replace(/(.)\1(?:ed|ing|er)$/u, "$1"),
  ];
  const words = (text: string): string[] => text.toLowerCase().match(/\p{L}[\p{L}-]+/gu) ?? [];

  /** Words of the trade that are also everyday words to a patient. */
  const EVERYDAY = new Set(
    (
      "active affect affected emergency although angle area areas blue-grey bristles brittle broken bulging clinic colour common " +
      "corkscrew diet different disease effect everyone example examination eyelashes fallen flare fluid frayed frays " +
      "gland glands growth hairline illness infection infections involved itch itches itching joint joints life-long lens loss medicine " +
      "medicines microscope natural normal often patch patches pattern period phase photo photos pinpoint possible pregnancy " +
      "problem pus rash redness regrow replaced result root roots samples scale scalp scaly scar scars several shaft " +
      "shape skin soreness sparse specialist split spot stubs swelling swollen symptoms tender test tests thinner thinning tissue treatment treatments tufts " +
      "advice breakage brow brows calm comma fibre fibres gap gaps gently greasy headwear speckle speckles style styles support temple thickened tummy twisted uneven unevenly urine wavy within " +
      "blisters bruise cancer defences dose dye easily firm groove harmless haze itchy lowered operation palms pressed product sample " +
      "strength transplant " +
      "usual usually visit weak weight widespread yellowish zigzag"
    ).split(" "),
  );
  const trade = new Set(
    [
      ...Object.values(knowledge.findings).flatMap((f) => [f.term, f.what]),
      ...Object.values(knowledge.disorders).flatMap((d) => [d.term, d.letter.about, d.letter.watch ?? ""]),
    ].flatMap(words),
  );

  it("of every patient text are in the glossary, or explained where they stand", () => {
    const glossary = new Set(Object.keys(knowledge.glossary).flatMap(words));
    const unexplained = new Set<string>();
    const check = (text: string, named: string) => {
      for (const word of words(text)) {
        if (!trade.has(word) || stems(word).some((s) => familiar.has(s) || EVERYDAY.has(s))) continue;
        if (stems(word).some((s) => glossary.has(s)) || words(named).includes(word)) continue;
        unexplained.add(word);
      }
    };
    for (const d of Object.values(knowledge.disorders)) {
      const { name, is, means, next, ask, help } = saidBy(d);
      check([...is, ...means, ...next, ...ask, ...help.map((h) => h.sign)].join(" "), `${name} ${d.term}`);
    }
    for (const f of Object.values(knowledge.findings)) check(`${f.plain.name} ${f.plain.means}`, "");
    for (const c of Object.values(knowledge.cautions)) check(toPatient(c).join(" "), "");
    expect([...unexplained].sort()).toEqual([]);
  });

  it("of every handout are all explained: none is cut from its list", () => {
    for (const language of ["en-GB", "de", "es"])
      for (const example of examples) {
        const { html } = compose("handout", example, { language });
        const listed = /<dl>([\s\S]*?)<\/dl>/u.exec(html)?.[1]?.match(/<dt>/gu)?.length ?? 0;
        expect(listed, `${example.name} ${language}`).toBeLessThan(6);
      }
  });

  it("that are not used are not explained", () => {
    for (const example of examples) {
      const { html } = compose("handout", example, { language: "en-GB" });
      const [before = "", list = ""] = html.split("<h2>Words explained</h2>");
      for (const [, word] of list.matchAll(/<dt>([^<]+)<\/dt>/gu))
        expect(before.toLowerCase().includes(word?.toLowerCase() ?? "?"), `${example.name} ${word}`).toBe(
          true,
        );
    }
  });
});

describe("check", () => {
  const example = exampleOf("TS-2026-0141");
  const hard =
    "Notwithstanding intermittent exacerbations, persistent perifollicular inflammation necessitates comprehensive dermatological reevaluation";
  const withHard = withVisit(example, { plan: [{ who: "patient", action: hard }] });
  const names = sparedNames(knowledge, clinic);

  it("names the hard sentence of a clinician, where it was typed", () => {
    const notes = hardSentenceNotes(
      compose("handout", withHard, { language: "en-GB" }),
      withHard.visit,
      names,
    );
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatchObject({ id: "hard-sentence", severity: "note", path: "plan[0].action" });
    expect(notes[0]?.message).toContain("Notwithstanding intermittent");
    expect(notes[0]?.message).toContain("Flesch-Kincaid");
  });

  it("names at most three, hardest first", () => {
    const passages = [
      "Short and easy to read by all of us here.",
      `${hard}.`,
      `${hard} ${hard}.`,
      `${hard} now.`,
      `${hard} too.`,
    ];
    const found = hardSentences(passages, "en");
    expect(found).toHaveLength(3);
    expect([...found].sort((a, b) => b.grade - a.grade)).toEqual(found);
  });

  it("is silent about texts of ours, and about names nobody can shorten", () => {
    for (const e of examples) {
      const quiet = withVisit(e, { plan: [] });
      expect(
        hardSentenceNotes(compose("handout", quiet, { language: "en-GB" }), quiet.visit, names),
        e.name,
      ).toEqual([]);
    }
  });

  it("says which languages are not yet reviewed, and that typed words stay as typed", () => {
    const packs = ["en-GB", "de", "de"].flatMap((l) => loadPack(l).pack ?? []);
    const german = { ...example.visit, patient: { ...example.visit.patient, language: "de" } };
    expect(languageNotes(clinic, german, packs).map((n) => n.id)).toEqual([
      "unreviewed-pack",
      "own-words-language",
    ]);
    expect(languageNotes(clinic, example.visit, packs.slice(0, 1))).toEqual([]);
  });

  it("prints the need for review nowhere on a sheet", () => {
    for (const language of ["de", "es"]) {
      const letter = compose("referral-letter", example, { language });
      expect(`${letter.html} ${letter.confidentiality} ${letter.identifiers}`).not.toMatch(
        /review|native clinician/iu,
      );
    }
  });
});

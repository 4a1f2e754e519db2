import fc from "fast-check";
import { Parser } from "htmlparser2";
import { describe, expect, it } from "vitest";
import type { Clinic } from "../../src/visit/clinic.js";
import type { Visit } from "../../src/visit/visit.js";
import { runs } from "../runs.js";
import { clinic, compose, type Example, exampleOf, wordsIn } from "./compose.js";

/** Every element with its attributes, drawings apart; text left out. */
function skeleton(html: string): string[] {
  const tags: string[] = [];
  let drawn = 0;
  const parser = new Parser({
    onopentag(name, attributes) {
      if (name === "svg") drawn++;
      if (drawn === 0) tags.push(`${name} ${Object.keys(attributes).join(" ")}`);
    },
    onclosetag(name) {
      if (name === "svg") drawn--;
    },
  });
  parser.end(html);
  return tags;
}

/** The example with the same text in every field a person types freely. */
function typed(example: Example, text: string): Example {
  const { visit } = example;
  const items = [`${text} one`, `${text} two`];
  const changed: Visit = {
    ...visit,
    id: visit.id,
    reason: text,
    patient: {
      ...visit.patient,
      name: { title: text, given: text, family: text },
      address: items,
      ancestry: text,
    },
    sendTo: visit.sendTo.map((r) => ({ ...r, name: text, address: items, role: `general practitioner` })),
    history: {
      ...visit.history,
      family: items,
      past: items,
      medicines: items.map((name) => ({ name })),
      allergies: items,
      triggers: items,
      hairCare: items,
      contacts: items,
      notes: text,
    },
    examination: Object.fromEntries(Object.keys(visit.examination).map((k) => [k, text])),
    sites: visit.sites.map((s) => ({ ...s, notes: text })),
    tests: visit.tests.map((t) => ({ ...t, name: text, result: text, unit: text })),
    impression: visit.impression.map((i) => ({ ...i, note: text })),
    plan: visit.plan.map((l) => ({ ...l, action: text, when: text })),
    accept: [{ id: "some-id", reason: text }],
  };
  return { ...example, visit: changed };
}

function typedClinic(text: string): Clinic {
  return {
    ...clinic,
    name: text,
    lines: [text],
    phone: text,
    email: text,
    people: Object.fromEntries(
      Object.entries(clinic.people).map(([id, p]) => [
        id,
        { ...p, name: text, role: text, qualifications: text, registration: text },
      ]),
    ),
    emergency: [{ label: text, number: text }],
  };
}

const KINDS = ["referral-letter", "handout", "reasoning-sheet"];
const HOSTILE = [
  "<b>bold</b>",
  "<script>alert(1)</script>",
  "</p></section></td></table><h1>Taken over</h1>",
  "{{constructor}} {{this}} {{{patient.fullName}}}",
  "{{#each sites}}x{{/each}} {{> signature}} {{drawing 'map'}}",
  "<img src=x onerror=alert(1)>",
  '" onload="x" \'',
  "&lt;b&gt; &amp; &#60;i&#62;",
  "<!-- comment --> <![CDATA[ x ]]>",
  "__proto__ constructor toString",
];

describe("what a person types stays text", () => {
  const example = exampleOf("TS-2026-0141");
  const plain = skeleton(compose("handout", typed(example, "words"), { clinic: typedClinic("words") }).html);

  it.each(HOSTILE)("%s", (text) => {
    for (const kind of KINDS) {
      const { html, identifiers, title } = compose(kind, typed(example, text), { clinic: typedClinic(text) });
      // Where the map stands follows from how much is written beside it: harmless words of the same length say what it is.
      const same = text.replaceAll(/\S/gu, "w");
      const harmless = compose(kind, typed(example, same), { clinic: typedClinic(same) });
      expect(skeleton(html), kind).toEqual(skeleton(harmless.html));
      expect(wordsIn(html).replaceAll(/\s+/gu, " "), kind).toContain(text.replaceAll(/\s+/gu, " "));
      expect(title).not.toContain(text);
      if (kind === "handout") expect(identifiers).toContain(text);
    }
  });

  it("for any text", () => {
    const piece = fc.constantFrom(
      ..."<>&\"'`{}/=!#-",
      "{{",
      "}}",
      "</",
      "script",
      " a ",
      "é",
      "\u202e",
      "$&",
    );
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 12 }), (pieces) => {
        const text = `x${pieces.join("")}x`;
        const { html } = compose("handout", typed(example, text), { clinic: typedClinic(text) });
        expect(skeleton(html)).toEqual(plain);
      }),
      { numRuns: runs(60) },
    );
  });
});

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { Problem } from "../../src/base/problem.js";
import { composeLetter } from "../../src/letter/letter.js";
import { loadPack } from "../../src/letter/pack.js";
import { clinic, compose, exampleOf, knowledge, wordsIn } from "./compose.js";

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** A clinic's own template folder with these files. */
function folder(files: Readonly<Record<string, string>>): string {
  const root = mkdtempSync(join(tmpdir(), "whorl-templates-"));
  made.push(root);
  for (const [name, text] of Object.entries(files)) {
    const file = join(root, name);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, text);
  }
  return root;
}

const example = exampleOf("TS-2026-0141");
const HEAD = "---\ntitle: Own\nreader: doctor\ntype: compact\naddressed: false\n---\n";

function tryOut(files: Readonly<Record<string, string>>, kind = "own", language = "en-GB") {
  return composeLetter(kind, { ...example, clinic, knowledge, language, templates: folder(files) });
}

function own(body: string): { html: string | undefined; problem: Problem | undefined } {
  const { value, problems } = tryOut({ "en/own.hbs": `${HEAD}${body}` });
  return { html: value?.html, problem: problems[0] };
}

describe("a slip in a template", () => {
  it("names its file and line, counting the lines above the body", () => {
    const { value, problems } = tryOut({ "en/own.hbs": `${HEAD}<p>fine</p>\n<p>\n{{patient.fulName}}</p>` });
    expect(value).toBeUndefined();
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ id: "template-error", severity: "error", line: 9, column: 3 });
    expect(problems[0]?.file).toMatch(/en\/own\.hbs$/u);
    expect(problems[0]?.message).toContain('"fulName"');
  });

  it.each([
    ["an open block", "<p>{{#if change}}</p>", 7],
    ["a block closed twice", "<p>\n\n{{#if change}}{{/if}}{{/if}}</p>", 9],
    ["a broken brace", "<p>\n{{patient.fullName}</p>", 8],
  ])("of syntax: %s", (_, body, line) => {
    const { problem } = own(body);
    expect(problem).toMatchObject({ id: "template-error", line });
    expect(problem?.file).toMatch(/own\.hbs$/u);
  });

  it("in a part names the part, not the document that calls it", () => {
    const { problems } = tryOut(
      { "en/signature.part.hbs": "<section>\n<p>{{clinician.nmae}}</p></section>" },
      "referral-letter",
    );
    expect(problems[0]?.file).toMatch(/en\/signature\.part\.hbs$/u);
    expect(problems[0]).toMatchObject({ line: 2, id: "template-error" });
  });

  it("in a part that does not parse names the part", () => {
    const { problems } = tryOut({ "en/window.part.hbs": "<p>\n{{#each recipient.lines}}\n</p>" }, "handout");
    expect(problems[0]?.file).toMatch(/window\.part\.hbs$/u);
    expect(problems[0]?.line).toBeGreaterThanOrEqual(3);
  });

  it("in the head says what the head must hold", () => {
    const { problems } = tryOut({ "en/own.hbs": "---\ntitle: Own\n---\n<p>x</p>" });
    expect(problems[0]).toMatchObject({ id: "template-head", line: 1 });
  });

  it("of an unknown document lists those there are", () => {
    const { problems } = tryOut({ "en/own.hbs": `${HEAD}<p>x</p>` }, "letter-of-referral");
    expect(problems[0]?.id).toBe("unknown-document");
    expect(problems[0]?.expected).toContain("own");
    expect(problems[0]?.expected).toContain("handout");
  });

  it("of a missing or unknown phrase names words.yaml", () => {
    const { problems } = loadPack("nb", folder({ "nb/words.yaml": "language: nb\n" }));
    expect(problems.length).toBeGreaterThan(5);
    for (const p of problems) {
      expect(p.id).toBe("missing-phrase");
      expect(p.file).toMatch(/nb\/words\.yaml$/u);
    }
    expect(loadPack("nb").problems[0]).toMatchObject({ id: "no-language-pack" });
  });
});

describe("a template cannot reach", () => {
  it.each([
    "{{constructor}}",
    "{{patient.constructor}}",
    "{{patient.__proto__}}",
    "{{patient.toString}}",
    "{{#with patient.fullName}}{{constructor.name}}{{/with}}",
    "{{#with (lookup patient 'constructor')}}{{this}}{{/with}}",
    "{{lookup patient 'fullName'}}",
    "{{log patient.fullName}}",
    "{{helperMissing}}",
    "{{blockHelperMissing}}",
    "{{__defineGetter__}}",
    "{{> ../../../etc/passwd}}",
    "{{> (lookup patient 'id')}}",
    "{{process.env.HOME}}",
    "{{require 'fs'}}",
  ])("%s", (body) => {
    const { html, problem } = own(`<p>${body}</p>`);
    expect(html).toBeUndefined();
    expect(problem).toMatchObject({ id: "template-error", line: 7 });
  });

  it("the engine's view in a document that is not the clinician's", () => {
    expect(own("<p>{{#if reasoning}}view{{/if}}</p>").html).toBe("<p></p>");
    expect(own("<p>{{reasoning.agreement.word}}</p>").html).toBeUndefined();
    const { value } = tryOut({
      "en/own.hbs": `${HEAD.replace("doctor", "clinician")}<p>{{reasoning.agreement.word}}</p>`,
    });
    expect(value?.html).toMatch(/<p>\S.*<\/p>/u);
  });

  it("a drawing that is not ours", () => {
    expect(own("{{drawing 'constructor'}}{{drawing '__proto__'}}{{drawing patient.fullName}}").html).toBe("");
  });

  it("but escapes what it prints, also in an attribute", () => {
    const hostile = { ...example.visit, reason: `"><script>alert(1)</script>` };
    const { value } = composeLetter("own", {
      ...example,
      visit: hostile,
      clinic,
      knowledge,
      templates: folder({ "en/own.hbs": `${HEAD}<p lang="{{visit.reason}}">{{visit.reason}}</p>` }),
    });
    expect(value?.html).not.toContain("<script>");
    expect(value?.html).not.toContain(`"><s`);
  });
});

describe("a clinic's own folder", () => {
  const signature = '<section class="signature"><p>With warm regards, {{clinician.name}}</p></section>';

  it("takes the place of one file and leaves the rest current", () => {
    const ours = compose("referral-letter", example);
    const { value } = tryOut({ "en/signature.part.hbs": signature }, "referral-letter");
    const [before] = (value?.html ?? "").split('<section class="signature">');
    const [wanted] = ours.html.split('<section class="signature">');
    expect(before).toBe(wanted);
    expect(wordsIn(value?.html ?? "")).toContain("With warm regards, Dr Anneli Thorsby");
    expect(wordsIn(value?.html ?? "")).not.toContain("Yours sincerely");
  });

  it("may change one phrase and keep the others", () => {
    const files = { "en/words.yaml": 'who_patient: { clinic: "The harbour clinic" }\n' };
    const text = wordsIn(tryOut(files, "handout").value?.html ?? "");
    expect(text).toContain("The harbour clinic");
    expect(text).toContain("Your family doctor");
  });

  it("changes no other language and no other clinic", () => {
    const files = { "en/signature.part.hbs": signature };
    expect(wordsIn(tryOut(files, "referral-letter", "de").value?.html ?? "")).toContain(
      "Mit freundlichen Grüßen",
    );
    expect(wordsIn(compose("referral-letter", example).html)).toContain("Yours sincerely");
  });

  it("keeps American habits over its English words, and its own wording unspelt", () => {
    const files = {
      "en/words.yaml": 'date: "{d} {m} {y}"\n',
      "en/own.hbs": `${HEAD}<p>{{date visit.date}} Colour</p>`,
    };
    expect(tryOut(files, "own", "en-US").value?.html).toBe("<p>March 12, 2026 Colour</p>");
  });

  it("may bring a whole language", () => {
    const root = folder({
      "nn/words.yaml": "language: nn\n",
      "nn/own.hbs": `${HEAD}<p>x</p>`,
    });
    expect(loadPack("nn", root).problems[0]?.file).toMatch(/nn\/words\.yaml$/u);
  });
});

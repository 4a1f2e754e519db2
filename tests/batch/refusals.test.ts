/** Whatever `letter` and `batch` refuse, `check` says first, at the line that mends it: one clinic a scene, all run by the real command. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, relative } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { z } from "zod";
import { PAGE_PROBLEMS, PICTURE_PROBLEMS } from "../../src/base/problem-table.js";
import { inPackage } from "../../src/base/root.js";
import { readManifest } from "../../src/batch/manifest.js";
import { whorl } from "../cli/run-whorl.js";
import { plainJpeg } from "../page/sample-photos.js";
import { LONG } from "../runs.js";

type Content = string | Uint8Array | { readonly link: string };

interface Scene {
  readonly visit?: (text: string) => string;
  readonly clinic?: (text: string) => string;
  /** Other files of the clinic's folder. */
  readonly files?: Readonly<Record<string, Content>>;
  /** The problem, its file, and the text of its line; empty where no line is to blame. */
  readonly says: readonly [id: string, file: string, line: string];
}

/** No more than the scenes need: each is set in type several times. */
const VISIT = `format: 1
visit:
  id: TS-2026-0141
  date: 2026-03-12
  status: signed
  seen_by: anneli-thorsby
  reason: New patch of hair loss, noticed while mending nets.
patient:
  id: TS-40417
  name: { title: Ms, given: Marit, family: Solheim-Adeyemi }
  born: 1991-07-04
  sex: female
send_to:
  - role: general practitioner
    name: Dr Ilse Brandt
    address: [Quayside Practice, 1 Fish Street, Tarn Sound, TS1 1AA]
sites:
  - site: left parietal
    findings:
      exclamation mark hairs: several
    photos:
      - { file: photos/left-1.jpg, caption: Margin. }
impression:
  - { disorder: alopecia areata, certainty: probable }
plan:
  - { who: general practitioner, action: Please repeat thyroid function. }
`;
const PHOTO = plainJpeg(60, 40);
const CLINIC = readFileSync(inPackage("examples", "clinic.yaml"), "utf8");

const line = (key: string) => (text: string) => `${text}${key}\n`;
const reason = (words: string) => (text: string) => text.replace("while mending nets", words);
/** Our handout's head with a body of the clinic's own. */
const own = (body: string): Pick<Scene, "clinic" | "files"> => ({
  clinic: line("templates: own"),
  files: {
    "own/en/handout.hbs": `---\ntitle: About your visit\nreader: patient\n---\n<h1>A</h1>\n{{#if sites}}\n<p>One</p>\n{{/if}}\n${body}\n`,
  },
});
const FAULT = "own/en/handout.hbs";
/** A PNG that says it is 9000 pixels wide and high. */
const HUGE = Buffer.from(
  "89504e470d0a1a0a0000000d49484452000023280000232808020000000000000049454e44ae426082",
  "hex",
);

const SCENES: Readonly<Record<string, Scene>> = {
  "a sign of the visit": {
    visit: reason("\u0915\u0939\u093e"),
    says: ["no-glyph", "visit.yaml", "reason: New patch"],
  },
  "a sign of the clinic file": {
    clinic: (text) => text.replace("MBBS, FRCP", "MBBS \u0e1c"),
    says: ["no-glyph", "clinic.yaml", "qualifications: MBBS"],
  },
  "a sign of a template": { ...own("<p>\u0e1c</p>"), says: ["no-glyph", FAULT, "<p>\u0e1c</p>"] },
  "no folder of typefaces": {
    clinic: line("fonts: none"),
    says: ["typeface-missing", "clinic.yaml", "fonts: none"],
  },
  "a broken typeface": {
    clinic: line("fonts: faces"),
    files: { "faces/a.ttf": "no typeface" },
    says: ["typeface-broken", "clinic.yaml", "fonts: faces"],
  },
  "no logo": { clinic: line("logo: logo.png"), says: ["logo-unreadable", "clinic.yaml", "logo: logo."] },
  "a logo that loads things": {
    clinic: line("logo: logo.svg"),
    files: { "logo.svg": '<svg xmlns="http://www.w3.org/2000/svg"><image href="x.png"/></svg>' },
    says: ["logo-unreadable", "clinic.yaml", "logo: logo."],
  },
  "a logo without a size": {
    clinic: line("logo: logo.svg"),
    files: { "logo.svg": '<svg xmlns="http://www.w3.org/2000/svg" aria-label="Clinic"><rect/></svg>' },
    says: ["drawing-not-set", "", ""],
  },
  "no photo": {
    visit: (text) => text.replace("left-1.jpg", "left-2.jpg"),
    says: ["photo-not-found", "visit.yaml", "- { file: photos/left-2.jpg"],
  },
  "a photo of elsewhere": {
    visit: (text) => text.replace("photos/left-1.jpg", "../left-1.jpg"),
    says: ["bad-path", "visit.yaml", "- { file: ../left-1.jpg"],
  },
  "a photo behind a link": {
    files: { "photos/left-1.jpg": { link: tmpdir() } },
    says: ["photo-outside", "visit.yaml", "- { file: photos/left-1.jpg"],
  },
  "a broken photo": {
    files: { "photos/left-1.jpg": "no photo" },
    says: ["photo-broken", "visit.yaml", "- { file: photos/left-1.jpg"],
  },
  "a huge photo": {
    visit: (text) => text.replace("left-1.jpg", "left-1.png"),
    files: { "photos/left-1.png": HUGE },
    says: ["photo-too-large", "visit.yaml", "- { file: photos/left-1.png"],
  },
  "a language of nobody": {
    clinic: (text) => text.replace("language: en-GB", "language: fr"),
    says: ["no-language-pack", "visit.yaml", ""],
  },
  "no folder of templates": { clinic: line("templates: own"), says: ["no-own-templates", "own", ""] },
  "a template without a head": {
    clinic: line("templates: own"),
    files: { [FAULT]: "---\ntitle: A\n---\n<p>A</p>\n" },
    says: ["template-head", FAULT, "---"],
  },
  "an open if": { ...own("{{#if sites}}\n<p>A</p>"), says: ["template-error", FAULT, ""] },
  "an unknown variable": {
    ...own("<p>{{nosuch}}</p>"),
    says: ["template-error", FAULT, "<p>{{nosuch}}</p>"],
  },
  "an unknown word": {
    clinic: line("templates: own"),
    files: { "own/en/words.yaml": "page: 3\n" },
    says: ["missing-phrase", "own/en/words.yaml", "page: 3"],
  },
  "an unknown element": { ...own("<blink>A</blink>"), says: ["unknown-element", FAULT, "<blink>A</blink>"] },
  "an unknown class": {
    ...own('<p class="odd">A</p>'),
    says: ["unknown-class", FAULT, '<p class="odd">A</p>'],
  },
  "an unknown attribute": {
    ...own('<p onclick="x">A</p>'),
    says: ["unknown-attribute", FAULT, '<p onclick="x">A</p>'],
  },
  "a misplaced element": {
    ...own("<dl><p>A</p></dl>"),
    says: ["misplaced-element", FAULT, "<dl><p>A</p></dl>"],
  },
  "an unclosed element": {
    ...own('<section class="keep">\n<p>A</p>'),
    says: ["unclosed-element", FAULT, ""],
  },
  "a figure without words": {
    ...own('<figure>\n<svg width="9" height="9"><path d="M0 0h9"/></svg></figure>'),
    says: ["figure-without-alternative", FAULT, '<svg width="9"'],
  },
  "a photo of a template": {
    ...own('<figure><img src="photo:p9" alt="A"></figure>'),
    says: ["photo-missing", FAULT, '<figure><img src="photo:p9"'],
  },
  "a ragged table": {
    ...own("<table><tbody>\n<tr><td>A</td></tr>\n<tr><td>A</td><td>B</td></tr></tbody></table>"),
    says: ["ragged-table", FAULT, "<tr><td>A</td></tr>"],
  },
  "an address too long for the window": {
    visit: (text) => text.replace("Quayside Practice,", "Quayside Practice, First floor, East wing,"),
    clinic: (text) => text.replace("uk-dl", "us-10"),
    says: ["address-differs", "visit.yaml", "address: [Quayside Practice, First floor"],
  },
  "a template without cautions and plan": { ...own("<p>A</p>"), says: ["caution-missing", "visit.yaml", ""] },
  "somebody the clinic does not know": {
    visit: (text) => text.replace("seen_by: anneli-thorsby", "seen_by: somebody"),
    says: ["unknown-person", "visit.yaml", "seen_by: somebody"],
  },
};

/** What the page can refuse and no visit, clinic file or template that passes its own check can bring about. */
const NEVER_FROM_FILES: Readonly<Record<string, string>> = {
  "right-to-left": "a passage of thousands of words; the visit file takes no text that long",
  "hidden-characters": "a warning",
  "content-lost": "a fault of ours",
  "page-failed": "a fault of ours",
  "address-does-not-fit": "of labels and envelopes, not of letters",
};

const folder = mkdtempSync(join(tmpdir(), "whorl-refusals-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const problem = z.object({
  severity: z.string(),
  id: z.string(),
  line: z.number().nullable(),
  file: z.string().nullable(),
});
const checked = z.object({
  files: z.array(z.object({ file: z.string(), ok: z.boolean(), problems: z.array(problem) })),
});
const ids = Object.fromEntries(Object.keys(SCENES).map((name, i) => [name, `TS-2026-${9000 + i}`]));
/** A fifth of the scenes is refused by each way to a letter, the others by check alone; all by both with `WHORL_RUNS=1`. */
const WAYS = ["letter", "check", "batch", "check", "check"];
const homeOf = (name: string): string =>
  join(WAYS[Object.keys(SCENES).indexOf(name) % WAYS.length] ?? "", ids[name] ?? "");
const ofWay = (way: "letter" | "batch") =>
  Object.keys(SCENES).flatMap((name) => (LONG || homeOf(name).startsWith(way) ? (ids[name] ?? "") : []));
const found = new Map<string, z.infer<typeof problem>[]>();
let lettered: ReturnType<typeof whorl>;
let refusedByBatch: readonly string[] = [];

beforeAll(async () => {
  for (const [name, { visit, clinic, files }] of Object.entries(SCENES)) {
    const home = join(folder, homeOf(name));
    const all: Readonly<Record<string, Content>> = {
      "photos/left-1.jpg": PHOTO,
      ...files,
      "clinic.yaml": clinic ? clinic(CLINIC) : CLINIC,
      "visit.yaml": (visit ? visit(VISIT) : VISIT).replace("TS-2026-0141", ids[name] ?? ""),
    };
    for (const [path, content] of Object.entries(all)) {
      mkdirSync(dirname(join(home, path)), { recursive: true });
      if (typeof content === "string" || content instanceof Uint8Array)
        writeFileSync(join(home, path), content);
      else symlinkSync(content.link, join(home, path));
    }
  }
  for (const { file, problems } of checked.parse(JSON.parse(whorl(["check", folder, "--json"]).out)).files)
    found.set(
      relative(folder, dirname(file)),
      problems.filter(({ severity }) => severity === "error"),
    );
  lettered = whorl([
    "letter",
    LONG ? folder : join(folder, "letter"),
    "--out",
    join(folder, "made", "letters"),
    "--json",
  ]);
  const out = join(folder, "made", "batch");
  whorl(["batch", LONG ? folder : join(folder, "batch"), "--out", out, "--quiet"]);
  const manifest = readManifest(out);
  refusedByBatch = (manifest?.failures ?? []).map(({ visit }) => visit);
});

test.each(Object.entries(SCENES))("%s is said by check at its line", (name, { says: [id, file, start] }) => {
  const home = homeOf(name);
  const told = found.get(home)?.map((p) => ({
    id: p.id,
    file: p.file === null ? "" : relative(join(folder, home), p.file),
    line: p.line,
  }));
  const [match] = (told ?? []).filter((p) => p.id === id && (file === "" || p.file === file));
  expect(match, JSON.stringify(told)).toBeDefined();
  if (start === "") return;
  const lines = readFileSync(join(folder, home, file), "utf8").split("\n");
  expect(lines[(match?.line ?? 0) - 1]?.trim().startsWith(start), `line ${match?.line}`).toBe(true);
});

test("every scene is refused by letter or by batch as well", () => {
  expect(lettered.code).toBe(1);
  const { made, failed } = z
    .object({ made: z.array(z.unknown()), failed: z.number() })
    .parse(JSON.parse(lettered.out));
  expect([made, failed]).toEqual([[], ofWay("letter").length]);
  expect(refusedByBatch.toSorted()).toEqual(ofWay("batch").toSorted());
});

test("each refusal of the page and of pictures has its scene", () => {
  const told = new Set([...found.values()].flatMap((problems) => problems.map(({ id }) => id)));
  const silent = [...Object.keys(PAGE_PROBLEMS), ...Object.keys(PICTURE_PROBLEMS)].filter(
    (id) => !told.has(id) && !Object.hasOwn(NEVER_FROM_FILES, id),
  );
  expect(silent).toEqual([]);
});

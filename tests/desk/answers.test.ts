/** The desk has no judgement of its own: what it says of a file is what the library says of it. */
import { readFileSync, unlinkSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { examineVisit } from "../../src/batch/examine.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { openDesk } from "../../src/desk/desk.js";
import { visitNames } from "../../src/desk/folder.js";
import { HttpError } from "../../src/desk/http-error.js";
import type { ListedVisit, VisitsFound } from "../../src/desk/list-messages.js";
import type { Signing, SigningAsked, VisitState } from "../../src/desk/messages.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { Changed } from "../../src/desk/session.js";
import { readClinic } from "../../src/visit/clinic.js";
import { readVisit } from "../../src/visit/read.js";
import type { Visit } from "../../src/visit/visit.js";
import { root } from "../house/source-files.js";
import { copyOfExamples, knowledge, TODAY } from "./open-desk.js";
import { readPdf } from "./read-pdf.js";

const copy = copyOfExamples();
let routes: Routes;
beforeAll(() => {
  routes = routesOf(
    openDesk({
      folder: copy.folder,
      knowledge: knowledge(),
      clinics: new ClinicFiles(copy.clinic),
      today: () => TODAY,
    }),
  );
});
afterAll(() => copy.remove());

/** The words of a document as the page shows it. */
async function words(file: string, pane: string): Promise<string> {
  return (await readPdf(await routes.sheet({ file, pane }))).text;
}

const ask = async (route: string, body: object): Promise<VisitState> =>
  (await routes.post[route]?.({ ...body })) as VisitState;
const open = (file: string) => ask("open", { file, pane: "letter" });
const edit = (state: VisitState, ...edits: object[]) =>
  ask("edit", { file: state.file, base: state.hash, pane: "letter", edits });

/** The readable visits of one patient, oldest first. */
const visitsOf = (patient: string): Visit[] =>
  visitNames(join(root, "examples", "patients"), new VisitFiles())
    .flatMap((name) => readVisit(join(root, "examples", "patients", name), knowledge()).value ?? [])
    .filter((visit) => visit.patient.id === patient)
    .sort((a, b) => (a.date < b.date ? -1 : 1));

describe("what the desk says", () => {
  // A first visit, a follow-up, one with photos, one that is signed, and one whose names disagree.
  it.each([
    "TS-41388/2026-09-22.yaml",
    "TS-40417/2026-06-04.yaml",
    "TS-40417/2026-03-12.yaml",
    "TS-38870/2026-08-04.yaml",
  ])("of %s is what the library says", async (file) => {
    const clinic = readClinic(copy.clinic).value;
    const path = join(copy.folder, file);
    const options = { knowledge: knowledge(), today: TODAY, ...(clinic ? { clinic } : {}) };
    const visit = examineVisit(path, options).value?.visit;
    const earlier = visit ? visitsOf(visit.patient.id).filter(({ date }) => date < visit.date) : [];
    const { problems } = examineVisit(path, { ...options, earlier });
    const state = await open(file);
    const said = (list: readonly { id: string; path?: string; severity: string }[]) =>
      list.map((p) => `${p.severity} ${p.id} ${p.path ?? ""}`).sort();
    expect(said(state.problems)).toEqual(said(problems));
    expect(state.sheet?.key).toMatch(/^[0-9a-f]{24}$/u);
  });

  it("of a visit that is opened is first its form, then all of it", async () => {
    const asked = { file: "TS-41520/2026-10-27.yaml", pane: "letter" };
    const form = await ask("form", asked);
    expect(form).toMatchObject({ settled: false, isUnweighed: true, sheet: null, likely: {} });
    expect(form.written).toHaveProperty("sites");
    const whole = await ask("settle", asked);
    expect(whole).toMatchObject({ settled: true, isUnweighed: false, hash: form.hash });
    expect(whole.sheet?.key).toMatch(/^[0-9a-f]{24}$/u);
    // Opened again, it comes with the weighing that it had.
    expect(await ask("form", asked)).toMatchObject({ settled: true, isUnweighed: false, sheet: whole.sheet });
  });

  it("of a change is first quick and then complete", async () => {
    const first = await ask("open", { file: "TS-41388/2026-09-22.yaml", pane: "reasoning" });
    const shown = await open(first.file);
    const quick = await edit(shown, {
      do: "set",
      path: ["sites", 0, "findings", "exclamation mark hairs"],
      value: "many",
    });
    expect(quick.settled).toBe(false);
    expect(quick.sheet?.key).not.toBe(shown.sheet?.key);
    expect(await words(first.file, "letter")).toMatch(/Many: [^.]*exclamation mark hairs/u);
    const settled = await ask("settle", { file: first.file, pane: "reasoning" });
    expect(settled.settled).toBe(true);
    const leads = (s: VisitState) =>
      s.reasoning?.disorders.find(({ id }) => id === "alopecia-areata")?.score ?? 0;
    expect(leads(settled)).toBeGreaterThan(leads(first));
    // Whoever looks at the reasoning gets it with the answer to the edit.
    const { file, hash } = settled;
    const path = ["sites", 0, "findings", "exclamation mark hairs"];
    const edits = [{ do: "set", path, value: "none" }];
    const beside = await ask("edit", { file, base: hash, pane: "reasoning", edits });
    expect(beside.settled).toBe(true);
    expect(leads(beside)).toBeLessThan(leads(settled));
  });

  it("of a mistyped word is a problem at its place, and the sheet stays at the last good state", async () => {
    const first = await open("TS-41388/2026-09-22.yaml");
    const wrong = await edit(first, { do: "set", path: ["history", "onset"], value: "suden" });
    const problem = wrong.problems.find(({ path }) => path === "history.onset");
    expect(problem).toMatchObject({ severity: "error", id: "unknown-word", suggestion: "sudden" });
    expect(wrong.sheet).toMatchObject({ stale: true });
    expect(wrong.sheet?.key).toBe(first.sheet?.key);
    const back = await ask("undo", { file: wrong.file, base: wrong.hash, pane: "letter" });
    expect(back.sheet).toMatchObject({ stale: false });
  });
});

describe("steps back and forth", () => {
  it("lead through every change to the first text and forward again", async () => {
    const file = "TS-41388/2026-09-22.yaml";
    const first = await open(file);
    let state = first;
    for (const [i, value] of ["1", "12", "3"].entries())
      state = await edit(state, { do: "set", path: ["extent", ["top", "left", "back"][i]], value });
    const last = readFileSync(join(copy.folder, file), "utf8");
    const step = (route: string) => ask(route, { file, base: state.hash, pane: "letter" });
    while (state.hash !== first.hash && state.canUndo) state = await step("undo");
    expect(state.hash).toBe(first.hash);
    while (state.canRedo) state = await step("redo");
    expect(readFileSync(join(copy.folder, file), "utf8")).toBe(last);
  });

  it("take typing in one place as one step", async () => {
    const first = await open("TS-41388/2026-09-22.yaml");
    let state = first;
    for (const value of ["A", "Al", "Ali"])
      state = await edit(state, { do: "set", path: ["history", "notes"], value });
    state = await ask("undo", { file: state.file, base: state.hash, pane: "letter" });
    expect(state.hash).toBe(first.hash);
  });
});

const WHY = "A test result came in after the letter.";
const signing = async (state: VisitState) =>
  (await routes.post.signing?.({ file: state.file, base: state.hash })) as Signing;
const sign = async (state: VisitState, by = "anneli-thorsby", digest?: string) =>
  ask("sign", {
    file: state.file,
    base: state.hash,
    pane: "letter",
    by,
    digest: digest ?? (await signing(state)).digest,
  });
const reopen = (state: VisitState, reason = WHY) =>
  ask("reopen", { file: state.file, base: state.hash, pane: "letter", reason });
const refusalOf = async (asked: Promise<unknown>): Promise<HttpError> => {
  const refusal = await asked.then(
    () => undefined,
    (error: unknown) => error,
  );
  if (!(refusal instanceof HttpError)) throw new Error(`not refused: ${String(refusal)}`);
  return refusal;
};

const SEAL = /^1-[0-9a-f]{64}$/u;

describe("a signed visit", () => {
  it("is not edited until it is a draft again, for a reason that stays in the file", async () => {
    const signed = await open("TS-40417/2026-03-12.yaml");
    expect(signed.signed).toBe(true);
    await expect(edit(signed, { do: "set", path: ["visit", "reason"], value: "X" })).rejects.toThrow(
      HttpError,
    );
    await expect(reopen(signed, "  ")).rejects.toThrow(HttpError);
    const draft = await reopen(signed);
    const before = readFileSync(join(root, "examples", "patients", signed.file), "utf8");
    const now = readFileSync(join(copy.folder, signed.file), "utf8");
    expect(now.replace(/^signed: .*\n/mu, "")).toBe(before.replace("status: signed", "status: draft"));
    expect(draft.written?.signed).toMatchObject({ by: "anneli-thorsby", reason: WHY });
    expect(
      (await edit(draft, { do: "set", path: ["visit", "reason"], value: "X" })).written?.visit,
    ).toMatchObject({ reason: "X" });
    const again = await sign(await open(signed.file), "anneli-thorsby");
    expect(again.written?.signed).toEqual({
      by: "anneli-thorsby",
      at: expect.stringMatching(/^\d{4}-\d\d-\d\dT\d\d:\d\d[+-]\d\d:\d\d$/u),
      seal: expect.stringMatching(/^2-[0-9a-f]{64}-[0-9a-f]{32}$/u),
      edition: "2",
      reason: WHY,
    });
    expect(again.problems.filter(({ severity }) => severity === "error")).toEqual([]);
    const marks = join(copy.folder, dirname(signed.file), "photos", "left-1.marks.yaml");
    const kept = readFileSync(marks, "utf8");
    writeFileSync(marks, kept.replace("class: terminal", "class: vellus"));
    expect((await open(signed.file)).problems.map(({ id }) => id)).toContain("count-against-marks");
    writeFileSync(marks, kept);
  });

  it("is not signed any more with another photo or a mark that moved; an earlier seal knows photos by name", async () => {
    const file = "TS-40417/2026-03-12.yaml";
    const told = async () =>
      (await open(file)).problems
        .filter(({ id }) => id === "changed-since-signing")
        .map(({ message }) => message);
    const changed = "the visit was changed after it was signed: photos or their marks";
    expect(await told()).toEqual([]);
    const photo = join(copy.folder, dirname(file), "photos", "left-1.jpg");
    const marks = photo.replace(/jpg$/u, "marks.yaml");
    const [bytes, marked] = [readFileSync(photo), readFileSync(marks, "utf8")];
    writeFileSync(marks, `${marked}# other\n`);
    expect(await told()).toEqual([changed]);
    writeFileSync(marks, marked);
    expect(await told()).toEqual([]);
    unlinkSync(marks);
    writeFileSync(photo, Buffer.concat([bytes, Buffer.of(0)]));
    expect(await told()).toEqual([changed]);
    writeFileSync(photo, bytes);
    writeFileSync(marks, `${marked}# moved\n`);
    const path = join(copy.folder, file);
    const text = readFileSync(path, "utf8");
    writeFileSync(path, text.replace(/seal: 2-([0-9a-f]{64})-[0-9a-f]{32}/u, "seal: 1-$1"));
    expect(await told()).toEqual([]);
    writeFileSync(marks, marked);
    writeFileSync(path, text);
  });

  it("asks why it replaces an edition that only the register knows", async () => {
    const file = "TS-40588/2026-07-14.yaml";
    const path = join(copy.folder, file);
    const before = readFileSync(path, "utf8");
    // Signed at the desk once, then made a draft in an editor, with no word of the signature left.
    const reopened = before.replace("status: signed", "status: draft").replace(/^signed: .*\n/mu, "");
    writeFileSync(path, reopened);
    const first = await sign(await open(file), "anneli-thorsby");
    expect(first.written?.signed).not.toHaveProperty("edition");
    writeFileSync(path, reopened);
    const again = await open(file);
    const list = (await routes.post.signing?.({ file, base: again.hash })) as SigningAsked;
    expect(list).toMatchObject({ edition: 2, needsReason: true });
    const given = { file, base: again.hash, pane: "letter", by: "anneli-thorsby", digest: list.digest };
    await expect(ask("sign", given)).rejects.toThrow("say why it replaces");
    const { written } = await ask("sign", { ...given, reason: WHY });
    expect(written?.signed).toMatchObject({ edition: "2", reason: WHY });
    writeFileSync(path, before);
  });

  it("needs an impression, a recipient and no error", async () => {
    const draft = await open("TS-41388/2026-09-22.yaml");
    const without = await edit(draft, { do: "remove", path: ["impression"] });
    const refusal = await refusalOf(sign({ ...without, signed: false }));
    expect(refusal.problems.map(({ id }) => id)).toContain("signed-without-impression");
    const back = await ask("undo", { file: draft.file, base: without.hash, pane: "letter" });
    const nobody = await edit(back, { do: "remove", path: ["send_to"] });
    await expect(sign(nobody)).rejects.toThrow("cannot be signed");
    expect((await open(draft.file)).signed).toBe(false);
    await ask("undo", { file: draft.file, base: nobody.hash, pane: "letter" });
  });

  it("was signed by somebody who may, on the list of what stood open", async () => {
    const draft = await open("TS-41388/2026-09-22.yaml");
    const { open: points, errors, digest } = await signing(draft);
    expect(errors).toEqual([]);
    const said = draft.problems
      .filter(({ severity, id }) => severity === "warning" && id !== "must-not-miss-open")
      .map(({ id }) => id);
    expect(points.filter(({ kind }) => kind === "warning").map(({ id }) => id)).toEqual(said);
    const { reasoning } = await ask("open", { file: draft.file, pane: "reasoning" });
    const raised = reasoning?.mustNotMiss.filter(({ answeredByPlan }) => !answeredByPlan) ?? [];
    expect(raised.length).toBeGreaterThan(0);
    expect(points.filter(({ kind }) => kind === "must not be missed").map(({ says }) => says)).toEqual(
      raised.map(({ why, urgency, who }) => `${why} (${urgency}; ${who})`),
    );
    expect(points.filter(({ kind }) => kind === "not asked").map(({ id }) => id)).toEqual(
      reasoning?.askedFor.map(({ id }) => id),
    );
    const unprinted = (list: Signing) =>
      list.open.filter(({ kind }) => kind === "not printed").map(({ id }) => id);
    expect(unprinted({ open: points, errors, digest })).toEqual(["patient.address"]);
    const counted = await edit(draft, {
      do: "set",
      path: ["sites", 0, "fields"],
      value: [{ yellow_dots: "3" }],
    });
    expect(unprinted(await signing(counted))).toEqual(["patient.address", "sites.fields.yellow_dots"]);
    const draftAgain = await ask("undo", { file: draft.file, base: counted.hash, pane: "letter" });
    expect(draftAgain.hash).toBe(draft.hash);
    await expect(sign(draft, "wen-castellane", digest)).rejects.toThrow("Choose who signs");
    await expect(sign(draft, "nobody", digest)).rejects.toThrow("Choose who signs");
    await expect(sign(draft, "anneli-thorsby", "0")).rejects.toThrow("Read the list again");
    const changed = await edit(draft, { do: "set", path: ["history", "notes"], value: "Read since." });
    await expect(sign(changed, "anneli-thorsby", digest)).rejects.toThrow("Read the list again");
    // Another may have seen the patient: whoever signs need not be the one who did.
    expect(changed.written?.visit).toMatchObject({ seen_by: "rafiq-oyelaran" });
    const signed = await sign(changed, "anneli-thorsby");
    expect(signed.problems.map(({ id }) => id)).not.toContain("may-not-sign");
    expect(signed.written?.signed).toEqual({
      by: "anneli-thorsby",
      seal: expect.stringMatching(SEAL),
      at: expect.any(String),
    });
    await ask("undo", { file: draft.file, base: signed.hash, pane: "letter" }).catch(() => undefined);
    writeFileSync(
      join(copy.folder, draft.file),
      readFileSync(join(root, "examples", "patients", draft.file), "utf8"),
    );
  });

  it("holds nothing that no typeface can print", async () => {
    const draft = await open("TS-41388/2026-09-22.yaml");
    const odd = await edit(draft, { do: "set", path: ["history", "notes"], value: "Seen by \u{1F469}." });
    const told = odd.problems.find(({ path }) => path === "history.notes");
    expect(told).toMatchObject({ severity: "error", id: "no-glyph", found: "\u{1F469}" });
    const refusal = await refusalOf(sign(odd));
    expect(refusal.problems.map(({ id }) => id)).toContain("no-glyph");
    await ask("undo", { file: draft.file, base: odd.hash, pane: "letter" });
  });

  it("is never written over by an edit made on another text", async () => {
    const state = await open("TS-40588/2026-07-14.yaml");
    await expect(
      ask("edit", { file: state.file, base: "0", pane: "letter", edits: [{ do: "remove", path: ["plan"] }] }),
    ).rejects.toThrow(Changed);
    expect(readFileSync(join(copy.folder, state.file), "utf8")).toBe(
      readFileSync(join(root, "examples", "patients", state.file), "utf8"),
    );
  });
});

describe("the list", () => {
  const listed = async (find: string, most: number) =>
    (await routes.post.list?.({ find, most, now: true })) as Partial<VisitsFound>;

  it("tells the state of every visit", async () => {
    let visits: readonly ListedVisit[] | undefined;
    // A first look may take longer than one answer waits for.
    while (!visits) visits = (await listed("", 100)).visits;
    expect(visits).toHaveLength(visitNames(copy.folder, new VisitFiles()).length);
    expect(new Set(visits.map(({ state }) => state))).toContain("signed");
    expect(visits.find(({ file }) => file === "TS-41388/2026-09-22.yaml")?.state).toBe("draft");
  });

  it("finds a visit by all the words asked for, the newest first and no more than asked for", async () => {
    const { visits: all = [] } = await listed("", 100);
    const { visits: few = [], found, of } = await listed("", 2);
    expect(few).toEqual(all.slice(0, 2));
    expect([found, of]).toEqual([all.length, all.length]);
    const one = await listed("  ts-41388   DRAFT ", 100);
    expect(one.visits?.map(({ file }) => file)).toEqual(["TS-41388/2026-09-22.yaml"]);
    expect([one.found, one.of]).toEqual([1, all.length]);
    expect((await listed("ts-41388 signed nobody", 100)).found).toBe(0);
  });
});

describe("a follow-up", () => {
  it("starts from what lasts and from no finding", async () => {
    const begun = (await routes.post.new?.({
      id: "TS-2026-0999",
      date: "2026-09-01",
      seenBy: "rafiq-oyelaran",
      reason: "",
      patientId: "",
      title: "",
      given: "",
      family: "",
      born: "",
      sex: "",
      follows: "TS-40417/2026-06-04.yaml",
    })) as { file: string };
    expect(begun.file).toBe("TS-40417/2026-09-01.yaml");
    const state = await open(begun.file);
    expect(state.earlier.map(({ id }) => id)).toEqual(["TS-2026-0141", "TS-2026-0388"]);
    expect(state.problems.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(readFileSync(join(copy.folder, begun.file), "utf8")).toBe(FOLLOW_UP);
  });
});

const FOLLOW_UP = `format: 1
visit:
  id: TS-2026-0999
  date: 2026-09-01
  status: draft
  seen_by: rafiq-oyelaran
patient:
  id: TS-40417
  name: { title: Ms, given: Marit, family: Solheim-Adeyemi }
  born: 1991-07-04
  sex: female
  phototype: III
  address: [ 4 Ropewalk Steps, Tarn Sound, TS2 4QF ]
  language: en-GB
send_to:
  - role: general practitioner
    name: Dr Ilse Brandt
    address: [ Quayside Practice, 1 Fish Street, Tarn Sound, TS1 1AA ]
history:
  family: [ alopecia areata (mother) ]
  past: [ hypothyroidism ]
  medicines: [ levothyroxine ]
scope: { magnification: 20, light: polarised, contact: dry, field_diameter_mm: 11 }
sites:
  - site: left parietal
    at: { x: 0.42, y: 0.55 }
  - site: occipital
`;

const NEW = {
  id: "TS-2026-0900",
  date: "2026-11-25",
  seenBy: "anneli-thorsby",
  reason: "",
  patientId: "TS-50990",
  title: "",
  given: "Olga",
  family: "Other",
  born: "1950-01-01",
  sex: "female",
};
const begin = async (more: Partial<typeof NEW>) =>
  (await routes.post.new?.({ ...NEW, ...more })) as { file: string };

describe("a new visit", () => {
  it.each([
    ["born", "25/06/97", "patient.born"],
    ["born", "2031-01-01", "patient.born"],
    ["date", "tomorrow", "visit.date"],
    ["patientId", "ZZ 1/2", "patient.id"],
    ["id", "A/B", "visit.id"],
    ["family", "", "patient.name.family"],
  ])("does not begin with %s %j", async (field, value, path) => {
    const refusal = await refusalOf(begin({ [field]: value }));
    expect(refusal.problems.map((p) => p.path)).toContain(path);
  });

  it("does not take the number of another patient or visit in silence", async () => {
    const number = await refusalOf(begin({ patientId: "TS-41388" }));
    expect(number.problems.map(({ id }) => id)).toEqual([
      "given-differs",
      "family-differs",
      "born-differs",
      "sex-differs",
    ]);
    const visit = await refusalOf(begin({ id: "TS-2026-0141", reason: "It is right." }));
    expect(visit.problems.map(({ id }) => id)).toEqual(["visit-of-two-patients"]);
    const twin = await refusalOf(
      begin({ given: "marit", family: "Solheim Adeyemi", born: "1991-07-04", patientId: "TS-50991" }),
    );
    expect(twin.problems.map(({ id }) => id)).toEqual(["one-person-two-numbers"]);
  });

  it("a sheet that names another person shows nothing of the visits before", async () => {
    const opened = await open("TS-40417/2026-06-04.yaml");
    expect(opened.earlier.map(({ date }) => date)).toEqual(["2026-03-12"]);
    const draft = await ask("reopen", {
      file: opened.file,
      base: opened.hash,
      pane: "letter",
      reason: "Name.",
    });
    const path = ["patient", "name", "family"];
    const edited = await edit(draft, { do: "set", path, value: "Other" });
    expect([edited.earlier, edited.settled]).toEqual([[], false]);
    const settled = await ask("settle", { file: edited.file, pane: "letter" });
    expect(settled.earlier).toEqual([]);
    expect(settled.problems.map(({ id }) => id)).toContain("family-differs");
    const back = await edit(settled, { do: "set", path, value: "Solheim-Adeyemi" });
    const again = await ask("settle", { file: back.file, pane: "letter" });
    expect(again.earlier.map(({ date }) => date)).toEqual(["2026-03-12"]);
  });

  it("of a patient with a new name keeps the reason, and is one with the visits before", async () => {
    const reason = "Married in June; identity card seen.";
    const { file } = await begin({
      patientId: "TS-40417",
      given: "Marit",
      family: "Other",
      born: "1991-07-04",
      reason,
    });
    const state = await open(file);
    expect(state.written?.accept).toEqual([{ id: "family-differs", reason }]);
    expect(state.problems.find(({ id }) => id === "family-differs")?.severity).toBe("note");
    expect(state.earlier.map(({ date }) => date)).toContain("2026-03-12");
    unlinkSync(join(copy.folder, file));
  });
});

describe("documents", () => {
  it("are offered to the visit that they were made of, by content and never by name", async () => {
    const file = "TS-40417/2026-06-04.yaml";
    const path = join(copy.folder, file);
    const made = await ask("make", { file, pane: "letter" });
    expect(made.made.map(({ kind, current }) => [kind, current])).toEqual([
      ["referral-letter", true],
      ["handout", true],
    ]);
    const bytes = (link: string) => routes.document(link.split("/")[2] ?? "");
    const shown = await routes.sheet({ file, pane: "letter" });
    expect(Buffer.from(bytes(made.made[0]?.link ?? "")).equals(Buffer.from(shown))).toBe(true);

    // The same number in another file of the folder: nothing of the first is offered there.
    const copied = join(copy.folder, "TS-40417", "2026-06-05.yaml");
    writeFileSync(copied, readFileSync(path, "utf8").replace("family: Solheim-Adeyemi", "family: Other"));
    const foreign = await open("TS-40417/2026-06-05.yaml");
    expect(foreign.made).toEqual([]);
    expect(foreign.problems.map(({ id }) => id)).toEqual(
      expect.arrayContaining(["visit-twice", "family-differs"]),
    );
    await expect(ask("make", { file: "TS-40417/2026-06-05.yaml", pane: "letter" })).rejects.toThrow(
      HttpError,
    );
    unlinkSync(copied);

    // Another document under the same name is not the one that was made.
    const letter = join(copy.folder, "TS-40417", "letters", made.made[0]?.name ?? "");
    const good = readFileSync(letter);
    writeFileSync(letter, Buffer.concat([good, Buffer.from(" ")]));
    expect((await open(file)).made.map(({ kind }) => kind)).toEqual(["handout"]);
    expect(() => bytes(made.made[0]?.link ?? "")).toThrow(HttpError);
    writeFileSync(letter, good);
    expect((await open(file)).made).toHaveLength(2);
  });
});

describe("a file that is gone", () => {
  it("is said at once and written again with every word", async () => {
    const file = "TS-41388/2026-09-22.yaml";
    const path = join(copy.folder, file);
    const state = await open(file);
    const text = readFileSync(path, "utf8");
    unlinkSync(path);
    for (const asked of [
      async () => routes.post.peek?.({ file }),
      () => edit(state, { do: "set", path: ["history", "notes"], value: "X" }),
    ])
      expect((await refusalOf(Promise.resolve().then(asked))).status).toBe(410);
    await ask("restore", { file, pane: "letter", written: state.written });
    expect(readFileSync(path, "utf8")).toBe(text);
  });
});

describe("the page", () => {
  it("weighs less than 600 kB until it can be used, words and drawings included", async () => {
    const built = (name: string) => readFileSync(join(root, "dist", "desk", "page", name)).length;
    const bytes = built("main.js") + built("desk.css") + JSON.stringify(await routes.get.words?.()).length;
    expect(bytes).toBeGreaterThan(100_000);
    expect(bytes).toBeLessThan(600_000);
    // What draws the pages comes later and apart.
    expect(readFileSync(join(root, "dist", "desk", "page", "main.js"), "utf8")).not.toContain("getDocument");
  });
});

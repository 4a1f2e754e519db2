/** The desk has no judgement of its own: what it says of a file is what the library says of it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { examineVisit } from "../../src/batch/examine.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { openDesk } from "../../src/desk/desk.js";
import { visitNames } from "../../src/desk/folder.js";
import type { ListedVisit, VisitState } from "../../src/desk/messages.js";
import { Refused } from "../../src/desk/refused.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { Changed } from "../../src/desk/session.js";
import { readClinic } from "../../src/visit/clinic.js";
import { readVisit } from "../../src/visit/read.js";
import type { Visit } from "../../src/visit/visit.js";
import { root } from "../house/source-files.js";
import { copyOfExamples, knowledge, TODAY } from "./open-desk.js";

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
  it.each(visitNames(copy.folder, new VisitFiles()))("of %s is what the library says", async (file) => {
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
    expect(state.sheet?.html).toContain("<!doctype html>");
  });

  it("of a change is first quick and then complete", async () => {
    const first = await ask("open", { file: "TS-41388/2026-09-22.yaml", pane: "reasoning" });
    const quick = await edit(first, {
      do: "set",
      path: ["sites", 0, "findings", "exclamation mark hairs"],
      value: "many",
    });
    expect(quick.settled).toBe(false);
    expect(quick.sheet?.html).toMatch(/exclamation mark hairs/u);
    const settled = await ask("settle", { file: first.file, pane: "reasoning" });
    expect(settled.settled).toBe(true);
    const leads = (s: VisitState) =>
      s.reasoning?.disorders.find(({ id }) => id === "alopecia-areata")?.score ?? 0;
    expect(leads(settled)).toBeGreaterThan(leads(first));
  });

  it("of a mistyped word is a problem at its place, and the sheet stays at the last good state", async () => {
    const first = await open("TS-41388/2026-09-22.yaml");
    const wrong = await edit(first, { do: "set", path: ["history", "onset"], value: "suden" });
    const problem = wrong.problems.find(({ path }) => path === "history.onset");
    expect(problem).toMatchObject({ severity: "error", id: "unknown-word", suggestion: "sudden" });
    expect(wrong.sheet).toMatchObject({ stale: true });
    expect(wrong.sheet?.html).not.toBeNull();
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

describe("a signed visit", () => {
  it("is not edited until it is a draft again", async () => {
    const signed = await open("TS-40417/2026-03-12.yaml");
    expect(signed.signed).toBe(true);
    await expect(edit(signed, { do: "set", path: ["visit", "reason"], value: "X" })).rejects.toThrow(Refused);
    const draft = await ask("reopen", { file: signed.file, base: signed.hash, pane: "letter" });
    const before = readFileSync(join(root, "examples", "patients", signed.file), "utf8");
    expect(readFileSync(join(copy.folder, signed.file), "utf8")).toBe(
      before.replace("status: signed", "status: draft"),
    );
    expect(
      (await edit(draft, { do: "set", path: ["visit", "reason"], value: "X" })).written?.visit,
    ).toMatchObject({ reason: "X" });
  });

  it("needs an impression, a recipient and no error", async () => {
    const draft = await open("TS-41388/2026-09-22.yaml");
    const without = await edit(draft, { do: "remove", path: ["impression"] });
    const sign = (state: VisitState) => ask("sign", { file: state.file, base: state.hash, pane: "letter" });
    const refusal = await sign(without).catch((error: unknown) => error);
    expect(refusal).toBeInstanceOf(Refused);
    expect((refusal as Refused).problems.map(({ id }) => id)).toContain("signed-without-impression");
    const back = await ask("undo", { file: draft.file, base: without.hash, pane: "letter" });
    const nobody = await edit(back, { do: "remove", path: ["send_to"] });
    await expect(sign(nobody)).rejects.toThrow("cannot be signed");
    expect((await open(draft.file)).signed).toBe(false);
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
  it("tells the state of every visit", () => {
    const { visits } = (routes.get.visits?.() ?? { visits: [] }) as { visits: ListedVisit[] };
    expect(visits).toHaveLength(visitNames(copy.folder, new VisitFiles()).length);
    expect(new Set(visits.map(({ state }) => state))).toContain("signed");
    expect(visits.find(({ file }) => file === "TS-41388/2026-09-22.yaml")?.state).toBe("draft");
  });
});

describe("a follow-up", () => {
  it("starts from what lasts and from no finding", async () => {
    const begun = (await routes.post.new?.({
      id: "TS-2026-0999",
      date: "2026-09-01",
      seenBy: "rafiq-oyelaran",
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

describe("the page", () => {
  it("weighs less than 150 kB of compressed script", () => {
    const bytes = gzipSync(readFileSync(join(root, "dist", "desk", "page", "main.js"))).length;
    expect(bytes).toBeGreaterThan(10_000);
    expect(bytes).toBeLessThan(150_000);
  });
});

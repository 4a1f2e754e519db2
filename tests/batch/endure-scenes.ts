/** Situations in which a run may die: each with the folder as it was before, and as an undisturbed run leaves it. */
import { cpSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { sha256 } from "../../src/base/sha256.js";
import { whorl, whorlProcess } from "./command.js";
import { fingerprintsIn, type Picture, pictureOf } from "./endure-picture.js";
import { freshRegister } from "./endure-register.js";
import { generateVisits } from "./generate-visits.js";

export interface Scene {
  readonly name: string;
  readonly args: readonly string[];
  /** Exit code of an undisturbed run. */
  readonly code: number;
  readonly out: string;
  /** The folder that the command works in: `out` or a part of it. */
  readonly work: string;
  /** The print run, in a folder of its own. */
  readonly printed?: string;
  /** Puts the folder back to how it was before. */
  reset(): void;
  readonly before: Picture;
  readonly after: Picture;
  /** As the undisturbed run left them. */
  readonly fingerprints: ReadonlyMap<string, string>;
  readonly isReadOnly: boolean;
  /** Folder of the clinic whose register the run writes. */
  readonly clinic?: string;
  /** Joins parts and makes no letters. */
  readonly isGathering: boolean;
  readonly printedHash?: string;
  /** Of the undisturbed run, to spread kills over. */
  readonly milliseconds: number;
}

interface Plan {
  readonly name: string;
  readonly args: (out: string) => readonly string[];
  readonly print?: boolean;
  /** Two visits with letter and handout; otherwise five with slips. */
  readonly ordinary?: boolean;
  /** The clinic has a register. */
  readonly register?: boolean;
  /** The command must not change anything. */
  readonly readOnly?: boolean;
  /** Folder of the part that is made. */
  readonly part?: string;
  /** Makes what lies in the folder before; the visits are as first written. */
  readonly lead?: (out: string) => void;
  /** Changes the visits after that. */
  readonly change?: (visits: string, files: readonly string[]) => void;
}

/** One page each, by templates of the clinic's own, so that more runs can be killed in the time. */
const SLIPS = ["slip", "copy-slip"];
const SLIP = `---
title: Slip
reader: doctor
type: compact
addressed: false
---
<p>{{visit.id}}: {{sentence visit.reason}}</p>
`;
const JOBS = ["--jobs", "1"];

/** Sets every scene up; takes some runs. */
export function makeScenes(folder: string, names?: readonly string[]): Scene[] {
  return PLANS.filter((plan) => names?.includes(plan.name) ?? true).map((plan) =>
    makeScene(join(folder, plan.name.replaceAll(" ", "-")), plan),
  );
}

function makeScene(folder: string, plan: Plan): Scene {
  const source = join(folder, "visits");
  const out = join(folder, "out");
  const lead = join(folder, "lead");
  const straight = join(folder, "straight");
  const { files } = generateVisits(source, plan.ordinary ? 2 : 5);
  // The slip of one names another patient and is set aside.
  const other = patientIn(files[0]);
  if (files[4]) edit(files[4], (t) => t.replace(/^ {2}reason: .*$/mu, `  reason: As in ${other}.`));
  mkdirSync(templatesOf(out), { recursive: true });
  mkdirSync(join(templatesOf(out), "en"));
  for (const name of SLIPS) writeFileSync(join(templatesOf(out), "en", `${name}.hbs`), SLIP);
  mkdirSync(lead, { recursive: true });
  plan.lead?.(lead);
  plan.change?.(source, files);
  const reset = () => {
    rmSync(out, { recursive: true, force: true });
    rmSync(join(folder, "print"), { recursive: true, force: true });
    cpSync(lead, out, { recursive: true });
    if (plan.register) freshRegister(source);
  };
  if (plan.register) freshRegister(source);
  cpSync(lead, straight, { recursive: true });
  const start = performance.now();
  const printTo = (name: string) =>
    plan.print ? ["--print-run", join(folder, name, "run.pdf"), "--duplex"] : [];
  const ran = whorlProcess(...plan.args(straight), ...printTo("print-straight"));
  const milliseconds = performance.now() - start;
  if (ran.code === null || ran.code > 1) throw new Error(`${plan.name}: ${ran.err}`);
  return {
    name: plan.name,
    args: [...plan.args(out), ...printTo("print")],
    code: ran.code,
    out,
    work: join(out, plan.part ?? ""),
    reset,
    before: pictureOf(lead),
    after: pictureOf(straight),
    fingerprints: fingerprintsIn(straight),
    ...(plan.register ? { clinic: source } : {}),
    isReadOnly: plan.readOnly ?? false,
    isGathering: plan.name === "gather",
    milliseconds,
    ...(plan.print
      ? {
          printed: join(folder, "print", "run.pdf"),
          printedHash: sha256(readFileSync(join(folder, "print-straight", "run.pdf"))),
        }
      : {}),
  };
}

/** The visits lie beside the folder that the letters go to. */
const visitsOf = (out: string) => join(out, "..", "visits");
const templatesOf = (out: string) => join(out, "..", "templates");
const letters = (out: string, ...more: string[]) => ["batch", visitsOf(out), "--out", out, ...JOBS, ...more];
const batch = (out: string, ...more: string[]) =>
  letters(out, "--templates", templatesOf(out), "--document", ...SLIPS, ...more);
const made = (out: string) => void whorl(...batch(out));
const parts = (out: string) => {
  for (const part of ["1/2", "2/2"]) whorl(...batch(out, "--shard", part));
};

/** One visit gone, one edited, one slip no longer set aside, one now set aside, one visit as it was. */
function changeVisits(_: string, files: readonly string[]): void {
  edit(files[4], (t) => t.replace(/^ {2}reason: .*$/mu, "  reason: As agreed."));
  edit(files[3], (t) => t.replace(/^ {2}reason: .*$/mu, `  reason: As in ${patientIn(files[0])}.`));
  rmSync(files[2] ?? "");
  edit(files[1], (t) => t.replace(/^ {2}reason: (.*)$/mu, "  reason: Follow-up. $1"));
}

const PLANS: readonly Plan[] = [
  { name: "first run", args: (out) => batch(out) },
  { name: "first run with print run", args: (out) => letters(out), print: true, ordinary: true },
  {
    name: "first run beside a register",
    args: (out) => letters(out),
    print: true,
    ordinary: true,
    register: true,
  },
  { name: "changed visits", args: (out) => batch(out), print: true, lead: made, change: changeVisits },
  {
    name: "changed clinic file",
    args: (out) => batch(out, "--no-proof"),
    lead: (out) => void whorl(...batch(out, "--no-proof")),
    change: (visits) =>
      edit(join(visits, "clinic.yaml"), (t) => t.replace(/(phone: .*)0(\d{2})/u, "$10$2 9")),
  },
  { name: "nothing changed", args: (out) => batch(out), print: true, lead: made },
  {
    name: "changed part",
    part: "shard-01-of-02",
    args: (out) => batch(out, "--shard", "1/2"),
    lead: (out) => {
      parts(out);
      whorl("batch", "--gather", "--out", out);
    },
    change: changeVisits,
  },
  { name: "gather", args: (out) => ["batch", "--gather", "--out", out], print: true, lead: parts },
  { name: "proof", args: (out) => ["proof", out, ...JOBS], lead: made, readOnly: true },
];

export const SCENES = PLANS.map((plan) => plan.name);

function edit(file: string | undefined, change: (text: string) => string): void {
  const text = readFileSync(file ?? "", "utf8");
  const changed = change(text);
  if (changed === text) throw new Error(`${basename(file ?? "")} was not changed`);
  writeFileSync(file ?? "", changed);
}

function patientIn(file: string | undefined): string {
  return /^patient:\n {2}id: (\S+)/mu.exec(readFileSync(file ?? "", "utf8"))?.[1] ?? "";
}

/** The package as others get it: what npm packs, in an empty folder, compiled against and run. */
import { execFileSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { root } from "../house/source-files.js";
import { LONG } from "../runs.js";

const folder = mkdtempSync(join(tmpdir(), "whorl-packed-"));
const user = join(folder, "user");

function run(command: string, args: readonly string[], cwd: string): string {
  try {
    return execFileSync(command, args, { cwd, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
  } catch (error) {
    const { stdout = "", stderr = "" } = error as { stdout?: string; stderr?: string };
    throw new Error(`${command} ${args.join(" ")}\n${stdout}\n${stderr}`);
  }
}

const program = `
import { composeLetter, interpret, loadKnowledge, measure, type Problem, readClinic, readVisit, renderPdf, renderText, toFhir, type Visit } from "whorl";

const knowledge = loadKnowledge();
const [visitFile = "", clinicFile = ""] = process.argv.slice(2);
const read: { readonly value?: Visit; readonly problems: readonly Problem[] } = readVisit(visitFile, knowledge, { today: "2027-01-01" });
const visit = read.value;
const clinic = readClinic(clinicFile).value;
if (!visit || !clinic) throw new Error(read.problems.map((p) => p.message).join());
const measures = measure(visit, knowledge);
const interpretation = interpret(visit, measures, knowledge);
const letter = composeLetter("referral-letter", { visit, clinic, measures, interpretation, knowledge }).value;
if (!letter) throw new Error("no letter");
const pdf = (await renderPdf(letter)).value;
if (!pdf) throw new Error("no pdf");
console.log(JSON.stringify({
  head: new TextDecoder().decode(pdf.bytes.subarray(0, 5)),
  pages: pdf.pages,
  named: renderText(letter).includes(visit.patient.name.family),
  entries: toFhir({ visit, clinic, measures, knowledge, assembled: "2026-03-12T15:00:00Z" }).entry.length,
  leading: interpretation.disorders[0]?.id,
}));
`;

const settings = {
  compilerOptions: {
    target: "ES2022",
    module: "NodeNext",
    moduleResolution: "NodeNext",
    strict: true,
    types: ["node"],
    typeRoots: [join(root, "node_modules", "@types")],
    skipLibCheck: true,
    outDir: "out",
  },
  include: ["*.ts"],
};

const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {
  dependencies: Record<string, string>;
  bin: { whorl: string };
  files: string[];
};
const page = readFileSync(join(root, "examples", "library.md"), "utf8");

/** What a later block of the page takes over from an earlier one. */
const CARRIED: Readonly<Record<string, string>> = {
  visit: 'import("whorl").Visit',
  first: 'import("whorl").Visit',
  second: 'import("whorl").Visit',
  clinic: 'import("whorl").Clinic',
  measures: 'import("whorl").Measures',
  knowledge: 'import("whorl").Knowledge',
  text: "string",
};

/** The blocks of code of the page, each as a module. */
const blocks = [...page.matchAll(/```ts\n([\s\S]*?)```/gu)].map((m) => {
  const code = m[1] ?? "";
  const carried = Object.entries(CARRIED).filter(
    ([name]) =>
      new RegExp(`\\b${name}\\b`, "u").test(code) &&
      !new RegExp(`const [^=]*\\b${name}\\b[^=]*=`, "u").test(code),
  );
  return [...carried.map(([name, type]) => `declare const ${name}: ${type};`), code].join("\n");
});

/** What npm packs; where not everything is tried, what the manifest tells it to pack. */
function packed(): readonly string[] {
  if (!LONG) return ["package.json", ...manifest.files];
  const [{ files }] = JSON.parse(run("npm", ["pack", "--dry-run", "--json", "--ignore-scripts"], root)) as [
    { files: { path: string }[] },
  ];
  return files.map(({ path }) => path);
}

/** The files that are packed, as somebody who installs the package has them: beside what it says it depends on, and nothing else. */
function install(): void {
  for (const path of packed())
    cpSync(join(root, path), join(user, "node_modules", "whorl", path), { recursive: true });
  for (const name of Object.keys(manifest.dependencies)) {
    const to = join(user, "node_modules", name);
    mkdirSync(dirname(to), { recursive: true });
    symlinkSync(join(root, "node_modules", name), to);
  }
}

beforeAll(() => {
  mkdirSync(user);
  writeFileSync(join(user, "package.json"), JSON.stringify({ name: "user", private: true, type: "module" }));
  writeFileSync(join(user, "program.ts"), program);
  for (const [i, block] of blocks.entries()) writeFileSync(join(user, `block-${i + 1}.ts`), block);
  writeFileSync(join(user, "tsconfig.json"), JSON.stringify(settings));
  install();
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("the packed package", () => {
  it("gives a typed program a letter, and the page of examples compiles", () => {
    run(
      process.execPath,
      [join(root, "node_modules", "typescript", "bin", "tsc"), "-p", "tsconfig.json"],
      user,
    );
    const example = join(root, "examples", "patients", "TS-40417", "2026-03-12.yaml");
    const said = run(
      process.execPath,
      ["out/program.js", example, join(root, "examples", "clinic.yaml")],
      user,
    );
    const result = JSON.parse(said) as Record<string, unknown>;
    expect(result).toMatchObject({ head: "%PDF-", named: true, leading: "alopecia-areata" });
    expect(result.pages).toBeGreaterThan(0);
    expect(result.entries).toBeGreaterThan(10);
  });

  it("has a command that runs", () => {
    const said = run(
      process.execPath,
      [join(user, "node_modules", "whorl", manifest.bin.whorl), "new", "clinic"],
      user,
    );
    expect(said).toContain("people:");
  });

  it("is named as the page of examples names it, and has every function used there", () => {
    const used = [...page.matchAll(/import \{([^}]+)\} from "whorl"/gu)].flatMap((m) =>
      (m[1] ?? "").split(",").map((name) => name.trim()),
    );
    const check = `const all = await import("whorl"); console.log(JSON.stringify(${JSON.stringify(used)}.filter((n) => !(n in all))))`;
    expect(run(process.execPath, ["--input-type=module", "-e", check], user).trim()).toBe("[]");
    expect(used.length).toBeGreaterThan(10);
  });
});

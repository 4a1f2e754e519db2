/**
 * How the helping eye does on drawn pictures of known truth, beside a general image library's ridge filter on the same pictures:
 * `node tests/picture/eye/report.mjs [PICTURES] [NAME]`. The limits of the eye
 * were set on pictures of the first kind alone; those of strands judge it from outside. Needs Python with scikit-image for the second; without it that part is passed over.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { suggest } from "../../../src/picture/eye/suggest.js";
import { type Drawn, draw, PLAIN, SCENES } from "./draw-hairs.js";
import { drawStrands, STRAND_SCENES } from "./draw-strands.js";
import { type Judged, judge, type Line, spread } from "./judge.js";

const PICTURES = Number(process.argv[2] ?? 3);
/** Only pictures whose name holds this. */
const ONLY = process.argv[3] ?? "";
const LIBRARY = "tests/picture/eye/library.py";

function byLibrary({ picture }: Drawn): Line[] | undefined {
  const folder = mkdtempSync(join(tmpdir(), "whorl-eye-"));
  try {
    const grey = new Uint8Array(picture.width * picture.height);
    for (let i = 0; i < grey.length; i++) {
      const [r, g, b] = picture.data.subarray(4 * i, 4 * i + 3);
      grey[i] = 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0);
    }
    writeFileSync(join(folder, "grey"), grey);
    execFileSync(
      "python3",
      [LIBRARY, join(folder, "grey"), String(picture.width), join(folder, "lines.json")],
      { stdio: "ignore" },
    );
    return JSON.parse(readFileSync(join(folder, "lines.json"), "utf8")) as Line[];
  } catch {
    return undefined;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const percent = (part: number, of: number) => `${Math.round((100 * part) / Math.max(1, of))} %`;
const sum = (all: readonly Judged[], key: "drawn" | "suggested" | "found" | "invented" | "rooted") =>
  all.reduce((n, judged) => n + judged[key], 0);

function row(all: readonly Judged[]): string {
  const { mean, sd } = spread(all.flatMap(({ widths }) => widths));
  const width =
    mean === 0 ? "-" : `${mean >= 1 ? "+" : ""}${Math.round(100 * (mean - 1))} % (${Math.round(100 * sd)})`;
  return [
    percent(sum(all, "found"), sum(all, "drawn")),
    percent(sum(all, "invented"), sum(all, "suggested")),
    percent(sum(all, "rooted"), sum(all, "found")),
    width,
  ].join(" | ");
}

let hasLibrary = true;
console.log(
  "| picture | found | invented | root right | width off (sd) | processor s | says | library: found | invented |",
);
console.log("|---|---|---|---|---|---|---|---|---|");
const PLANS = [
  ...SCENES.map(({ name }, n) => ({ name, seen: (seed: string) => draw(SCENES[n] ?? PLAIN, seed) })),
  ...STRAND_SCENES.map((scene) => ({
    name: `strands: ${scene.name}`,
    seen: (seed: string) => drawStrands(scene, seed),
  })),
].filter(({ name }) => name.includes(ONLY));

for (const { name: scene, seen } of PLANS) {
  const ours: Judged[] = [];
  const theirs: Judged[] = [];
  const warnings = new Map<string, number>();
  let time = 0;
  for (let i = 0; i < PICTURES; i++) {
    // Other pictures than those the limits of the eye were set by, which had the seeds 0, 1, 2 and on.
    const drawn = seen(`report ${i}`);
    // Processor time, so that a busy machine tells the same.
    const before = process.cpuUsage();
    const found = suggest(drawn.picture);
    const { user, system } = process.cpuUsage(before);
    time = Math.max(time, (user + system) / 1000);
    ours.push(judge(drawn.hairs, found.hairs));
    for (const warning of found.warnings) warnings.set(warning, (warnings.get(warning) ?? 0) + 1);
    const lines = hasLibrary ? byLibrary(drawn) : undefined;
    if (lines) theirs.push(judge(drawn.hairs, lines));
    else hasLibrary = false;
  }
  const says = [...warnings]
    .map(([name, n]) => (n === PICTURES ? name : `${name} ${n}/${PICTURES}`))
    .join(", ");
  const library = hasLibrary
    ? `${percent(sum(theirs, "found"), sum(theirs, "drawn"))} | ${percent(sum(theirs, "invented"), sum(theirs, "suggested"))}`
    : "- | -";
  console.log(`| ${scene} | ${row(ours)} | ${(time / 1000).toFixed(1)} | ${says} | ${library} |`);
}
if (!hasLibrary) console.log("\nThe general library was passed over: Python has no scikit-image here.");

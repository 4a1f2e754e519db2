/**
 * `npm run conform`: every document of the examples, in each language, type size and state, held against PDF/UA-1 by veraPDF.
 * Needs Java and Maven, which fetches veraPDF from Maven Central the first time; without them it says so and does nothing.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const HERE = "tests/conform";
const WORK = ".evaluate/conform";
const JARS = join(WORK, "jars");
const OUT = join(WORK, "documents");

function has(program, flag) {
  return spawnSync(program, [flag], { stdio: "ignore" }).status === 0;
}

if (!has("java", "-version") || !has("mvn", "-version")) {
  console.log(
    "skipped: conformance needs Java (a JDK, 17 or later) and Maven, and one of them is missing here",
  );
  process.exit(0);
}

if (!existsSync(JARS)) {
  console.log("fetching veraPDF from Maven Central");
  const goal = ["-q", "-B", "-f", join(HERE, "pom.xml"), "dependency:copy-dependencies"];
  execFileSync("mvn", [...goal, `-DoutputDirectory=${join(process.cwd(), JARS)}`], { stdio: "inherit" });
}

rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
const patients = "examples/patients";
const visits = readdirSync(patients, { recursive: true, encoding: "utf8" })
  .filter((name) => /\d{4}-\d{2}-\d{2}\.yaml$/.test(name))
  .map((name) => join(patients, name));

function make(name, args) {
  const out = join(OUT, name);
  // Some combinations make nothing, such as a sheet for a first visit; what is made is what counts.
  spawnSync(process.execPath, ["bin/whorl.js", ...args, "--out", out], { stdio: "ignore" });
  return existsSync(out)
    ? readdirSync(out)
        .filter((f) => f.endsWith(".pdf"))
        .map((f) => join(out, f))
    : [];
}

/** The first example with one thing changed. */
function variant(name, change) {
  const visit = visits.find((each) => each.includes("TS-40417") && each.includes("03-12")) ?? visits[0];
  const file = join(OUT, `${name}.yaml`);
  writeFileSync(file, change(readFileSync(visit, "utf8")));
  return file;
}

const files = [
  ...make("as-they-are", ["letter", patients]),
  ...make("sheets", ["letter", patients, "--document", "reasoning-sheet", "--document", "progress-sheet"]),
  ...["de", "es"].flatMap((language) => make(language, ["letter", patients, "--language", language])),
  ...make("large", ["letter", patients, "--large-print"]),
  ...make("draft", ["letter", variant("draft", (text) => text.replace("status: signed", "status: draft"))]),
];
console.log(`${files.length} documents`);
const answer = execFileSync(
  "java",
  ["-cp", [JARS, "*"].join("/"), join(HERE, "Conform.java"), "ua1", ...files],
  {
    encoding: "utf8",
    maxBuffer: 1 << 28,
    stdio: ["ignore", "pipe", "ignore"],
  },
);
const lines = answer.split("\n").map((line) => line.split("\t"));
const checked = lines.filter(([, verdict]) => verdict === "ok" || verdict === "fails");
const failures = lines.filter(([, rule]) => /^\d/.test(rule ?? ""));
for (const failure of failures) console.log(failure.join("  "));
const whole = checked.filter(([, verdict]) => verdict === "ok").length;
console.log(`${whole} of ${files.length} documents meet PDF/UA-1`);
process.exit(whole === files.length && files.length > 0 ? 0 : 1);

/**
 * `npm run conform`: every document of the examples, in each language, size and state, held against PDF/UA-1 by veraPDF, and
 * every FHIR export against R4 by the HAPI validator. Needs Java and Maven, which fetches both from Maven Central the first
 * time; without them it says so and does nothing. `npm run conform -- fhir` does one part.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const HERE = "tests/conform";
const WORK = ".evaluate/conform";
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

/** The libraries of a part, fetched once. */
function jarsOf(part) {
  const jars = join(WORK, "jars", part);
  if (!existsSync(jars)) {
    console.log(`fetching the validator for ${part} from Maven Central`);
    const goal = ["-q", "-B", "-f", join(HERE, part, "pom.xml"), "dependency:copy-dependencies"];
    execFileSync("mvn", [...goal, `-DoutputDirectory=${join(process.cwd(), jars)}`], { stdio: "inherit" });
  }
  return jars;
}

/** The lines a validator prints, in their columns. */
function validate(part, program, args) {
  const answer = execFileSync(
    "java",
    ["-cp", [jarsOf(part), "*"].join("/"), join(HERE, part, program), ...args],
    {
      encoding: "utf8",
      maxBuffer: 1 << 28,
      stdio: ["ignore", "pipe", "ignore"],
    },
  );
  return answer.split("\n").map((line) => line.split("\t"));
}

/** True when each file got its ok. */
function report(lines, files, what) {
  const whole = lines.filter(([, verdict]) => verdict === "ok").length;
  console.log(`${whole} of ${files.length} ${what}`);
  return whole === files.length && files.length > 0;
}

const parts = process.argv.slice(2);
const isAsked = (part) => parts.length === 0 || parts.includes(part);

rmSync(OUT, { recursive: true, force: true });
mkdirSync(OUT, { recursive: true });
const patients = "examples/patients";
const visits = readdirSync(patients, { recursive: true, encoding: "utf8" })
  .filter((name) => /\d{4}-\d{2}-\d{2}\.yaml$/.test(name))
  .map((name) => join(patients, name))
  .sort();
const [first] = visits.filter((each) => each.includes("TS-40417") && each.includes("03-12"));

function whorl(args) {
  return spawnSync(process.execPath, ["bin/whorl.js", ...args], { stdio: "ignore" }).status === 0;
}

function make(name, args) {
  const out = join(OUT, name);
  // Some combinations make nothing, such as a sheet for a first visit; what is made is what counts.
  whorl([...args, "--out", out]);
  return existsSync(out)
    ? readdirSync(out)
        .filter((f) => f.endsWith(".pdf"))
        .map((f) => join(out, f))
    : [];
}

/** The first example with one thing changed. */
function variant(name, change) {
  const file = join(OUT, `${name}.yaml`);
  writeFileSync(file, change(readFileSync(first, "utf8")));
  return file;
}

/** Of the locked documents alone; invented. */
const PASSWORD = "seven ropes and a lantern";

function pdfConforms() {
  const passwordFile = join(OUT, "password.txt");
  writeFileSync(passwordFile, `${PASSWORD}\n`);
  const files = [
    ...make("as-they-are", ["letter", patients]),
    ...make("sheets", ["letter", patients, "--document", "reasoning-sheet", "--document", "progress-sheet"]),
    ...["de", "es"].flatMap((language) => make(language, ["letter", patients, "--language", language])),
    ...make("large", ["letter", patients, "--large-print"]),
    ...make("draft", ["letter", variant("draft", (text) => text.replace("status: signed", "status: draft"))]),
    ...make("attached", ["letter", first, "--attach-visit"]),
    ...make("locked", ["letter", first, "--password-file", passwordFile]),
  ];
  console.log(`${files.length} documents`);
  const lines = validate("pdf", "Conform.java", ["ua1", PASSWORD, ...files]);
  for (const failure of lines.filter(([, rule]) => /^\d/.test(rule ?? ""))) console.log(failure.join("  "));
  return report(lines, files, "documents meet PDF/UA-1");
}

function fhirConforms() {
  const american = join(OUT, "american.yaml");
  writeFileSync(
    american,
    readFileSync("examples/clinic.yaml", "utf8").replace("language: en-GB", "language: en-US"),
  );
  const files = visits.flatMap((visit) => {
    const name = visit.replace(/\W+/g, "-");
    const made = [
      [join(OUT, `${name}.json`), []],
      [join(OUT, `${name}-us.json`), ["--clinic", american]],
    ];
    return made.flatMap(([file, more]) =>
      whorl(["export", visit, "--as", "fhir", "--out", file, ...more]) ? [file] : [],
    );
  });
  if (files.length !== visits.length * 2) console.log("some exports were not made");
  const lines = validate("fhir", "Fhir.java", files);
  const told = new Set();
  for (const [file, gravity, message, place] of lines) {
    if (gravity !== "error" && gravity !== "warning") continue;
    if (gravity === "warning" && told.has(message)) continue;
    told.add(message);
    console.log([gravity, file, message, place].join("  "));
  }
  return report(lines, files, "exports are valid FHIR R4") && files.length === visits.length * 2;
}

const good = [...(isAsked("pdf") ? [pdfConforms()] : []), ...(isAsked("fhir") ? [fhirConforms()] : [])];
process.exit(good.every(Boolean) ? 0 : 1);

/**
 * Part of the build: the command with its libraries in a few files, since opening hundreds takes as long as a letter, and the
 * large libraries that not every command needs in files of their own. Then some commands run once, and what V8 compiled is kept.
 */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import {
  BUNDLE,
  bundleFile,
  compiledCode,
  compiledCodeFile,
  compileLater,
  loadCommand,
} from "../../dist/cli/load-command.js";
import { startSooner } from "../page/start-sooner.mjs";

const FOLDER = join("dist", "command");
const COMMAND = `
  export const main = async (argv) => (await import("./dist/cli/main.js")).main(argv);
  export const work = async (port, settings) => (await import("./dist/batch/worker.js")).work(port, settings);
`;
/** By the name of its bundle, how a library, or what the build has made, is asked for, and what of it. */
const LIBRARIES = {
  pdfmake: [/(^|[\\/])private\.js$/, "./dist/page/pdfmake/private.js"],
  "pdf-lib": [/(^|[\\/])pdf-lib\.js$/, "./dist/page/pdf-lib.js"],
  fontkit: [/^fontkit$/, "fontkit"],
  unpdf: [/^unpdf$/, "unpdf"],
  docx: [/^docx$/, "docx"],
  "iconv-lite": [/^iconv-lite$/, "iconv-lite"],
  jszip: [/^jszip$/, "jszip"],
  templates: [/(^|[\\/])compiled-templates\.cjs$/, "./dist/letter/compiled-templates.cjs"],
  nodemailer: [/^nodemailer\/lib\/mail-composer$/, "nodemailer/lib/mail-composer"],
};
/** Those that are one value rather than several names. */
const WHOLE = ["iconv-lite", "jszip", "nodemailer", "templates"];

/** Code of ours that loads a library only when it is needed asks Node for it; here it asks the bundle. */
const askBundle = (code) =>
  code
    .replace(/^import \{ createRequire as requireOfParts \}.*$/mu, "")
    .replace(/^\s*const require = createRequire\(import\.meta\.url\);$/mu, "")
    .replaceAll("createRequire(import.meta.url)", "require")
    .replaceAll('__require("fontkit")', 'require("fontkit")');

const parts = (own) => ({
  name: "parts",
  setup(bundling) {
    for (const [name, [asked]] of Object.entries(LIBRARIES))
      if (name !== own)
        bundling.onResolve({ filter: asked }, () => ({ path: `${BUNDLE}${name}`, external: true }));
    // Zod's messages in fifty languages; ours are our own.
    bundling.onLoad({ filter: /[\\/]zod[\\/]v4[\\/]locales[\\/]index\.js$/ }, () => ({ contents: "" }));
    bundling.onLoad({ filter: /[\\/]dist[\\/](?:\w[\w-]*[\\/])+[\w-]+\.js$/ }, ({ path }) =>
      path.includes("node_modules")
        ? undefined
        : { contents: askBundle(readFileSync(path, "utf8")), loader: "js" },
    );
  },
});

async function bundle(name, contents) {
  const { outputFiles } = await build({
    stdin: { contents, resolveDir: process.cwd() },
    bundle: true,
    write: false,
    platform: "node",
    format: "cjs",
    target: "node20",
    // Node 20 has had them from the start; the bundler would put each together anew wherever it is used.
    supported: { "dynamic-import": false, "regexp-unicode-property-escapes": true },
    define: { "import.meta.url": "moduleUrl" },
    banner: {
      js: 'const moduleUrl = require("node:url").pathToFileURL(__filename).href; const __dirname = require("node:path").dirname(__filename);',
    },
    plugins: [parts(name), startSooner],
    // Read as files.
    external: ["*.wasm", "*/wasm"],
    minifyWhitespace: true,
    // So that a place in an error says something.
    lineLimit: 200,
    logLevel: "warning",
  });
  // One byte a character; what the bundler leaves as it is stands in regular expressions.
  const ascii = outputFiles[0].text.replace(
    /[^\0-\x7f]/g,
    (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
  // As it is loaded: what is put together only then is held in memory twice.
  writeFileSync(bundleFile(name), `(function (exports, require, module, __filename) {${ascii}\n})`);
}

/**
 * Runs the commands that people wait for on one of the examples, and keeps what was compiled for them: apart for those that make no
 * document, since taking what they do not need costs them as long as opening a visit.
 */
async function compile() {
  const scratch = mkdtempSync(join(tmpdir(), "whorl-build-"));
  const visits = join(scratch, "TS-40417");
  cpSync(join("examples", "patients", "TS-40417"), visits, { recursive: true });
  cpSync(join("examples", "clinic.yaml"), join(scratch, "clinic.yaml"));
  const visit = join(visits, "2026-06-04.yaml");
  const commands = {
    reading: [
      ["explain", visit],
      ["check", "--no-trial", visit],
    ],
    making: [
      ["check", visit],
      ["letter", visit, "--out", join(scratch, "letters")],
      ["batch", scratch, "--out", join(scratch, "batch")],
    ],
  };
  const { write } = process.stdout;
  const silent = () => true;
  Object.assign(process.stdout, { write: silent });
  Object.assign(process.stderr, { write: silent });
  try {
    const { main } = loadCommand();
    for (const [use, all] of Object.entries(commands)) {
      for (const argv of all)
        if ((await main(["node", "whorl", ...argv])) !== 0) throw new Error(`${argv[0]} fails as built`);
      for (const [name, code] of compiledCode()) writeFileSync(compiledCodeFile(name, use), code);
    }
  } finally {
    Object.assign(process.stdout, { write });
    rmSync(scratch, { recursive: true });
  }
}

rmSync(FOLDER, { recursive: true, force: true });
mkdirSync(FOLDER, { recursive: true });
await bundle("whorl", COMMAND);
for (const [name, [, from]] of Object.entries(LIBRARIES)) {
  const asked = JSON.stringify(from);
  await bundle(
    name,
    WHOLE.includes(name) ? `module.exports = require(${asked});` : `export * from ${asked};`,
  );
}
const start = 'import { loadCommand } from "../cli/load-command.js";\n';
writeFileSync(join(FOLDER, "main.js"), `${start}export const { main } = loadCommand(process.argv);\n`);
writeFileSync(
  join(FOLDER, "worker.js"),
  `import { parentPort, workerData } from "node:worker_threads";\n${start}loadCommand().work(parentPort, workerData);\n`,
);
compileLater();
await compile();

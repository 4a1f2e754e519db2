/** Part of the build: puts pdfmake, pdfkit and what they need into dist/page/pdfmake/private.js, with their licences beside it. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";

const FOLDER = "dist/page/pdfmake";

const { metafile } = await build({
  entryPoints: [join(FOLDER, "private.js")],
  outfile: join(FOLDER, "private.js"),
  allowOverwrite: true,
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node20",
  // Also parses the typefaces for us, and is loaded once for both.
  external: ["fontkit"],
  legalComments: "inline",
  metafile: true,
  logLevel: "warning",
  banner: {
    js: "import { createRequire as requireOfEngine } from 'node:module'; const require = requireOfEngine(import.meta.url);",
  },
});

const folders = new Set(
  Object.keys(metafile.inputs).flatMap(
    (path) => /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? [],
  ),
);
const texts = [...folders].sort().map((folder) => {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
  const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
  return `${name} ${version} (${license})\n\n${file ? readFileSync(join(folder, file), "utf8").trim() : ""}\n`;
});
writeFileSync(join(FOLDER, "LICENCES.txt"), texts.join("\n----\n\n"));

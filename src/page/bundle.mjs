/**
 * Part of the build: takes along what installers should not have to fetch whole. The PDF libraries go into one file each, with
 * their licences beside it, and of the typefaces the cuts that are used go into dist/typefaces.
 */
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { build } from "esbuild";
import { startSooner } from "./start-sooner.mjs";

const BUNDLED = [join("dist", "page", "pdfmake", "private.js"), join("dist", "page", "pdf-lib.js")];

/** Cuts by package, and the folder they lie in. */
const TYPEFACES = {
  "@embedpdf/fonts-latin": [
    "fonts",
    "NotoSans-Regular",
    "NotoSans-SemiBold",
    "NotoSans-Italic",
    "NotoSans-SemiBoldItalic",
  ],
  "@embedpdf/fonts-arabic": ["fonts", "NotoNaskhArabic-Regular", "NotoNaskhArabic-Bold"],
  "@embedpdf/fonts-hebrew": ["fonts", "NotoSansHebrew-Regular", "NotoSansHebrew-Bold"],
  "dejavu-fonts-ttf": [
    "ttf",
    "DejaVuSans",
    "DejaVuSans-Bold",
    "DejaVuSans-Oblique",
    "DejaVuSans-BoldOblique",
  ],
};

for (const file of BUNDLED) {
  const { metafile } = await build({
    entryPoints: [file],
    outfile: file,
    allowOverwrite: true,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    // Also parses the typefaces for us, and is loaded once for both.
    external: ["fontkit"],
    plugins: [startSooner],
    legalComments: "inline",
    metafile: true,
    logLevel: "warning",
    banner: {
      js: "import { createRequire as requireOfParts } from 'node:module'; const require = requireOfParts(import.meta.url);",
    },
  });
  const folders = new Set(
    Object.keys(metafile.inputs).flatMap(
      (path) => /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? [],
    ),
  );
  writeFileSync(
    join(dirname(file), `${file.split(/[\\/]/).at(-1).replace(".js", "")}-licences.txt`),
    licences(folders),
  );
}

const shipped = join("dist", "typefaces");
mkdirSync(shipped, { recursive: true });
const folders = Object.entries(TYPEFACES).map(([name, [inside, ...cuts]]) => {
  const folder = packageFolder(name);
  for (const cut of cuts) cpSync(join(folder, inside, `${cut}.ttf`), join(shipped, `${cut}.ttf`));
  return folder;
});
writeFileSync(join(shipped, "licences.txt"), licences(folders));

function licences(found) {
  const texts = [...found].sort().map((folder) => {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
    return `${name} ${version} (${license})\n\n${file ? readFileSync(join(folder, file), "utf8").trim() : ""}\n`;
  });
  return texts.join("\n----\n\n");
}

function packageFolder(name) {
  const require = createRequire(import.meta.url);
  const search = require.resolve.paths(name) ?? [];
  for (const folder of search) {
    try {
      readFileSync(join(folder, name, "package.json"));
      return join(folder, name);
    } catch {}
  }
  throw new Error(`${name} is not installed`);
}

/** A program that uses pdfmake itself may use the library beside it: neither sees the other's engine. Runs the built library. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { expect, test } from "vitest";
import { HANDOUT } from "../sample-letter.js";

const HOST = `
import { createRequire } from "node:module";
import { createHash } from "node:crypto";
const require = createRequire(${JSON.stringify(pathToFileURL("package.json").href)});
const { renderPdf } = await import(${JSON.stringify(pathToFileURL("dist/index.js").href)});
const letter = ${JSON.stringify(HANDOUT)};
const pdfmake = require("pdfmake");
pdfmake.setFonts({ Roboto: { normal: require.resolve("dejavu-fonts-ttf/ttf/DejaVuSans.ttf") } });
pdfmake.setLocalAccessPolicy(() => true);
pdfmake.setUrlAccessPolicy(() => false);
const own = async () => {
  const info = { creationDate: new Date(0) };
  const content = ["hello", { svg: '<svg viewBox="0 0 4 4"><circle cx="2" cy="2" r="1"/></svg>' }, { ul: ["point"] }];
  return Buffer.from(await pdfmake.createPdf({ content, info }).getBuffer());
};
const ours = async () => Buffer.from((await renderPdf(letter)).value?.bytes ?? []);
const order = process.argv[2] === "host first" ? [own, ours, own, ours] : [ours, own, ours, own];
const made = [];
for (const make of order) made.push(await make());
console.log(JSON.stringify(made.map((b) => [b.length, createHash("sha256").update(b).digest("hex")])));
`;

function run(order: string): [number, string][] {
  const file = join(mkdtempSync(join(tmpdir(), "host-")), "host.mjs");
  writeFileSync(file, HOST);
  return JSON.parse(execFileSync(process.execPath, [file, order], { encoding: "utf8" }));
}

test("whichever is used first, both make what they make alone", () => {
  const [own, ours, ownAgain, oursAgain] = run("host first");
  expect(own?.[0]).toBeGreaterThan(2000);
  expect(ours?.[0]).toBeGreaterThan(10_000);
  expect([ownAgain, oursAgain]).toEqual([own, ours]);
  expect(run("library first")).toEqual([ours, own, ours, own]);
});

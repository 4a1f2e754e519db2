/** One command runs the tests, for a reader of the README as for the machine that checks each change; what it leaves is told. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { root } from "./source-files.js";

const textOf = (file: string) => readFileSync(join(root, file), "utf8");

it("is the README's, and .ci/run ends with it", () => {
  const told = /Run all tests:\s+```sh\n(.+)\n```/u.exec(textOf("README.md"))?.[1];
  expect(told).toBeDefined();
  expect(textOf(".ci/run").trimEnd().split("\n").at(-1)).toBe(told);
});

it("leaves to another what README and DEVELOPERS say, and that one tries everything", () => {
  const { scripts }: { scripts: Record<string, string> } = JSON.parse(textOf("package.json"));
  expect(scripts["test:long"]).toMatch(/^WHORL_RUNS=1 /u);
  for (const file of ["README.md", "DEVELOPERS.md"]) expect(textOf(file)).toContain("`npm run test:long`");
});

/** The built command starts with the code that the build compiled; without it every command takes a tenth to a quarter longer. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { root } from "../house/source-files.js";

const loader = pathToFileURL(join(root, "dist", "cli", "load-command.js")).href;

/** What a fresh process says of the code it loaded, after `before`. */
function isReadyAfter(before: string): string {
  const program = `import { compileLater, isReady, loadCommand } from ${JSON.stringify(loader)};
    ${before} loadCommand(); process.stdout.write(String(isReady()));`;
  return spawnSync(process.execPath, ["--input-type=module", "--eval", program], { encoding: "utf8" }).stdout;
}

describe("the compiled code of the command", () => {
  it("is taken by the Node that built it", () => {
    expect(isReadyAfter("compileLater();")).toBe("true");
  });

  it.runIf(process.versions.node.startsWith("20."))(
    "is refused, and made anew, under another setting",
    () => {
      expect(isReadyAfter("")).toBe("false");
    },
  );
});

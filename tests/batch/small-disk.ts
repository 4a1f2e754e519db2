/** A disk that is really full soon: memory mounted as one, gone after the tests of the file that asks for it. */
import { execFileSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll } from "vitest";
import { scratch } from "./command.js";

/** `size` as in `2m`. It takes root: `canMount` is false where no disk can be mounted. */
export function smallDisk(size: string): { readonly disk: string; readonly canMount: boolean } {
  const disk = join(scratch(), "disk");
  mkdirSync(disk);
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", disk], { stdio: "ignore" });
  } catch {
    return { disk, canMount: false };
  }
  afterAll(() => {
    execFileSync("umount", [disk]);
  });
  return { disk, canMount: true };
}

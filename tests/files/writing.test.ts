import { spawnSync } from "node:child_process";
import {
  appendFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openAppended, readAppended } from "../../src/files/append.js";
import { takeLock } from "../../src/files/lock.js";
import { openWholeFile } from "../../src/files/whole-file.js";
import { liesInside, moveInto, safeName, sweepTemporary, writeWhole } from "../../src/files/write.js";

const scratch = () => mkdtempSync(join(tmpdir(), "whorl-files-"));
const mode = (file: string) => statSync(file).mode & 0o777;

describe("writing whole", () => {
  it("is readable by its owner only and leaves nothing else", () => {
    const folder = join(scratch(), "a", "b");
    writeWhole(join(folder, "x.pdf"), "one");
    writeWhole(join(folder, "x.pdf"), "two");
    expect(readFileSync(join(folder, "x.pdf"), "utf8")).toBe("two");
    expect(mode(join(folder, "x.pdf"))).toBe(0o600);
    expect(mode(folder)).toBe(0o700);
    expect(readdirSync(folder)).toEqual(["x.pdf"]);
  });

  it("keeps the old file when the new one cannot be written", () => {
    const folder = scratch();
    writeFileSync(join(folder, "x"), "old");
    expect(() => writeWhole(join(folder, "x", "y"), "new")).toThrow();
    expect(readFileSync(join(folder, "x"), "utf8")).toBe("old");
  });

  it("replaces a symbolic link and never writes through it", () => {
    const folder = scratch();
    const outside = join(scratch(), "victim");
    writeFileSync(outside, "untouched");
    symlinkSync(outside, join(folder, "x.pdf"));
    writeWhole(join(folder, "x.pdf"), "letter");
    expect(readFileSync(outside, "utf8")).toBe("untouched");
    expect(readFileSync(join(folder, "x.pdf"), "utf8")).toBe("letter");
  });

  it("a long file has no name until it is finished", () => {
    const folder = scratch();
    const file = openWholeFile(join(folder, "run.pdf"));
    for (let i = 0; i < 300; i += 1) file.write(new Uint8Array(10_000).fill(i));
    expect(file.position).toBe(3_000_000);
    expect(existsSync(join(folder, "run.pdf"))).toBe(false);
    file.finish();
    file.abandon();
    const bytes = readFileSync(join(folder, "run.pdf"));
    expect([bytes.length, bytes[10_000], mode(join(folder, "run.pdf"))]).toEqual([3_000_000, 1, 0o600]);
    expect(readdirSync(folder)).toEqual(["run.pdf"]);
  });

  it("an abandoned file leaves nothing", () => {
    const folder = scratch();
    const file = openWholeFile(join(folder, "run.pdf"));
    file.write("half");
    file.abandon();
    expect(readdirSync(folder)).toEqual([]);
  });

  it("sweeps only its own leftovers", () => {
    const folder = scratch();
    writeFileSync(join(folder, ".whorl-0123456789ab.part"), "");
    writeFileSync(join(folder, ".whorl-notes.part"), "");
    expect(sweepTemporary(folder)).toBe(1);
    expect(readdirSync(folder)).toEqual([".whorl-notes.part"]);
  });

  it("moves a file aside once", () => {
    const folder = scratch();
    writeFileSync(join(folder, "a.pdf"), "a");
    expect(moveInto(join(folder, "a.pdf"), join(folder, "aside"))).toBe(true);
    expect(moveInto(join(folder, "a.pdf"), join(folder, "aside"))).toBe(false);
    expect(readdirSync(join(folder, "aside"))).toEqual(["a.pdf"]);
  });
});

describe("names", () => {
  it.each([
    ["../../etc/passwd", "passwd"],
    ["a/b\\c", "b-c"],
    ["..", "visit"],
    ["\u202egpj.exe", "gpj.exe"],
    ["x".repeat(10_000_000), "x".repeat(120)],
  ])("are never paths (%#)", (written, name) => {
    expect(safeName(written)).toBe(name);
  });

  it("inside means inside, links counted", () => {
    const folder = scratch();
    symlinkSync("/etc", join(folder, "etc"));
    expect(liesInside(folder, join(folder, "a", "b"))).toBe(true);
    expect(liesInside(folder, join(folder, "..", "b"))).toBe(false);
    expect(liesInside(folder, `${folder}-other/b`)).toBe(false);
    expect(liesInside(folder, join(folder, "etc", "passwd"))).toBe(false);
  });
});

describe("growing files", () => {
  it("close a torn last line before the next", () => {
    const file = join(scratch(), "journal");
    const first = openAppended(file);
    first.append("one");
    first.close();
    appendFileSync(file, '{"torn":');
    const second = openAppended(file);
    second.append("two");
    second.close();
    expect(readAppended(file)).toEqual(["one", '{"torn":', "two"]);
    expect(mode(file)).toBe(0o600);
  });
});

describe("the lock", () => {
  const take = (file: string) => takeLock(file);

  it("is held once, named, and free after release", () => {
    const file = join(scratch(), "lock");
    const first = take(file);
    expect(take(file)).toMatchObject({ heldBy: { pid: process.pid, host: hostname() } });
    if ("lock" in first) first.lock.release();
    expect("lock" in take(file)).toBe(true);
  });

  it("of a dead process is taken over", () => {
    const file = join(scratch(), "lock");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    writeFileSync(file, JSON.stringify({ host: hostname(), pid: dead, started: "", token: "t" }));
    expect("lock" in take(file)).toBe(true);
  });

  it.runIf(existsSync("/proc/self/stat"))("of an earlier process with the same number is taken over", () => {
    const file = join(scratch(), "lock");
    const started = "another-boot/123";
    writeFileSync(file, JSON.stringify({ host: hostname(), pid: process.pid, started, token: "t" }));
    expect("lock" in take(file)).toBe(true);
  });

  it("of another machine is respected while it is touched, and taken over when it has fallen silent", () => {
    const file = join(scratch(), "lock");
    writeFileSync(file, JSON.stringify({ host: "elsewhere", pid: 1, started: "", token: "t" }));
    expect(take(file)).toMatchObject({ heldBy: { host: "elsewhere" } });
    const long = new Date(Date.now() - 11 * 60_000);
    utimesSync(file, long, long);
    expect("lock" in take(file)).toBe(true);
  });

  it("is not removed by a run that lost it", () => {
    const file = join(scratch(), "lock");
    const first = take(file);
    writeFileSync(file, JSON.stringify({ host: "elsewhere", pid: 1, started: "", token: "theirs" }));
    if ("lock" in first) first.lock.release();
    expect(existsSync(file)).toBe(true);
  });
});

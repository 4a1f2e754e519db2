import { spawn, spawnSync } from "node:child_process";
import {
  appendFileSync,
  chmodSync,
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
import { basename, join } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { openAppended, readAppended } from "../../src/files/append.js";
import { takeLock } from "../../src/files/lock.js";
import { thisProcess } from "../../src/files/running.js";
import { openWholeFile } from "../../src/files/whole-file.js";
import {
  liesInside,
  moveInto,
  safeName,
  sweepTemporary,
  temporaryBeside,
  writeWhole,
} from "../../src/files/write.js";

const scratch = () => mkdtempSync(join(tmpdir(), "whorl-files-"));
/** Not every machine lets a process count in a space of its own. */
const UNSHARE = ["--user", "--map-root-user", "--pid", "--fork", "--mount-proc"];
const canUnshare = spawnSync("unshare", [...UNSHARE, "true"]).status === 0;
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

  it("sweeps what dead processes left, never what is being written, nor anything else", () => {
    const folder = scratch();
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    const host = /^\.whorl-([0-9a-f]{8})-/u.exec(basename(temporaryBeside(join(folder, "x"))))?.[1] ?? "";
    const reused = basename(temporaryBeside(join(folder, "x"))).replace(
      /-[0-9a-f]{8}-(?=[0-9a-f]{12})/u,
      "-00000000-",
    );
    const elsewhere = [
      ".whorl-00000000-1-00000000-0123456789ab.part",
      ".whorl-00000000-2-00000000-0123456789ab.part",
    ];
    const stays = [".whorl-notes.part", "letter.pdf", elsewhere[0] ?? ""];
    for (const name of [`.whorl-${host}-${dead}-00000000-0123456789ab.part`, reused, ...elsewhere, ...stays])
      writeFileSync(join(folder, name), "");
    const long = new Date(Date.now() - 11 * 60_000);
    utimesSync(join(folder, elsewhere[1] ?? ""), long, long);
    const file = openWholeFile(join(folder, "run.pdf"));
    expect(sweepTemporary(folder)).toBe(3);
    file.finish();
    expect(readdirSync(folder).sort()).toEqual([...stays, "run.pdf"].sort());
  });

  it("names the place that cannot be written, which the system does not always do", () => {
    const folder = scratch();
    writeFileSync(join(folder, "x"), "in the way");
    for (const write of [
      () => writeWhole(join(folder, "x", "y"), "new"),
      () => openAppended(join(folder, "x", "y")),
      () => openWholeFile(join(folder, "x", "y")),
      () => takeLock(join(folder, "x", "y")),
    ])
      expect(write).toThrow(
        expect.objectContaining({
          file: expect.stringContaining(join(folder, "x")),
          code: expect.any(String),
        }),
      );
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

describe("who may read what is written", () => {
  const shared = () => {
    const folder = scratch();
    chmodSync(folder, 0o770);
    return folder;
  };

  it.each([0o664, 0o640, 0o600])("a file that stands keeps its mode (%o)", (before) => {
    const file = join(scratch(), "v.yaml");
    writeFileSync(file, "old");
    chmodSync(file, before);
    writeWhole(file, "new");
    expect(mode(file)).toBe(before);
    const whole = openWholeFile(file);
    whole.write("newer");
    whole.finish();
    expect([readFileSync(file, "utf8"), mode(file)]).toEqual(["newer", before]);
  });

  it("in a folder that a group shares, what is new is the group's too, whatever the process masks", () => {
    const folder = shared();
    const mask = process.umask(0o077);
    try {
      writeWhole(join(folder, "a", "b", "x"), "one");
      openAppended(join(folder, "a", "log")).close();
      openWholeFile(join(folder, "a", "whole")).finish();
    } finally {
      process.umask(mask);
    }
    expect(["a", "a/b", "a/b/x", "a/log", "a/whole"].map((name) => mode(join(folder, name)))).toEqual([
      0o770, 0o770, 0o660, 0o660, 0o660,
    ]);
  });

  it("in a folder open to everybody, what is new is its owner's alone", () => {
    const folder = shared();
    chmodSync(folder, 0o777);
    writeWhole(join(folder, "a", "x"), "one");
    writeWhole(join(folder, "y"), "one");
    expect(["a", "a/x", "y"].map((name) => mode(join(folder, name)))).toEqual([0o700, 0o600, 0o600]);
  });
});

describe("the lock", () => {
  const here = thisProcess();
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
    writeFileSync(file, JSON.stringify({ ...here, pid: dead, started: "", token: "t" }));
    expect("lock" in take(file)).toBe(true);
  });

  it.runIf(existsSync("/proc/self/stat"))("of an earlier process with the same number is taken over", () => {
    const file = join(scratch(), "lock");
    const started = "another-boot/123";
    writeFileSync(file, JSON.stringify({ ...here, started, token: "t" }));
    expect("lock" in take(file)).toBe(true);
  });

  it("of a dead process is taken over even when others died while taking it over", () => {
    const file = join(scratch(), "lock");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    const owner = (token: string) => JSON.stringify({ ...here, pid: dead, started: "", token });
    writeFileSync(file, owner("one"));
    writeFileSync(`${file}.after-one`, owner("two"));
    writeFileSync(`${file}.after-one.after-two`, owner("three"));
    expect("lock" in take(file)).toBe(true);
    expect(readdirSync(join(file, ".."))).toEqual(["lock"]);
  });

  it("is taken over by one of many at once", async () => {
    const file = join(scratch(), "lock");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    writeFileSync(file, JSON.stringify({ ...here, pid: dead, started: "", token: "t" }));
    // Each says when it is ready, takes the lock at a word from here, and lives until all have told.
    const code = `
      import { createInterface } from "node:readline";
      const { takeLock } = await import(process.argv[1]);
      const lines = createInterface({ input: process.stdin })[Symbol.asyncIterator]();
      console.log("ready");
      await lines.next();
      console.log("lock" in takeLock(process.argv[2]) ? "took" : "held");
      await lines.next();
      process.exit(0);`;
    const module = pathToFileURL(inPackage("dist", "files", "lock.js")).href;
    const rivals = Array.from({ length: 6 }, () => {
      const child = spawn(process.execPath, ["--input-type=module", "-e", code, module, file]);
      const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
      return { child, next: async () => (await lines.next()).value as string | undefined };
    });
    for (const rival of rivals) expect(await rival.next()).toBe("ready");
    for (const rival of rivals) rival.child.stdin.write("go\n");
    const said = await Promise.all(rivals.map((rival) => rival.next()));
    for (const rival of rivals) rival.child.stdin.end("enough\n");
    expect(said.sort()).toEqual(["held", "held", "held", "held", "held", "took"]);
  });

  it("of another machine is respected while it is touched, and taken over when it has fallen silent", () => {
    const file = join(scratch(), "lock");
    writeFileSync(file, JSON.stringify({ host: "elsewhere", pid: 1, started: "", token: "t" }));
    expect(take(file)).toMatchObject({ heldBy: { host: "elsewhere" } });
    const long = new Date(Date.now() - 11 * 60_000);
    utimesSync(file, long, long);
    expect("lock" in take(file)).toBe(true);
  });

  it("of a container that shares the machine's name is respected while it is touched", () => {
    const file = join(scratch(), "lock");
    const dead = spawnSync(process.execPath, ["-e", ""]).pid;
    writeFileSync(file, JSON.stringify({ ...here, space: "pid:[1]", pid: dead, token: "t" }));
    expect(take(file)).toMatchObject({ heldBy: { pid: dead } });
    const before = new Date(Date.now() - 9 * 60_000);
    utimesSync(file, before, before);
    expect(take(file)).toMatchObject({ heldBy: { pid: dead } });
    const long = new Date(Date.now() - 11 * 60_000);
    utimesSync(file, long, long);
    expect("lock" in take(file)).toBe(true);
  });

  it.runIf(canUnshare)("holds against a process that counts in another space", () => {
    const file = join(scratch(), "lock");
    expect("lock" in take(file)).toBe(true);
    const code = `
      const { takeLock } = await import(process.argv[1]);
      process.stdout.write("lock" in takeLock(process.argv[2]) ? "took" : "held");`;
    const module = pathToFileURL(inPackage("dist", "files", "lock.js")).href;
    const node = [process.execPath, "--input-type=module", "-e", code, module, file];
    const ran = spawnSync("unshare", [...UNSHARE, ...node], { encoding: "utf8" });
    expect(ran.stdout).toBe("held");
  });

  it("holds on a disk without hard links", () => {
    const folder = scratch();
    const code = `
      import fs from "node:fs";
      import { syncBuiltinESMExports } from "node:module";
      fs.linkSync = () => { throw Object.assign(new Error("no links"), { code: "EPERM" }); };
      syncBuiltinESMExports();
      const { takeLock } = await import(process.argv[1]);
      const first = takeLock(process.argv[2]);
      const second = takeLock(process.argv[2]);
      first.lock.release();
      const third = takeLock(process.argv[2]);
      process.stdout.write(["lock" in first, "lock" in second, "lock" in third].join(" "));
      process.exit();`;
    const module = pathToFileURL(inPackage("dist", "files", "lock.js")).href;
    const ran = spawnSync(
      process.execPath,
      ["--input-type=module", "-e", code, module, join(folder, "lock")],
      { encoding: "utf8" },
    );
    expect(ran.stdout).toBe("true false true");
    expect(readdirSync(folder)).toEqual(["lock"]);
  });

  it("is not removed by a run that lost it", () => {
    const file = join(scratch(), "lock");
    const first = take(file);
    if ("lock" in first) expect(first.lock.isLost()).toBe(false);
    writeFileSync(file, JSON.stringify({ host: "elsewhere", pid: 1, started: "", token: "theirs" }));
    if ("lock" in first) expect(first.lock.isLost()).toBe(true);
    if ("lock" in first) first.lock.release();
    expect(existsSync(file)).toBe(true);
  });
});

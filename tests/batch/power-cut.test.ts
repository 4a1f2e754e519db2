/**
 * What a power cut may take: nothing that a journal line vouches for. Disks keep what was synced, and anything else in any
 * order; so the order of writes and syncs is what promises it.
 */
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import type { MadeVisit } from "../../src/batch/job.js";
import { openJournal } from "../../src/batch/journal.js";
import { OutputStore } from "../../src/batch/output-store.js";
import { makeFolder, writeWhole } from "../../src/files/write.js";

const done = vi.hoisted(() => ({ steps: [] as string[], names: new Map<number, string>() }));

vi.mock("node:fs", async (original) => {
  const fs = await original<typeof import("node:fs")>();
  const short = (path: string) => basename(path).replace(/^\.whorl-.*\.part$/u, "temporary");
  const nameOf = (handle: number) => done.names.get(handle) ?? "";
  return {
    ...fs,
    openSync: (path: string, ...rest: [string, number?]) => {
      const handle = fs.openSync(path, ...rest);
      done.names.set(handle, short(path));
      return handle;
    },
    writeSync: (handle: number, bytes: Uint8Array, from?: number) => {
      done.steps.push(`write ${nameOf(handle)}`);
      return fs.writeSync(handle, bytes, from);
    },
    fsyncSync: (handle: number) => {
      done.steps.push(`sync ${nameOf(handle)}`);
      fs.fsyncSync(handle);
    },
    renameSync: (from: string, to: string) => {
      done.steps.push(`name ${short(to)}`);
      fs.renameSync(from, to);
    },
    rmSync: (path: string, options: object) => {
      done.steps.push(`remove ${short(path)}`);
      fs.rmSync(path, options);
    },
  };
});

const scratch = () => mkdtempSync(join(tmpdir(), "whorl-power-"));
beforeEach(() => {
  done.steps.length = 0;
});

describe("before the journal vouches for a visit", () => {
  it("its files are announced, whole, named and synced with their folder, in this order", () => {
    const folder = join(scratch(), "out");
    const head = { journal: 1, source: "/visits" } as const;
    const journal = openJournal(folder, head, []);
    const keeper = new OutputStore(folder, [], []);
    const record = {
      visit: "V1",
      patient: "P1",
      recipient: null,
      pages: 1,
      sha256: "",
      paper: "A4",
      state: "ready",
      faults: null,
    } as const;
    const file = (name: string) => ({
      name,
      bytes: Buffer.from(name),
      record: { ...record, document: name },
    });
    const made: MadeVisit = {
      state: "made",
      visit: "V1",
      files: [file("a.pdf"), file("b.pdf")],
      reasons: [],
    };
    done.steps.length = 0;
    keeper.keep({ key: "k", fingerprint: "f", visit: "V1", made }, journal);
    journal.close();
    expect(done.steps).toEqual([
      "write journal.jsonl",
      "sync journal.jsonl",
      "write temporary",
      "sync temporary",
      "name a.pdf",
      "write temporary",
      "sync temporary",
      "name b.pdf",
      "sync out",
      "remove a.pdf",
      "remove b.pdf",
      "write journal.jsonl",
      "sync journal.jsonl",
    ]);
  });
});

describe("a file written whole", () => {
  it("is there after the return, and so are the folders made for it", () => {
    const folder = scratch();
    writeWhole(join(folder, "a", "b", "x.pdf"), "letter");
    expect(done.steps).toEqual([
      "sync a",
      `sync ${basename(folder)}`,
      "write temporary",
      "sync temporary",
      "name x.pdf",
      "sync b",
    ]);
    done.steps.length = 0;
    makeFolder(join(folder, "a", "b"));
    expect(done.steps).toEqual([]);
  });
});

/** A run killed again and again until it is let finish -> what was wrong after any of the kills, and after the end. */
import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Draws } from "../../src/base/draws.js";
import { sha256 } from "../../src/base/sha256.js";
import { drawMoment, type Ended, momentWords, runUntil } from "./endure-kill.js";
import {
  faultsIn,
  fingerprintsIn,
  identityOf,
  journalFolders,
  type Picture,
  pathsBelow,
  pictureOf,
  vouchedFor,
} from "./endure-picture.js";
import { endRegisterFaults, registerFaults } from "./endure-register.js";
import type { Scene } from "./endure-scenes.js";

export interface Kill {
  readonly moment: string;
  /** How far the run had come, as the folder shows. */
  readonly phase: string;
  /** Temporary files the kill left. */
  readonly left: number;
  /** Whole documents that no journal line vouched for yet. */
  readonly underWay: number;
}

export interface Chain {
  readonly kills: readonly Kill[];
  /** Each says after which kill. */
  readonly faults: readonly string[];
  /** Documents whose journal line stood at some kill, and which are the same files at the end. */
  readonly kept: number;
}

/** Kills at most `most` times, fewer when a run ends before its moment comes. */
export async function endure(scene: Scene, draws: Draws, most: number): Promise<Chain> {
  scene.reset();
  const kills: Kill[] = [];
  const faults: string[] = [];
  const watch = new Watch(scene);
  watch.look();
  let ended: Ended | undefined;
  while (kills.length < most) {
    const moment = drawMoment(scene, draws);
    ended = await runUntil(scene.args, moment);
    if (!ended.killed) break;
    const found = [...faultsIn(scene.out, watch.allowed), ...watch.look()];
    const when = `kill ${kills.length + 1} (${momentWords(moment)})`;
    faults.push(...found.map((fault) => `${when}: ${fault}`));
    kills.push({ moment: momentWords(moment), ...watch.state() });
  }
  const finished = ended && !ended.killed ? ended : await runUntil(scene.args);
  faults.push(...unexpected(scene, finished));
  const last = [...faultsIn(scene.out, watch.allowed), ...watch.look(), ...watch.endFaults()];
  faults.push(...last.map((fault) => `end: ${fault}`));
  return { kills, faults, kept: watch.kept };
}

function unexpected(scene: Scene, { code, said }: Ended): string[] {
  return code === scene.code ? [] : [`ended with ${code} in place of ${scene.code}: ${said}`];
}

/** Follows one chain. */
class Watch {
  /** Hashes that a PDF of that name may have: as before, or as it should become. */
  readonly allowed: ReadonlyMap<string, ReadonlySet<string>>;
  private readonly vouched = new Map<string, string>();
  private readonly seen = new Set<string>();

  constructor(private readonly scene: Scene) {
    const allowed = new Map<string, Set<string>>();
    for (const picture of [scene.before, scene.after])
      for (const [path, hash] of picture)
        allowed.set(basename(path), (allowed.get(basename(path)) ?? new Set()).add(hash));
    this.allowed = allowed;
    for (const path of scene.before.keys()) this.seen.add(basename(path));
  }

  get kept(): number {
    return this.vouched.size;
  }

  /** Nothing vouched for is made again, and no document that was there is nowhere. */
  look(): string[] {
    const faults: string[] = [];
    for (const [file, identity] of this.vouched)
      if (!existsSync(file) || identityOf(file) !== identity)
        faults.push(`${basename(file)} was vouched for and has been made again`);
    for (const file of vouchedFor(this.scene.out, this.scene.fingerprints)) {
      if (existsSync(file)) this.vouched.set(file, identityOf(file));
      this.seen.add(basename(file));
    }
    const here = new Set([...pictureOf(this.scene.out).keys()].map((path) => basename(path)));
    for (const name of this.seen)
      if (name.endsWith(".pdf") && !here.has(name)) faults.push(`${name} is lost`);
    if (this.scene.isReadOnly) faults.push(...differences(this.scene.before, pictureOf(this.scene.out)));
    const { clinic, out, printed, printedHash } = this.scene;
    if (clinic) faults.push(...registerFaults(clinic, out, printed));
    if (printed && existsSync(printed) && sha256(readFileSync(printed)) !== printedHash)
      faults.push("the print run is not whole");
    return faults;
  }

  state(): Omit<Kill, "moment"> {
    const { scene } = this;
    const paths = [...pathsBelow(scene.out), ...(scene.printed ? pathsBelow(dirname(scene.printed)) : [])];
    const here = pictureOf(scene.out);
    const vouched = new Set(vouchedFor(scene.out, scene.fingerprints));
    const whole = [...here].filter(
      ([path, hash]) =>
        path.endsWith(".pdf") && scene.after.get(path) === hash && !path.includes("withdrawn/"),
    );
    return {
      phase: phaseOf(scene, here),
      left: paths.filter((path) => path.endsWith(".part")).length,
      underWay: whole.filter(([path]) => !vouched.has(join(scene.out, path))).length,
    };
  }

  /** After the last, undisturbed run. */
  endFaults(): string[] {
    const { scene } = this;
    const faults = differences(scene.after, pictureOf(scene.out));
    const left = [
      ...pathsBelow(scene.out),
      ...(scene.printed ? pathsBelow(dirname(scene.printed)) : []),
    ].filter((path) => /\.part$|(?:^|\/)lock|takeover/u.test(path));
    faults.push(...left.map((path) => `${path} is left over`));
    if (scene.printed && !existsSync(scene.printed)) faults.push("no print run");
    if (scene.clinic) faults.push(...endRegisterFaults(scene.clinic, scene.printed));
    const prints = fingerprintsIn(scene.out);
    for (const [key, fingerprint] of scene.fingerprints)
      if (prints.get(key) !== fingerprint) faults.push(`the journal does not know ${key} as it should`);
    return faults;
  }
}

/** Manifests tell how much was made in the last run, so they are compared by their documents elsewhere. */
function differences(wanted: Picture, found: Picture): string[] {
  const counted = (path: string) => /(?:^|\/)manifest\.json$/u.test(path);
  return [...new Set([...wanted.keys(), ...found.keys()])]
    .filter((path) => (counted(path) ? !found.has(path) : wanted.get(path) !== found.get(path)))
    .map((path) => `${path} is not as an undisturbed run leaves it`);
}

function phaseOf(scene: Scene, here: Picture): string {
  const isLocked =
    journalFolders(scene.out).length > 0 && pathsBelow(scene.out).some((p) => /\.whorl\/lock$/u.test(p));
  const isAsBefore = differences(scene.before, here).length === 0;
  if (!isLocked && isAsBefore && !here.has("manifest.json")) return "starting";
  const prints = fingerprintsIn(scene.out);
  const done = [...scene.fingerprints].filter(([key, print]) => prints.get(key) === print).length;
  if (isLocked && done === 0) return "planning";
  if (isLocked && done < scene.fingerprints.size) return "making";
  if (isLocked) return "summing up";
  if (scene.printed && !existsSync(scene.printed)) return isAsBefore ? "starting or print run" : "print run";
  return isAsBefore ? "starting or ended" : "ending";
}

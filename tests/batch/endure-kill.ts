/** One run of the command that is killed at a chosen moment: after a time, or right when something appears on disk. */
import { spawn } from "node:child_process";
import { type FSWatcher, mkdirSync, watch } from "node:fs";
import { dirname, join } from "node:path";
import type { Draws } from "../../src/base/draws.js";
import { inPackage } from "../../src/base/root.js";
import type { Scene } from "./endure-scenes.js";

/** `after` the start, or after the `nth` time that something named like `name` happens in `folder`. Milliseconds. */
export type Moment =
  | { readonly kind: "time"; readonly after: number }
  | {
      readonly kind: "event";
      readonly folder: string;
      readonly name: RegExp;
      readonly nth: number;
      readonly after: number;
    };

export interface Ended {
  readonly killed: boolean;
  readonly code: number | null;
  readonly said: string;
}

/** What happens on disk during a run, and how often to look out for it at most. */
function placesOf(scene: Scene): { folder: string; name: RegExp; most: number }[] {
  const state = join(scene.work, ".whorl");
  return [
    { folder: state, name: /^lock/u, most: 2 },
    { folder: state, name: /\.part$/u, most: 3 },
    { folder: state, name: /^journal/u, most: 12 },
    { folder: scene.work, name: /\.part$/u, most: 12 },
    { folder: scene.work, name: /\.pdf$/u, most: 6 },
    { folder: scene.work, name: /^(?:manifest|failures)/u, most: 3 },
    ...(scene.before.size > 0 ? [{ folder: join(scene.work, "withdrawn"), name: /./u, most: 6 }] : []),
    ...(scene.clinic
      ? [
          { folder: join(scene.clinic, "register"), name: /./u, most: 14 },
          { folder: scene.clinic, name: /^register\.jsonl$/u, most: 4 },
        ]
      : []),
    ...(scene.printed ? [{ folder: dirname(scene.printed), name: /./u, most: 3 }] : []),
  ].filter(({ folder }) => !scene.isGathering || folder !== state);
}

/** Half by the clock, half by what happens on disk. */
export function drawMoment(scene: Scene, draws: Draws): Moment {
  const upTo = (n: number) => Math.floor(draws.uniform() * n);
  const places = scene.isReadOnly ? [] : placesOf(scene);
  const place = places[upTo(places.length)];
  if (!place || draws.uniform() < 0.5) return { kind: "time", after: draws.uniform() * scene.milliseconds };
  return { kind: "event", ...place, nth: 1 + upTo(place.most), after: upTo(2) * draws.uniform() * 6 };
}

export function momentWords(moment: Moment): string {
  return moment.kind === "time"
    ? `after ${moment.after.toFixed(0)} ms`
    : `${moment.after.toFixed(1)} ms after event ${moment.nth} of ${moment.name.source}`;
}

/** Runs the command and kills the whole process at the moment; without one, or when it never comes, the run ends by itself. */
export async function runUntil(args: readonly string[], moment?: Moment): Promise<Ended> {
  let watcher: FSWatcher | undefined;
  let timer: NodeJS.Timeout | undefined;
  if (moment?.kind === "event") mkdirSync(moment.folder, { recursive: true, mode: 0o700 });
  const child = spawn(process.execPath, [inPackage("bin", "whorl.js"), ...args], {
    stdio: ["ignore", "ignore", "pipe"],
    env: { ...process.env, NO_COLOR: "1" },
  });
  let said = "";
  child.stderr.on("data", (chunk) => {
    said += String(chunk);
  });
  const kill = () => child.kill("SIGKILL");
  if (moment?.kind === "time") timer = setTimeout(kill, moment.after);
  if (moment?.kind === "event") {
    let seen = 0;
    watcher = watch(moment.folder, (_, name) => {
      if (name === null || !moment.name.test(name)) return;
      seen += 1;
      if (seen !== moment.nth) return;
      // Timers count whole milliseconds; the windows are narrower.
      const until = performance.now() + moment.after;
      while (performance.now() < until);
      kill();
    });
  }
  return new Promise((resolve) => {
    child.on("close", (code, signal) => {
      clearTimeout(timer);
      watcher?.close();
      resolve({ killed: signal === "SIGKILL", code, said });
    });
  });
}

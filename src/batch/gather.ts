/** The manifests of all shards below a folder -> one manifest, or what is missing or there twice. */
import { existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { sweepTemporary } from "../files/write.js";
import { dropManifest, type Manifest, readManifest, writeManifest } from "./manifest.js";
import { readShard, type Shard, shardFolder } from "./plan.js";

const FOLDER = /^shard-0*(\d+)-of-0*(\d+)$/u;

/** Joins the parts and writes the joint manifest beside their folders; the documents stay where they are. */
export function gatherShards(folder: string): { value?: Manifest; faults: string[] } {
  const found = existsSync(folder)
    ? readdirSync(folder).flatMap((name) => {
        const match = FOLDER.exec(name);
        return match ? [{ name, shard: readShard(`${match[1]}/${match[2]}`) }] : [];
      })
    : [];
  const counts = new Set(found.map((f) => f.shard?.count));
  const count = [...counts][0];
  if (count === undefined) return { faults: ["No parts (shard-01-of-04 and so on) in this folder."] };
  if (counts.size > 1)
    return { faults: ["Parts of different splits lie in this folder; keep one split only."] };
  const faults: string[] = [];
  const parts: { name: string; manifest: Manifest }[] = [];
  for (let index = 1; index <= count; index += 1) {
    const name = shardFolder({ index, count });
    const manifest = readManifest(join(folder, name));
    if (!manifest) faults.push(`Part ${index}/${count} is not finished: no manifest in ${name}.`);
    else if (manifest.shard !== `${index}/${count}`)
      faults.push(`The manifest in ${name} says that it is part ${manifest.shard ?? "none"}.`);
    else parts.push({ name, manifest });
  }
  const first = parts[0];
  if (faults.length > 0 || !first) return { faults };
  faults.push(
    ...disagreements(parts.map((p) => p.manifest)),
    ...doubles(parts),
    ...gaps(parts.map((p) => p.manifest)),
  );
  if (faults.length > 0) return { faults };
  const value = joined(first.manifest, parts);
  sweepTemporary(folder);
  writeManifest(folder, value);
  return { value, faults: [] };
}

/** Takes the joint manifest away when it speaks of the part, which is about to change. */
export function dropJointManifest(folder: string, shard: Shard): void {
  const part = `${shardFolder(shard)}/`;
  if (readManifest(folder)?.documents.some((d) => d.file.startsWith(part))) dropManifest(folder);
}

function disagreements(parts: readonly Manifest[]): string[] {
  const differs = (of: (m: Manifest) => unknown) => new Set(parts.map((m) => JSON.stringify(of(m)))).size > 1;
  return [
    ...(differs((m) => m.worklist)
      ? ["The parts were made from different worklists; run them all again."]
      : []),
    ...(differs((m) => m.settings)
      ? ["The parts were made with different options; run them all again."]
      : []),
    ...(differs((m) => m.whorl)
      ? ["The parts were made by different versions of Whorl; run them all again."]
      : []),
  ];
}

function doubles(parts: readonly { readonly name: string; readonly manifest: Manifest }[]): string[] {
  const faults: string[] = [];
  const visits = new Map<string, string>();
  const files = new Map<string, string>();
  const once = (seen: Map<string, string>, key: string, part: string, what: string) => {
    const before = seen.get(key);
    if (before !== undefined) faults.push(`${what} ${key} is in ${before} and in ${part}.`);
    seen.set(key, part);
  };
  for (const { name, manifest } of parts) {
    for (const visit of manifest.visits) once(visits, visit.source, name, "Visit");
    for (const document of manifest.documents) once(files, document.file.toLowerCase(), name, "Document");
  }
  return faults;
}

function gaps(parts: readonly Manifest[]): string[] {
  const listed = parts[0]?.worklist.visits ?? 0;
  const done = parts.reduce((sum, m) => sum + m.visits.length, 0);
  return done === listed ? [] : [`The worklist has ${listed} visits, the parts have ${done}.`];
}

function joined(
  first: Manifest,
  parts: readonly { readonly name: string; readonly manifest: Manifest }[],
): Manifest {
  const all = <T>(of: (m: Manifest) => readonly T[]): T[] => parts.flatMap((p) => [...of(p.manifest)]);
  const byPlace = <T extends { readonly place: number }>(rows: T[]) => rows.sort((a, b) => a.place - b.place);
  const total = (of: keyof Manifest["totals"]) => parts.reduce((sum, p) => sum + p.manifest.totals[of], 0);
  return {
    ...first,
    shard: null,
    totals: {
      visits: total("visits"),
      made: total("made"),
      unchanged: total("unchanged"),
      waiting: total("waiting"),
      failed: total("failed"),
      documents: total("documents"),
    },
    documents: byPlace(
      parts.flatMap(({ name, manifest }) =>
        manifest.documents.map((d) => ({ ...d, file: `${name}/${d.file}` })),
      ),
    ),
    visits: byPlace(all((m) => m.visits)),
    waiting: all((m) => m.waiting),
    failures: all((m) => m.failures),
    notices: all((m) => m.notices),
  };
}

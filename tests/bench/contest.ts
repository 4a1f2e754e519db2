/** Sets the same letters in several ways, one after the other, round by round on letters of other patients. */
import type { Letter } from "../../src/letter/document.js";
import { wordsByPage } from "./words.js";

/** Sets one letter; what can be known before, such as a list of calls or another language's source, is at hand. */
export type Work = () => Promise<Uint8Array>;

export interface Contestant {
  readonly what: string;
  /** Not measured. Keys differ between letters. */
  prepare(letter: Letter, key: string): Promise<Work>;
  close?(): Promise<void>;
  /** True when another process does the work. */
  readonly isElsewhere?: boolean;
}

export interface Standing {
  readonly what: string;
  /** Best of the rounds, since other work on the machine only ever slows one. */
  readonly ms: number;
  /** Processor time of this process, all threads; says little when another process does the work. */
  readonly cpuMs: number;
  readonly isElsewhere: boolean;
  /** Of the letters of one round. */
  readonly pages: number;
  readonly words: number;
  /** Words of every page of every letter of that round. */
  readonly read: readonly (readonly string[])[];
}

interface Round {
  readonly ms: number;
  readonly cpuMs: number;
  readonly made: readonly Uint8Array[];
}

async function timed(works: readonly Work[]): Promise<Round> {
  const made: Uint8Array[] = [];
  const cpu = process.cpuUsage();
  const start = performance.now();
  for (const work of works) made.push(await work());
  const ms = (performance.now() - start) / works.length;
  const { user, system } = process.cpuUsage(cpu);
  return { ms, cpuMs: (user + system) / 1000 / works.length, made };
}

/**
 * One standing for each contestant, in their order. The first `warmUp` rounds are not counted. A contestant that comes later must
 * not have been given the letters of a round by the preparing of an earlier one.
 */
export async function contest(
  contestants: readonly Contestant[],
  rounds: readonly (readonly Letter[])[],
  warmUp: number,
): Promise<Standing[]> {
  const results = contestants.map((): Round[] => []);
  for (const [number, letters] of rounds.entries()) {
    for (const [place, contestant] of contestants.entries()) {
      const works: Work[] = [];
      for (const [i, letter] of letters.entries())
        works.push(await contestant.prepare(letter, `${number}-${i}`));
      const round = await timed(works);
      // One round's documents are enough to look into; more would only fill the memory of those who come later.
      const made = number === warmUp ? round.made : [];
      if (number >= warmUp) results[place]?.push({ ...round, made });
    }
  }
  const standings: Standing[] = [];
  for (const [place, { what, close, isElsewhere = false }] of contestants.entries()) {
    const counted = results[place] ?? [];
    const read: string[][] = [];
    for (const bytes of counted[0]?.made ?? []) read.push(...(await wordsByPage(bytes)));
    standings.push({
      what,
      isElsewhere,
      ms: Math.min(...counted.map((round) => round.ms)),
      cpuMs: Math.min(...counted.map((round) => round.cpuMs)),
      pages: read.length,
      words: read.reduce((sum, page) => sum + page.length, 0),
      read,
    });
    await close?.();
  }
  return standings;
}

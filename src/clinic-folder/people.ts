/** Everyone a clinic's visits speak of -> for each visit, what makes it doubtful whose it is. */
import { lstatSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { groupBy } from "../base/group.js";
import { mixesScripts, seenAs } from "../base/look-alike.js";
import { sha256 } from "../base/sha256.js";
import { PHOTO_LIMITS } from "../page/photos.js";
import { differences, type Identity, nameKey, openDifferences } from "../visit/same-patient.js";
import type { Doubt, IdentityProblemId, Known } from "./doubt.js";
import type { Scan } from "./scan.js";
import { Slips } from "./slips.js";
import { tidyNumber } from "./tidy-number.js";

export class People {
  readonly named: readonly Identity[];
  private readonly all: readonly Known[];
  private readonly byFile: ReadonlyMap<string, Known>;
  private readonly byVisit: ReadonlyMap<string, readonly Known[]>;
  private readonly bySeenVisit: ReadonlyMap<string, readonly Known[]>;
  private readonly byNumber: ReadonlyMap<string, readonly Known[]>;
  private readonly byTidyNumber: ReadonlyMap<string, readonly Known[]>;
  private readonly bySeenNumber: ReadonlyMap<string, readonly Known[]>;
  private readonly byName: ReadonlyMap<string, Group>;
  private readonly byBirth: ReadonlyMap<string, Group>;
  private readonly byPerson: ReadonlyMap<string, readonly Known[]>;
  private readonly keys: ReadonlyMap<Known, Keys>;
  private photos: ReadonlyMap<string, readonly Known[]> | undefined;
  private readonly photoSizes = new Map<string, number>();
  private readonly photoHashes = new Map<string, string>();

  constructor(scans: readonly Scan[]) {
    this.all = scans.flatMap(({ file, identity, photos }) => (identity ? [{ file, identity, photos }] : []));
    this.named = this.all.map(({ identity }) => identity);
    const by = (keyOf: (identity: Identity) => string) => groupBy(this.all, (one) => keyOf(one.identity));
    this.byFile = new Map(this.all.map((one) => [one.file, one]));
    this.byVisit = by(({ visit }) => tidyNumber(visit));
    this.bySeenVisit = by(({ visit }) => seenAs(visit));
    this.byNumber = by(({ patient }) => patient);
    this.keys = new Map(this.all.map((one, place) => [one, { ...keysOf(one.identity), place }]));
    const byKey = (keyOf: (keys: Keys) => string) => groupBy(this.all, (one) => keyOf(this.keysOf(one)));
    this.byTidyNumber = byKey(({ tidy }) => tidy);
    this.bySeenNumber = byKey(({ seen }) => seen);
    this.byName = groupsOf(
      byKey(({ name }) => name),
      (one) => this.keysOf(one),
    );
    this.byBirth = groupsOf(
      by(({ born }) => born),
      (one) => this.keysOf(one),
    );
    this.byPerson = byKey(({ name, born }) => personKey(name, born));
  }

  /** The file as far as its patient is known. */
  known(file: string): Known | undefined {
    return this.byFile.get(file);
  }

  /** What is doubtful about whose visit this is; nothing of a file whose patient cannot be made out. */
  doubts(file: string): Doubt[] {
    const own = this.byFile.get(file);
    if (!own) return [];
    return [
      ...aloneDoubts(own),
      ...this.sameVisit(own),
      ...this.underOneNumber(own),
      ...this.alikeNumbers(own),
      ...this.underTwoNumbers(own),
      ...this.sharedPhotos(own),
    ];
  }

  private sameVisit(own: Known): Doubt[] {
    const { visit } = own.identity;
    const alike = [
      ...among(this.byVisit, tidyNumber(visit), own),
      ...among(this.bySeenVisit, seenAs(visit), own),
    ];
    const others = [...new Set(alike)];
    const elsewhere = others.filter((o) => o.identity.patient !== own.identity.patient);
    const copies = others.filter((o) => o.identity.patient === own.identity.patient);
    return [...doubt("visit-of-two-patients", own, elsewhere), ...doubt("visit-twice", own, copies)];
  }

  private underOneNumber(own: Known): Doubt[] {
    const group = this.byNumber.get(own.identity.patient) ?? [];
    if (group.length < 2) return [];
    const all = group.map((o) => o.identity);
    const found = new Map<IdentityProblemId, Known[]>();
    const accepted = new Map<IdentityProblemId, Known[]>();
    const put = (into: Map<IdentityProblemId, Known[]>, id: IdentityProblemId, other: Known) =>
      into.set(id, [...(into.get(id) ?? []), other]);
    for (const other of group) {
      if (other === own) continue;
      const differs = differences(own.identity, other.identity);
      const open = differs.length > 0 ? openDifferences(own.identity, other.identity, all) : [];
      for (const id of open) put(found, id, other);
      for (const id of differs)
        if (!open.includes(id) && own.identity.accepts.includes(id)) put(accepted, id, other);
      if (!differs.some((id) => id !== "sex-differs" && id !== "born-differs") && spelledApart(own, other))
        put(
          own.identity.accepts.includes("name-spelled-differently") ? accepted : found,
          "name-spelled-differently",
          other,
        );
    }
    return [
      ...[...found].map(([id, others]) => ({ id, others, isAccepted: false })),
      ...[...accepted].map(([id, others]) => ({ id, others, isAccepted: true })),
    ];
  }

  private alikeNumbers(own: Known): Doubt[] {
    const { tidy, seen } = this.keysOf(own);
    const alike = [...(this.byTidyNumber.get(tidy) ?? []), ...(this.bySeenNumber.get(seen) ?? [])];
    return doubt(
      "number-looks-alike",
      own,
      [...new Set(alike)].filter((o) => o.identity.patient !== own.identity.patient),
    );
  }

  /** One person, or nearly, under two numbers; numbers that look alike are told of already. */
  private underTwoNumbers(own: Known): Doubt[] {
    const { name, born, tidy, seen } = this.keysOf(own);
    const elsewhere = (found: readonly Known[]) =>
      [...new Set(found)]
        .filter((o) => this.keysOf(o).tidy !== tidy && this.keysOf(o).seen !== seen)
        .sort((a, b) => this.keysOf(a).place - this.keysOf(b).place);
    const bornOn = (day: string) => (name === "" ? [] : among(this.byPerson, personKey(name, day), own));
    const namesakes = name === "" ? undefined : this.byName.get(name);
    const contemporaries = born === "" ? undefined : this.byBirth.get(born);
    const near = [
      ...elsewhere([
        ...(namesakes?.numbers.near(own) ?? []),
        ...(namesakes?.births.near(own) ?? []),
        ...bornOn(swappedDay(born)),
      ]).filter((o) => o.identity.born !== born),
      ...elsewhere([
        ...(contemporaries?.names.near(own) ?? []),
        ...(contemporaries?.numbers.near(own) ?? []).filter((o) => givenSame(own.identity, o.identity)),
      ]).filter((o) => this.keysOf(o).name !== name),
    ];
    return [
      ...doubt("one-person-two-numbers", own, born === "" ? [] : elsewhere(bornOn(born))),
      ...doubt("nearly-one-person", own, near),
    ];
  }

  private keysOf(one: Known): Keys {
    const keys = this.keys.get(one);
    if (!keys) throw new Error(`${one.file} is not among these visits`);
    return keys;
  }

  private sharedPhotos(own: Known): Doubt[] {
    return own.photos.flatMap((photo) => {
      const file = join(dirname(own.file), photo);
      const others = (this.photosBySize().get(String(this.sizeOf(file))) ?? []).filter(
        (o) =>
          o.identity.patient !== own.identity.patient &&
          o.photos.some((theirs) => {
            const other = join(dirname(o.file), theirs);
            return this.sizeOf(other) === this.sizeOf(file) && this.hashOf(other) === this.hashOf(file);
          }),
      );
      return doubt("photo-of-two-patients", own, others).map((d) => ({ ...d, photo }));
    });
  }

  /** Only photos of one size can be one photo; so few are read. */
  private photosBySize(): ReadonlyMap<string, readonly Known[]> {
    if (!this.photos) {
      const all = this.all.flatMap((one) =>
        [...new Set(one.photos.map((photo) => this.sizeOf(join(dirname(one.file), photo))))]
          .filter((size) => size > 0)
          .map((size) => ({ size: String(size), one })),
      );
      this.photos = new Map(
        [...groupBy(all, ({ size }) => size)].map(([size, rows]) => [size, rows.map(({ one }) => one)]),
      );
    }
    return this.photos;
  }

  /** 0 for whatever is no photo. */
  private sizeOf(file: string): number {
    const known = this.photoSizes.get(file);
    if (known !== undefined) return known;
    const stat = lstatSync(file, { throwIfNoEntry: false });
    const size = stat?.isFile() && stat.size <= PHOTO_LIMITS.bytes ? stat.size : 0;
    this.photoSizes.set(file, size);
    return size;
  }

  private hashOf(file: string): string {
    const known = this.photoHashes.get(file) ?? sha256(readFileSync(file));
    this.photoHashes.set(file, known);
    return known;
  }
}

/** By what visits are found to be of one person. */
interface Keys {
  readonly name: string;
  readonly born: string;
  readonly tidy: string;
  readonly seen: string;
  /** Of the file among all. */
  readonly place: number;
}

function keysOf(identity: Identity): Omit<Keys, "place"> {
  const { born, patient } = identity;
  return { name: nameKey(identity), born, tidy: tidyNumber(patient), seen: seenAs(patient) };
}

const personKey = (name: string, born: string): string => JSON.stringify([name, born]);

/** Day and month taken for each other. */
function swappedDay(born: string): string {
  const [year, month, day] = born.split("-");
  return `${year}-${day}-${month}`;
}

/** Visits that have one thing in common, by what may have been slipped in. */
interface Group {
  readonly names: Slips<Known>;
  readonly births: Slips<Known>;
  readonly numbers: Slips<Known>;
}

function groupsOf(
  groups: ReadonlyMap<string, readonly Known[]>,
  keysOf: (one: Known) => Keys,
): ReadonlyMap<string, Group> {
  return new Map(
    [...groups].flatMap(([key, all]) => {
      if (all.length < 2) return [];
      const slips = (word: (keys: Keys) => string) => new Slips(all, (one) => word(keysOf(one)));
      const names = slips(({ name }) => name);
      return [[key, { names, births: slips(({ born }) => born), numbers: slips(({ tidy }) => tidy) }]];
    }),
  );
}

/** Of those with the key, all but the visit itself. */
function among(groups: ReadonlyMap<string, readonly Known[]>, key: string, own: Known): Known[] {
  return (groups.get(key) ?? []).filter((other) => other !== own);
}

/** Either side may accept that it is as it is. */
function doubt(id: IdentityProblemId, own: Known, others: readonly Known[]): Doubt[] {
  if (others.length === 0) return [];
  const open = others.filter((o) => !o.identity.accepts.includes(id));
  const isAccepted = own.identity.accepts.includes(id) || open.length === 0;
  return [{ id, others: isAccepted ? others : open, isAccepted }];
}

function aloneDoubts(own: Known): Doubt[] {
  const { identity } = own;
  const { patient, visit, given, family } = identity;
  const named = [given, family].filter((part) => part !== "");
  const alone = (id: IdentityProblemId) => ({ id, others: [], isAccepted: identity.accepts.includes(id) });
  const isNameless = named.length > 0 && named.some((part) => !/\p{L}/u.test(part));
  const isMixed = [...named, patient, visit].some(mixesScripts);
  return [
    ...(isNameless ? [alone("name-without-letters")] : []),
    ...(isMixed ? [alone("mixed-scripts")] : []),
  ];
}

function givenSame(a: Identity, b: Identity): boolean {
  return a.given !== "" && !differences({ ...a, family: "" }, { ...b, family: "" }).includes("given-differs");
}

/** One name in two spellings, such as with and without accents or in another order; case and hyphens are no spelling. */
function spelledApart(a: Known, b: Known): boolean {
  const plain = ({ identity }: Known) =>
    [identity.given, identity.family].map((part) =>
      part
        .normalize("NFC")
        .replace(/\p{Cf}/gu, "")
        .toLowerCase()
        .replace(/[\s\p{P}]+/gu, " ")
        .trim(),
    );
  const [given, family] = plain(a);
  const [otherGiven, otherFamily] = plain(b);
  return (given !== otherGiven && given !== "" && otherGiven !== "") || family !== otherFamily;
}

/** Small pieces of HL7 FHIR R4 resources: ids, references, words, quantities, narrative. */

import { createHash } from "node:crypto";
import { escapeXml } from "../base/text.js";
import type { Coding } from "../knowledge/open-codes.js";

/** A resource as plain JSON; FHIR has no empty values, so nothing here is ever undefined, empty or null. */
export type Resource = { readonly resourceType: string; readonly id: string } & Readonly<
  Record<string, unknown>
>;

export interface Entry {
  readonly fullUrl: string;
  readonly resource: Resource;
}

export interface Reference {
  readonly reference: string;
  readonly display?: string;
}

/** What every resource of one document shares. */
export interface DocumentFrame {
  /** Namespace of the ids: one clinic. */
  readonly clinic: string;
  readonly visit: string;
  /** BCP 47 tag of the words in it. */
  readonly language: string;
  /** ISO date of the visit. */
  readonly date: string;
  readonly signed: boolean;
  /** The moment of signing with its offset; undefined where none was recorded. */
  readonly moment: string | undefined;
  readonly patient: Reference;
  readonly practitioner: Reference;
  readonly organization: Reference;
}

/** Our own namespace, drawn once. */
const NAMESPACE = "6f9d6b0e-3f0a-4c55-9f6e-0d8a1c7b52e4";

/** A name-based UUID (version 5, RFC 9562): the same names give the same id on every computer. */
export function uuidOf(...names: readonly string[]): string {
  const hash = createHash("sha1").update(Buffer.from(NAMESPACE.replaceAll("-", ""), "hex"));
  const bytes = hash.update(JSON.stringify(names), "utf8").digest().subarray(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x50;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  return bytes.toString("hex").replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/u, "$1-$2-$3-$4-$5");
}

/** A bundle entry of a resource whose id is a UUID. */
export function entryOf(resource: Resource): Entry {
  return { fullUrl: `urn:uuid:${resource.id}`, resource };
}

/** A reference to a resource of the same bundle. */
export function referTo(id: string, display?: string): Reference {
  return { reference: `urn:uuid:${id}`, ...(display ? { display } : {}) };
}

/** A concept in words; terminology codes are given beside them only where they are sure. */
export function inWords(text: string, coding: readonly Coding[] = []): { readonly text: string } {
  return { ...(coding.length > 0 ? { coding } : {}), text };
}

export const UCUM = "http://unitsofmeasure.org";

/** A quantity with its UCUM code; a plain number has the code 1. A code that only annotates is none: two counts would pass for one unit. */
export function quantity(value: number, unit: string, code: string): Readonly<Record<string, unknown>> {
  if (code.includes("{")) return { value: decimal(value), ...(unit === "" ? {} : { unit }) };
  return {
    value: decimal(value),
    ...(unit === "" ? {} : { unit }),
    system: UCUM,
    code: code === "" ? "1" : code,
  };
}

/** At most eight significant digits: more would be arithmetic, not measurement. */
export function decimal(value: number): number {
  return Number(value.toPrecision(8));
}

/** The narrative of a resource: paragraphs of plain text. */
export function narrative(...paragraphs: readonly string[]): Readonly<Record<string, unknown>> {
  return narrativeIn(undefined, paragraphs);
}

/** The same, saying its language, as a resource that names one must. */
export function narrativeIn(
  language: string | undefined,
  paragraphs: readonly string[],
): Readonly<Record<string, unknown>> {
  const said = language === undefined ? "" : ` lang="${language}" xml:lang="${language}"`;
  const lines = paragraphs.filter((p) => p.trim() !== "").map((p) => `<p>${xml(p)}</p>`);
  return {
    status: "generated",
    div: `<div xmlns="http://www.w3.org/1999/xhtml"${said}>${lines.length > 0 ? lines.join("") : "<p>-</p>"}</div>`,
  };
}

function xml(text: string): string {
  return escapeXml(text).replace(/\n/gu, "<br/>");
}

/** Uberon, the openly licensed anatomy (CC BY 3.0), has the scalp as a whole and none of its regions. */
const SCALP = {
  system: "http://purl.obolibrary.org/obo/uberon.owl",
  code: "UBERON:0000403",
  display: "scalp",
};

/** An eyebrow is no part of the scalp. */
export const isOffScalp = (site: string): boolean => /eyebrow/u.test(site);

/** The place in our words, coded as scalp where it is one. */
export function bodySite(site: string): object {
  return inWords(site, isOffScalp(site) ? [] : [SCALP]);
}

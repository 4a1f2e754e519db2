/** Invariants of FHIR R4 (4.0.1) that concern a document Bundle, each as a check of its own; returns those that are broken. */
import type { FhirBundle } from "../../src/exchange/exchange.js";

type Json = Record<string, unknown>;
const isMap = (v: unknown): v is Json => typeof v === "object" && v !== null && !Array.isArray(v);

/** Every map below a value, with the key it stands under. */
function* maps(value: unknown, key = ""): Generator<{ key: string; map: Json }> {
  if (Array.isArray(value)) for (const v of value) yield* maps(v, key);
  else if (isMap(value)) {
    yield { key, map: value };
    for (const [k, v] of Object.entries(value)) yield* maps(v, k);
  }
}

function* empties(value: unknown, path: string): Generator<string> {
  if (value === null || value === undefined || value === "") yield path;
  else if (Array.isArray(value)) {
    if (value.length === 0) yield path;
    for (const [i, v] of value.entries()) yield* empties(v, `${path}[${i}]`);
  } else if (typeof value === "object") {
    if (Object.keys(value).length === 0) yield path;
    for (const [k, v] of Object.entries(value)) yield* empties(v, `${path}.${k}`);
  } else if (typeof value === "number" && !Number.isFinite(value)) yield path;
}

const STATUS: Record<string, readonly string[]> = {
  Composition: ["preliminary", "final", "amended", "entered-in-error"],
  DiagnosticReport: [
    "registered",
    "partial",
    "preliminary",
    "final",
    "amended",
    "corrected",
    "appended",
    "cancelled",
  ],
  Observation: [
    "registered",
    "preliminary",
    "final",
    "amended",
    "corrected",
    "cancelled",
    "entered-in-error",
    "unknown",
  ],
  DocumentReference: ["current", "superseded", "entered-in-error"],
};
const REQUIRED: Record<string, readonly string[]> = {
  Composition: ["status", "type", "date", "author", "title"],
  DiagnosticReport: ["status", "code"],
  Observation: ["status", "code"],
  DocumentReference: ["status", "content"],
  Condition: ["subject"],
};
const DATE_TIME = /^\d{4}(?:-\d{2}(?:-\d{2}(?:T\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2}))?)?)?$/u;
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2})$/u;

export function brokenRules(bundle: FhirBundle): string[] {
  const broken: string[] = [];
  const rule = (id: string, holds: boolean, where: unknown = "") => {
    if (!holds)
      broken.push(`${id} ${typeof where === "string" ? where : JSON.stringify(where).slice(0, 200)}`);
  };
  for (const path of empties(bundle, "Bundle")) rule("ele-1", false, path);
  const urls = bundle.entry.map((e) => e.fullUrl);
  rule(
    "bdl-7",
    new Set(urls).size === urls.length,
    urls.filter((u, i) => urls.indexOf(u) !== i),
  );
  rule("bdl-9", Boolean(bundle.identifier?.system && bundle.identifier.value));
  rule("bdl-10", INSTANT.test(bundle.timestamp ?? ""), bundle.timestamp);
  rule("bdl-11", bundle.entry[0]?.resource.resourceType === "Composition");
  rule(
    "bdl-8",
    urls.every((u) => !u.includes("/_history/")),
  );
  rule("bdl-34", !("total" in bundle) && bundle.entry.every((e) => !("request" in e) && !("response" in e)));
  const composition: Json = bundle.entry[0]?.resource ?? {};
  rule("timestamp", Date.parse(bundle.timestamp) >= Date.parse(String(composition.date)), bundle.timestamp);
  for (const { fullUrl, resource } of bundle.entry) {
    rule("id", fullUrl === `urn:uuid:${resource.id}` && /^[A-Za-z0-9.-]{1,64}$/u.test(resource.id), fullUrl);
    rule(
      "uuid",
      /^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/u.test(resource.id),
      resource.id,
    );
    rule("dom-2", !("contained" in resource), resource.id);
    rule("dom-6", isMap(resource.text), resource.id);
    for (const key of REQUIRED[resource.resourceType] ?? [])
      rule("min-1", key in resource, `${resource.resourceType}.${key}`);
    const statuses = STATUS[resource.resourceType];
    if (statuses) rule("status", statuses.includes(String(resource.status)), resource.status);
  }
  for (const { key, map } of maps(bundle)) {
    if (typeof map.reference === "string") rule("ref", urls.includes(map.reference), map.reference);
    if ("data" in map) rule("att-1", typeof map.contentType === "string", key);
    const isQuantity = /[qQ]uantity$|^(?:low|high|numerator|denominator)$/u.test(key);
    if (isQuantity && "code" in map) rule("qty-3", typeof map.system === "string", map);
    if (typeof map.div === "string") {
      rule(
        "txt-1",
        /^<div xmlns="http:\/\/www\.w3\.org\/1999\/xhtml"(?: lang="[\w-]+" xml:lang="[\w-]+")?>(?:<p>(?:[^<>]|<br\/>)*<\/p>)*<\/div>$/u.test(
          map.div,
        ),
        map.div,
      );
      rule("txt-2", map.div.replace(/<[^>]+>/gu, "").trim() !== "", map.div);
    }
    for (const k of ["effectiveDateTime", "recordedDate", "creation", "birthDate"])
      if (k in map) rule("dateTime", DATE_TIME.test(String(map[k])), map[k]);
    if ("issued" in map) rule("instant", INSTANT.test(String(map.issued)), map.issued);
    if (key === "section") {
      rule("cmp-1", "text" in map || "entry" in map || "section" in map, map);
      rule("cmp-2", !("emptyReason" in map) || !("entry" in map), map);
    }
    if (map.resourceType === "Observation") observationRules(map, rule);
    if (map.resourceType === "Condition") {
      const verification = JSON.stringify(map.verificationStatus);
      rule("con-5", !(verification.includes("entered-in-error") && "clinicalStatus" in map), map);
      rule("con-4", !("abatementDateTime" in map), map);
    }
    if (key === "referenceRange") rule("obs-3", "low" in map || "high" in map || "text" in map, map);
  }
  return broken;
}

function observationRules(map: Json, rule: (id: string, holds: boolean, where?: unknown) => void): void {
  const hasValue = Object.keys(map).some((k) => /^value[A-Z]/u.test(k));
  rule("obs-6", !(hasValue && "dataAbsentReason" in map), map);
  const components = Array.isArray(map.component) ? map.component.filter(isMap) : [];
  const own = JSON.stringify(map.code);
  rule("obs-7", !(hasValue && components.some((c) => JSON.stringify(c.code) === own)), map);
  rule("obs-value", hasValue || "dataAbsentReason" in map || components.length > 0, map);
  rule("one-site", !Array.isArray(map.bodySite), map);
}

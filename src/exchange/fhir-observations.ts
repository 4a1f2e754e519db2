/** What was seen, counted and tested as FHIR Observations: one for the findings of each site, one for each measure and test. */
import type { FindingId } from "../base/ids.js";
import { openCode } from "../knowledge/open-codes.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measured } from "../measure/types.js";
import type { CountedField, Extent, PullTest, Seen, Site, Test } from "../visit/visit.js";
import {
  bodySite,
  type DocumentFrame,
  decimal,
  inWords,
  isOffScalp,
  narrative,
  quantity,
  type Resource,
  uuidOf,
} from "./fhir-parts.js";
import { ucumOf } from "./fhir-units.js";

type Part = Readonly<Record<string, unknown>>;

function observation(
  frame: DocumentFrame,
  key: string,
  category: "exam" | "laboratory",
  what: string,
  parts: Part,
  told: readonly string[],
): Resource {
  return {
    resourceType: "Observation",
    id: uuidOf(frame.clinic, "visit", frame.visit, key),
    text: narrative(`${what}: ${told.join("; ")}`),
    status: frame.signed ? "final" : "preliminary",
    category: [
      { coding: [{ system: "http://terminology.hl7.org/CodeSystem/observation-category", code: category }] },
    ],
    code: inWords(what),
    subject: frame.patient,
    effectiveDateTime: frame.date,
    performer: [frame.practitioner],
    ...parts,
  };
}

/** The findings of one site; what was not assessed has no component. */
export function siteObservation(
  frame: DocumentFrame,
  site: Site,
  index: number,
  knowledge: Knowledge,
): Resource {
  const term = (id: FindingId) => knowledge.findings[id]?.term ?? id;
  const { openCodes } = knowledge;
  const offScalp = isOffScalp(site.site);
  const component: Part[] = site.findings.map(({ finding, seen }) => ({
    code: inWords(
      term(finding),
      openCode(openCodes, openCodes.findings[finding], { denied: seen.state === "absent", offScalp }),
    ),
    ...seenValue(seen),
  }));
  if (site.patch) {
    component.push({
      code: inWords("patch length"),
      valueQuantity: quantity(site.patch.lengthMm, "mm", "mm"),
    });
    component.push({ code: inWords("patch width"), valueQuantity: quantity(site.patch.widthMm, "mm", "mm") });
    if (site.patch.margin)
      component.push({ code: inWords("patch margin"), valueCodeableConcept: inWords(site.patch.margin) });
  }
  for (const [i, field] of site.fields.entries()) component.push(...fieldComponents(field, i + 1));
  const told = site.findings.map(({ finding, seen }) => `${term(finding)} ${seenWords(seen)}`);
  return observation(
    frame,
    `site ${index}`,
    "exam",
    "Dermoscopy findings",
    {
      bodySite: bodySite(site.site),
      ...(component.length > 0 ? { component } : { dataAbsentReason: absent("not-performed") }),
      ...(site.notes ? { note: [{ text: site.notes }] } : {}),
    },
    [`site ${index + 1}, ${site.site}`, ...told],
  );
}

function seenValue(seen: Seen): Part {
  if (seen.state === "absent") return { valueCodeableConcept: inWords("looked for and not seen") };
  if (!seen.count) return { valueCodeableConcept: inWords(seen.amount ?? "seen") };
  const { count, fields } = seen.count;
  return {
    valueRatio: {
      numerator: quantity(count, "structures", "{structures}"),
      denominator: quantity(fields, fields === 1 ? "field of view" : "fields of view", "{fields}"),
    },
  };
}

function seenWords(seen: Seen): string {
  if (seen.state === "absent") return "not seen";
  if (seen.count)
    return `${seen.count.count} in ${seen.count.fields} ${seen.count.fields === 1 ? "field" : "fields"}`;
  return seen.amount ?? "seen";
}

function fieldComponents(field: CountedField, number: number): Part[] {
  const counts: readonly (readonly [string, number | undefined])[] = [
    ["hairs", field.hairs],
    ["thin hairs", field.thin],
    ["vellus hairs", field.vellus],
    ["yellow dots", field.yellowDots],
    ["discoloured openings", field.discolouredOpenings],
    ...Object.entries(field.units ?? {}).map(([n, units]) => [`units of ${n}`, units] as const),
  ];
  return counts.flatMap(([what, count]) =>
    count === undefined ? [] : [{ code: inWords(`${what}, field ${number}`), valueInteger: count }],
  );
}

/** What tells the measures of one visit apart, save for one made twice at one region. */
export function placeOfMeasure(m: Measured): string {
  return [m.id, m.site ?? "", m.siteIndex ?? ""].join(" ");
}

/** One measure with its limits, published range, method and source; `occurrence` counts equal measures of one place. */
export function measureObservation(
  frame: DocumentFrame,
  m: Measured,
  occurrence: number,
  knowledge: Knowledge,
): Resource {
  const amount = (value: number) => quantity(value, m.unit, m.ucum);
  const limits = (
    [
      ["95 % interval, lower limit", m.low],
      ["95 % interval, upper limit", m.high],
    ] as const
  ).flatMap(([what, value]) =>
    value !== undefined && Number.isFinite(value)
      ? [{ code: inWords(what), valueQuantity: amount(value) }]
      : [],
  );
  const { normal } = m;
  const range = normal && {
    ...(normal.low === undefined ? {} : { low: amount(normal.low) }),
    ...(normal.high === undefined ? {} : { high: amount(normal.high) }),
    text: `${normal.group} (${citations(normal.source, knowledge)})`,
  };
  const notes = [
    ...(m.n === undefined ? [] : [`Counted or measured: ${m.n}.`]),
    ...(m.band ? [`${m.band}.`] : []),
    ...(m.caveat ? [m.caveat] : []),
  ];
  return observation(
    frame,
    `measure ${placeOfMeasure(m)} ${occurrence}`,
    "exam",
    m.term,
    {
      ...(m.site ? { bodySite: bodySite(m.site) } : {}),
      valueQuantity: amount(m.value),
      ...(m.method ? { method: inWords(m.method) } : {}),
      ...(range ? { referenceRange: [range] } : {}),
      ...(limits.length > 0 ? { component: limits } : {}),
      ...(notes.length > 0 ? { note: notes.map((text) => ({ text })) } : {}),
    },
    [`${m.site ? `${m.site}, ` : ""}${decimal(m.value).toFixed(m.places)} ${m.unit}`.trim()],
  );
}

function citations(source: string, knowledge: Knowledge): string {
  return source
    .split(/\s*;\s*/u)
    .map((id) => knowledge.sources[id]?.citation ?? id)
    .join("; ");
}

export function pullObservation(frame: DocumentFrame, pull: PullTest, index: number): Resource {
  const component = [
    { code: inWords("hairs pulled"), valueInteger: pull.pulled },
    { code: inWords("hairs that came out"), valueInteger: pull.cameOut },
    ...(pull.anagen === undefined
      ? []
      : [{ code: inWords("anagen hairs among them"), valueInteger: pull.anagen }]),
  ];
  const anagen = pull.anagen === undefined ? "" : `, ${pull.anagen} of them anagen`;
  const told = `${pull.site}, ${pull.cameOut} of ${pull.pulled} hairs came out${anagen}`;
  return observation(
    frame,
    `pull ${index}`,
    "exam",
    "Hair pull test",
    { bodySite: bodySite(pull.site), component },
    [told],
  );
}

export function extentObservation(frame: DocumentFrame, extent: Extent): Resource | undefined {
  const areas = (["top", "left", "right", "back"] as const).flatMap((area) =>
    extent[area] === undefined ? [] : [{ area, percent: extent[area] }],
  );
  if (areas.length === 0) return undefined;
  const component = areas.map(({ area, percent }) => ({
    code: inWords(`hair lost, ${area} of the scalp`),
    valueQuantity: quantity(percent, "%", "%"),
  }));
  const told = areas.map(({ area, percent }) => `${area} ${percent} %`);
  return observation(
    frame,
    "extent",
    "exam",
    "Extent of hair loss",
    { bodySite: bodySite("scalp"), component },
    told,
  );
}

/** A test done or awaited. An awaited one is registered, with the reason why there is no value. */
export function testObservation(frame: DocumentFrame, test: Test, index: number): Resource {
  const awaited =
    test.value === undefined && (!test.result || /^\s*(?:awaited|pending)\b/iu.test(test.result));
  const base = observation(frame, `test ${index}`, "laboratory", test.name, {}, [
    [test.value, test.unit, test.result].filter((x) => x !== undefined).join(" ") || "awaited",
  ]);
  // Whoever did the test is not known here.
  const { performer: _performer, effectiveDateTime: _when, ...rest } = base;
  const dated = { ...rest, ...(test.date ? { effectiveDateTime: test.date } : {}) };
  if (awaited) {
    const note = test.result ? { note: [{ text: test.result }] } : {};
    return { ...dated, status: "registered", dataAbsentReason: absent("temp-unknown"), ...note };
  }
  if (test.value === undefined) return { ...dated, valueString: test.result ?? "" };
  const code = ucumOf(test.unit);
  const valueQuantity =
    code === undefined
      ? { value: decimal(test.value), ...(test.unit ? { unit: test.unit } : {}) }
      : quantity(test.value, test.unit ?? "", code);
  return { ...dated, valueQuantity, ...(test.result ? { note: [{ text: test.result }] } : {}) };
}

function absent(code: "not-performed" | "temp-unknown"): Part {
  return { coding: [{ system: "http://terminology.hl7.org/CodeSystem/data-absent-reason", code }] };
}

/** The words, drawings and people that the page offers, from the knowledge and the clinic file. */
import { basename, join } from "node:path";
import { pictogram } from "../diagram/diagram.js";
import type { Knowledge } from "../knowledge/schema.js";
import { REGIONS } from "../visit/visit.js";
import type { Desk } from "./desk.js";
import { formFields } from "./form-fields.js";
import { ONLY_AT } from "./likely.js";
import type { DeskWords, WordEntry } from "./messages.js";

/** What the knowledge alone says, put together once. */
const catalogues = new WeakMap<Knowledge, Catalogue>();

type Catalogue = Pick<DeskWords, "findings" | "facts" | "fields" | "disorders" | "regions" | "scores">;

export function deskWords(desk: Desk): DeskWords {
  const { clinic } = desk.clinicOf(join(desk.folder, "any.yaml"));
  const catalogue = catalogues.get(desk.knowledge) ?? catalogueOf(desk);
  catalogues.set(desk.knowledge, catalogue);
  desk.list.catchUp();
  return {
    folder: basename(desk.folder),
    today: desk.today(),
    clinic: clinic?.name ?? null,
    people: Object.entries(clinic?.people ?? {}).map(([key, { name, role, maySign }]) => ({
      key,
      name,
      role,
      maySign,
    })),
    ...catalogue,
    recipients: desk.list.recipients(),
    nextId: desk.list.nextId(),
    nextPatientId: desk.list.nextPatientId(),
  };
}

function catalogueOf({ knowledge, schema }: Desk): Catalogue {
  const word = ({ id, term, also }: WordEntry): WordEntry => ({ id, term, also });
  return {
    findings: Object.values(knowledge.findings).map((finding) => ({
      ...word(finding),
      group: finding.group,
      onlyAt: ONLY_AT[finding.id] ?? null,
      what: finding.what,
      look: finding.look ?? null,
      picture: pictogram(finding.id, undefined, finding.group) ?? "",
    })),
    facts: Object.values(knowledge.facts).map((fact) => ({
      ...word(fact),
      kind: fact.kind,
      what: fact.what,
      question: fact.question ?? null,
      urgency: fact.urgency ?? null,
    })),
    fields: formFields(schema),
    disorders: Object.values(knowledge.disorders).map(word),
    regions: REGIONS.map((id) => ({ id, term: id, also: knowledge.regions[id]?.also ?? [] })),
    scores: Object.values(knowledge.scores)
      .filter(({ inputs }) => Object.keys(inputs).length > 0)
      .map(({ id, term, about, inputs }) => ({
        id,
        term,
        also: [],
        about,
        inputs: Object.entries(inputs).map(([key, { min, max, says, choices }]) => ({
          key,
          min,
          max,
          says,
          choices: Object.entries(choices ?? {}),
        })),
      })),
  };
}

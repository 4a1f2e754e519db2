/** What every part of the desk needs: the folder, the knowledge, the clinic of a visit, today's date. */
import type { ClinicFiles, ClinicFound } from "../clinic-folder/clinic-file.js";
import { ClinicPeople } from "../clinic-folder/clinic-people.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { VisitReader } from "../clinic-folder/visit-reader.js";
import type { Knowledge } from "../knowledge/schema.js";
import { ClinicRegisters } from "../register/clinic-registers.js";
import { type Json, visitJsonSchema } from "../visit/json-schema.js";
import { VisitList } from "./visit-list.js";

export interface DeskOptions {
  readonly folder: string;
  readonly knowledge: Knowledge;
  /** The clinic files that belong to the visits. */
  readonly clinics: ClinicFiles;
  /** True when one clinic file was named for all visits. */
  readonly oneClinic?: boolean;
  /** ISO date of today. */
  readonly today: () => string;
}

export interface Desk extends DeskOptions {
  readonly schema: Json;
  readonly list: VisitList;
  /** The clinic of a visit file, read again when its file changes. */
  readonly clinicOf: (visitFile: string) => ClinicFound;
  /** The visit files as they are now; what has not changed is not read again. */
  readonly look: () => { readonly visits: VisitFiles; readonly people: ClinicPeople };
  readonly reader: () => VisitReader;
  readonly registers: ClinicRegisters;
}

export function openDesk(options: DeskOptions): Desk {
  let visits = new VisitFiles();
  let people = new ClinicPeople({ visits, files: [], oneClinic: false });
  let reader = new VisitReader(options.knowledge, options.today());
  const found = {
    ...options,
    schema: visitJsonSchema(options.knowledge),
    registers: new ClinicRegisters(options.clinics),
    clinicOf: (visitFile: string) => options.clinics.of(visitFile),
    look: () => {
      visits = new VisitFiles(visits);
      const { files } = visits.below(options.folder);
      people = new ClinicPeople({ visits, files, oneClinic: options.oneClinic ?? false }, people);
      return { visits, people };
    },
    reader: () => {
      if (reader.today !== options.today()) reader = new VisitReader(options.knowledge, options.today());
      return reader;
    },
  };
  return { ...found, list: new VisitList(found) };
}

/** What every part of the desk needs: the folder, the knowledge, the clinic of a visit, today's date. */
import type { ClinicFiles, ClinicFound } from "../clinic-folder/clinic-file.js";
import { VisitReader } from "../clinic-folder/visit-reader.js";
import { knowledgeHash } from "../knowledge/load.js";
import type { Knowledge } from "../knowledge/schema.js";
import { ClinicRegisters } from "../register/clinic-registers.js";
import { type Json, visitJsonSchema } from "../visit/json-schema.js";
import { FolderLook } from "./folder-look.js";
import { Quiet } from "./quiet.js";
import { VisitList } from "./visit-list.js";
import { OpenWork } from "./waiting.js";

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
  readonly work: OpenWork;
  readonly folderLook: FolderLook;
  /** Names the knowledge by which visits are read. */
  readonly mark: string;
  /** The clinic of a visit file, read again when its file changes. */
  readonly clinicOf: (visitFile: string) => ClinicFound;
  readonly reader: () => VisitReader;
  readonly registers: ClinicRegisters;
  /** Told of every request: what goes on beside it waits. */
  readonly quiet: Quiet;
}

export function openDesk(options: DeskOptions): Desk {
  let reader = new VisitReader(options.knowledge, options.today());
  const mark = knowledgeHash();
  const clinicOf = (visitFile: string) => options.clinics.of(visitFile);
  const folderLook: FolderLook = new FolderLook(options.folder, options.oneClinic ?? false, () =>
    list.remembered(),
  );
  const quiet = new Quiet();
  const list = new VisitList({ ...options, clinicOf, look: folderLook, mark, quiet });
  const desk = {
    ...options,
    schema: visitJsonSchema(options.knowledge),
    list,
    folderLook,
    mark,
    clinicOf,
    registers: new ClinicRegisters(options.clinics),
    reader: () => {
      if (reader.today !== options.today()) reader = new VisitReader(options.knowledge, options.today());
      return reader;
    },
    quiet,
    get work() {
      return work;
    },
  };
  const work = new OpenWork(desk);
  return desk;
}

/** Codes of openly licensed lists for findings and disorders: their shape, and which of them may be given. */
import { z } from "zod";
import { disorderId, findingId, id, source, text } from "./evidence-schema.js";

const openCodeSchema = z.strictObject({
  list: id,
  code: text,
  title: text,
  /** `wider`: true of what was seen and of more, so that a denial never takes it. */
  fit: z.enum(["same", "wider"]),
  /** The list means it of the scalp. */
  scalp_only: z.literal(true).optional(),
});

export const openCodesSchema = z.strictObject({
  lists: z.record(id, z.strictObject({ system: z.url(), version: text.optional(), source })),
  findings: z.record(findingId, openCodeSchema),
  disorders: z.record(disorderId, openCodeSchema),
});

type OpenCode = Readonly<z.infer<typeof openCodeSchema>>;
export type OpenCodes = Readonly<z.infer<typeof openCodesSchema>>;
export const NO_OPEN_CODES: OpenCodes = { lists: {}, findings: {}, disorders: {} };

/** As FHIR writes a code. */
export interface Coding {
  readonly system: string;
  readonly version?: string;
  readonly code: string;
  readonly display: string;
}

/** A code as it may be given of something held or denied, on the scalp or beside it; none where there is none. */
export function openCode(
  { lists }: OpenCodes,
  known: OpenCode | undefined,
  { denied = false, offScalp = false }: { readonly denied?: boolean; readonly offScalp?: boolean } = {},
): Coding[] {
  const list = known && lists[known.list];
  if (!list || (denied && known.fit === "wider") || (offScalp && known.scalp_only)) return [];
  const { system, version } = list;
  return [{ system, ...(version ? { version } : {}), code: known.code, display: known.title }];
}

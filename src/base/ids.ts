/** Ids of the knowledge, each of its kind: any text may stand for one, but none may stand for one of another kind. */
type Id<K extends string> = string & { readonly kindOfId?: K };

export type FindingId = Id<"finding">;
export type DisorderId = Id<"disorder">;
export type FactId = Id<"fact">;
export type CautionId = Id<"caution">;
export type HazardId = Id<"hazard">;
/** Of a must-not-miss line, which a caution raises. */
export type LineId = Id<"line">;

/** Ids of different kinds do not fit each other. The type check is the judge: what is said here of types fails `npm run types`. */
import { describe, expectTypeOf, it } from "vitest";
import type { CautionId, DisorderId, FactId, FindingId, HazardId, LineId } from "../../src/base/ids.js";
import type { Interpretation } from "../../src/interpret/interpretation.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Visit } from "../../src/visit/visit.js";

type Kinds = {
  finding: FindingId;
  disorder: DisorderId;
  fact: FactId;
  caution: CautionId;
  hazard: HazardId;
  line: LineId;
};
/** For each kind, the other kinds that would fit it. */
type Fits = {
  [K in keyof Kinds]: {
    [O in keyof Kinds]: Kinds[O] extends Kinds[K] ? (O extends K ? never : O) : never;
  }[keyof Kinds];
}[keyof Kinds];

describe("an id", () => {
  it("fits no other kind of id, while any text fits each", () => {
    expectTypeOf<Fits>().toBeNever();
    expectTypeOf<"yellow-dots">().toExtend<FindingId>();
    expectTypeOf<string>().toExtend<DisorderId>();
  });

  it("is of its kind in the knowledge, the visit and the interpretation", () => {
    expectTypeOf<keyof Knowledge["findings"]>().toEqualTypeOf<FindingId>();
    expectTypeOf<keyof Knowledge["disorders"]>().toEqualTypeOf<DisorderId>();
    expectTypeOf<keyof Knowledge["facts"]>().toEqualTypeOf<FactId>();
    expectTypeOf<keyof Knowledge["hazards"]>().toEqualTypeOf<HazardId>();
    expectTypeOf<keyof Knowledge["cautions"]>().toEqualTypeOf<CautionId>();
    expectTypeOf<keyof Knowledge["disorders"][DisorderId]["evidence"]>().toEqualTypeOf<FindingId>();
    expectTypeOf<keyof Knowledge["facts"][FactId]["evidence"]>().toEqualTypeOf<DisorderId>();
    expectTypeOf<Visit["sites"][number]["findings"][number]["finding"]>().toEqualTypeOf<FindingId>();
    expectTypeOf<Visit["impression"][number]["disorder"]>().toEqualTypeOf<DisorderId>();
    expectTypeOf<Interpretation["disorders"][number]["id"]>().toEqualTypeOf<DisorderId>();
    expectTypeOf<Interpretation["unexplained"][number]>().toEqualTypeOf<FindingId>();
    expectTypeOf<Interpretation["mustNotMiss"][number]["id"]>().toEqualTypeOf<LineId>();
    expectTypeOf<Interpretation["cautions"][number]["id"]>().toEqualTypeOf<CautionId>();
  });
});

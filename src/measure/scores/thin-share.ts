/** Share of thin hairs among the hairs of the counted fields of a site. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import type { ScoreModule } from "../score-module.js";
import { collectShareOfHairs } from "../share-of-hairs.js";
import type { PartOf } from "../statistics/proportions.js";

export const thinShare = {
  id: "thin-share",
  table: z.object({}),
  collect: (visit) => collectShareOfHairs(visit, "thin"),
  compute: ({ part, of, each }) => ({ measured: [shareDraft(part, of, each)] }),
  examples: [
    {
      inputs: { part: 5, of: 50 },
      gives: { "thin-share": "10.0", "thin-share.low": "4.35", "thin-share.high": "21.36" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<PartOf & { each?: readonly PartOf[] }>;

/** Words that mean one of the accepted ones to any reader, and yet are guessed at nobody's risk but the patient's. */
import { expectedInWords } from "../expectation.js";
import type { ValueSlip } from "./slip.js";

/** By key of the file: what people write, and the accepted word. */
const MEANT: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  site: {
    top: "mid-scalp or vertex",
    back: "occipital",
    front: "frontal",
    side: "left parietal or right parietal",
    temple: "left temporal or right temporal",
    ophiasis: "occipital or nape",
    sisaipho: "frontal, mid-scalp or vertex",
    everywhere: "whole scalp",
    diffuse: "whole scalp",
  },
  disorder: {
    "alopecia totalis": "alopecia areata",
    "alopecia universalis": "alopecia areata",
    ophiasis: "alopecia areata",
    "male pattern baldness": "androgenetic alopecia",
    baldness: "androgenetic alopecia",
  },
  sex: {
    f: "female",
    w: "female",
    woman: "female",
    girl: "female",
    m: "male",
    man: "male",
    boy: "male",
    x: "not stated",
    other: "not stated",
  },
  certainty: {
    confirmed: "definite",
    certain: "definite",
    sure: "definite",
    proven: "definite",
    likely: "probable",
    suspected: "possible",
    "?": "possible",
    query: "possible",
    unlikely: "excluded",
    "ruled out": "excluded",
    no: "excluded",
  },
  onset: {
    acute: "sudden",
    abrupt: "sudden",
    rapid: "sudden",
    slow: "gradual",
    insidious: "gradual",
    chronic: "gradual",
  },
  course: {
    progressive: "spreading",
    worsening: "spreading",
    worse: "spreading",
    better: "improving",
    unchanged: "stable",
    steady: "stable",
    recurrent: "relapsing",
    intermittent: "relapsing",
  },
  shedding: { yes: "increased", more: "increased", heavy: "increased", no: "none", less: "normal" },
  status: { final: "signed", done: "signed", complete: "signed", unsigned: "draft", preliminary: "draft" },
  margin: {
    clear: "sharp",
    defined: "sharp",
    "well defined": "sharp",
    diffuse: "blurred",
    unclear: "blurred",
  },
  contact: {
    wet: "immersion",
    gel: "immersion",
    oil: "immersion",
    alcohol: "immersion",
    fluid: "immersion",
    "non contact": "dry",
  },
  pregnancy: {
    yes: "pregnant",
    none: "no",
    lactating: "breastfeeding",
    nursing: "breastfeeding",
    trying: "planning",
  },
};

export const otherWord: ValueSlip = {
  problem: "unknown-word",
  examples: [
    { good: "  sex: female", bad: "  sex: F" },
    { good: "    certainty: probable", bad: "    certainty: likely" },
  ],
  notice({ want, written, key }) {
    if (want.kind !== "word" || written === undefined || !Object.hasOwn(MEANT, key)) return undefined;
    const text = written.trim().toLowerCase().replaceAll("-", " ");
    const meant = Object.hasOwn(MEANT[key] ?? {}, text) ? MEANT[key]?.[text] : undefined;
    if (meant === undefined || (key === "disorder" && want.words.find(meant) === undefined)) return undefined;
    return {
      problem: "unknown-word",
      message: `"${written.trim()}" is not ${want.words.what}`,
      expected: expectedInWords(want, meant),
      suggestion: meant,
    };
  },
};

/** What the progress sheet and the reasoning sheet alone print. */
import { date, flag, group, list, maybe, number, text, texts } from "./variable-kinds.js";

const reason = {
  says: text("the reason in words"),
  site: text("where; may be empty"),
  weight: text("signed weight on the natural-log scale"),
  factor: text("the same as a factor"),
  frequency: text("how often published series saw it; may be empty"),
  source: text("number of the source"),
};

export const sheetVariables = {
  progress: maybe("change over all visits; null at a first visit", {
    visits: list("visits compared", { id: text("number"), date: date("day") }),
    from: date("first visit"),
    to: date("last visit"),
    charts: list("charts in rows of two", {
      left: text("name of a chart, for `drawing`"),
      right: text("name of a chart; empty in a last odd row"),
    }),
    measures: list("measures compared", {
      term: text("name"),
      site: text("region; may be empty"),
      before: text("value then"),
      now: text("value now"),
      effect: text("difference with its limits"),
      verdict: text("more than counting error, or not"),
      needed: text("fields needed to tell; may be empty"),
      source: text("number of the source"),
    }),
    measureNotes: texts("what a reader must know of these changes, each once"),
    findings: list("findings that changed, by site", {
      site: text("region"),
      changes: texts("changes"),
    }),
    responses: list("response by published thresholds", {
      term: text("score"),
      says: text("from what to what"),
      thresholds: texts("each threshold with its result"),
    }),
    activity: texts("what the change says of activity"),
    notCompared: texts("what could not be compared, and why"),
    sources: list("publications this sheet cites, in order", {
      number: number("number"),
      citation: text("full citation"),
      short: text("short citation"),
    }),
  }),
  reasoning: maybe("the interpretation; only in documents for the clinician, null in all others", {
    leading: list("disorders best supported", {
      id: text("id"),
      term: text("trade name"),
      band: text("how well supported"),
      leads: text("share of draws in which it leads"),
      base: text("starting weight"),
      for: list("reasons for", reason),
      against: list("reasons against", reason),
    }),
    unlikely: texts("unlikely disorders"),
    notAssessable: texts("disorders that could not be weighed"),
    second: maybe("a second disorder beside the first; null when there is none", {
      term: text("trade name"),
      explains: texts("findings it explains"),
      why: text("why"),
    }),
    bySite: list("each site alone", { site: text("region"), leading: texts("disorders with their band") }),
    activity: list("activity and stage", {
      term: text("trade name"),
      state: text("state"),
      stage: text("stage; may be empty"),
      says: texts("reasons"),
    }),
    mustNotMiss: list("what must not be missed", {
      name: text("name"),
      why: text("why it is raised"),
      urgency: text("how soon"),
      who: text("who must act"),
      answered: flag("whether a test, an answer, the plan or acceptance closes it"),
    }),
    askedFor: list("questions this visit calls for and nobody asked", {
      question: text("the question"),
      urgency: text("how soon a yes matters"),
      why: text("why it is called for"),
    }),
    lookNext: list("what to look at next", {
      says: text("what"),
      separates: texts("disorders it tells apart"),
      bits: text("expected information"),
    }),
    agreement: group("evidence and impression", {
      verdict: text("id of the verdict"),
      word: text("the verdict in words"),
      why: text("why"),
    }),
    notAssessed: texts("findings not assessed"),
    assessedShare: text("share of the findings that matter that was assessed"),
    rules: list("published rules worked through", {
      term: text("name"),
      result: text("met, not met or not assessable"),
      criteria: list("criteria", {
        says: text("criterion"),
        result: text("result"),
        worked: text("how it was worked; may be empty"),
      }),
      says: text("conclusion"),
      limits: text("limits; may be empty"),
      source: text("number of the source"),
    }),
    notes: texts("notes on reading"),
    accepted: list("check messages accepted by the clinician", { id: text("id"), reason: text("as typed") }),
  }),
};

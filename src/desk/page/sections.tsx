/** The form in the order of an examination: who, what was told, what was seen, what it means, what happens. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { listAt, textAt, valueAt } from "./apply.js";
import { Combo } from "./combo.js";
import { ReadFromWords } from "./facts.js";
import { Choice, Text } from "./fields.js";
import { ImpressionRows } from "./impression.js";
import { Fields } from "./keys.js";
import { labelOf } from "./labels.js";
import { OpenLines } from "./open-lines.js";
import { Row, Rows } from "./rows.js";
import { Scalp } from "./scalp.js";
import { SendTo } from "./send-to.js";
import { useHere } from "./use.js";

export interface Section {
  readonly id: string;
  readonly title: string;
  /** Top keys of the file that it holds, for counting problems. */
  readonly holds: readonly string[];
  readonly body: () => JSX.Element;
}

function Who(): JSX.Element {
  const shown = ["name", "born", "id", "sex", "phototype"];
  return (
    <>
      <Fields under="visit" at={["visit"]} only={["reason"]} />
      <div class="grid">
        <Fields under="patient" at={["patient"]} only={shown} />
      </div>
      <details>
        <summary>Visit number, address, language, pregnancy</summary>
        <div class="grid">
          <Fields under="visit" at={["visit"]} without={["reason", "status"]} />
          <Fields under="patient" at={["patient"]} without={shown} />
        </div>
      </details>
    </>
  );
}

function History(): JSX.Element {
  return (
    <>
      <div class="grid">
        <Fields under="history" at={["history"]} without={["notes"]} />
      </div>
      <Fields under="asked" at={["asked"]} />
      <ReadFromWords />
      <Fields under="history" at={["history"]} only={["notes"]} />
    </>
  );
}

function Eye(): JSX.Element {
  const facts = ["pattern", "signs"];
  return (
    <>
      <Fields under="examination" at={["examination"]} only={facts} />
      <div class="grid">
        <Fields under="examination" at={["examination"]} without={facts} />
      </div>
    </>
  );
}

function Through(): JSX.Element {
  return (
    <>
      <div class="grid">
        <Fields under="scope" at={["scope"]} />
      </div>
      <Scalp />
    </>
  );
}

function PullAndExtent(): JSX.Element {
  return (
    <>
      <h3>Pull test</h3>
      <Rows path={["pull_test"]} name="pull test" render={(path) => <Fields under="pull_test" at={path} />} />
      <h3>
        Extent <span class="hint">percent of hair lost in each area</span>
      </h3>
      <div class="grid four">
        <Fields under="extent" at={["extent"]} />
      </div>
      <Scores />
    </>
  );
}

/** Scores in use stand open with what they come to; any other is a search away. */
function Scores(): JSX.Element {
  const { visit, words } = useHere();
  const [opened, open] = useState<readonly string[]>([]);
  const shown = words.scores.filter(
    ({ id }) => opened.includes(id) || valueAt(visit.written, ["scores", id]) !== undefined,
  );
  return (
    <div data-place="scores">
      <h3>Scores</h3>
      {shown.map(({ id, term, about, inputs }) => (
        <fieldset key={id} class="score">
          <legend>{term}</legend>
          <p class="hint">{about}</p>
          <div class="grid">
            {inputs.map(({ key, min, max, says, choices }) =>
              choices.length > 0 || (min === 0 && max === 1) ? (
                <Choice
                  key={key}
                  path={["scores", id, key]}
                  label={says.replace(/\s*\(1 yes, 0 no\)$/u, "").replace(/(?:, |: )\d.*$/u, "")}
                  choices={
                    choices.length > 0
                      ? choices
                      : [
                          ["1", "yes"],
                          ["0", "no"],
                        ]
                  }
                  blank="—"
                  wide
                />
              ) : (
                <Text
                  key={key}
                  path={["scores", id, key]}
                  label={says}
                  hint={`${min}–${max}`}
                  kind="number"
                />
              ),
            )}
          </div>
          <output class="result" data-score={id} aria-label={`Result of ${term}`}>
            {visit.state.results[id]?.join("; ") ?? ""}
          </output>
        </fieldset>
      ))}
      {visit.state.signed ? null : (
        <Combo
          label="Score to work out"
          hint="a few letters of its name or of what it is for"
          entries={words.scores
            .filter(({ id }) => !shown.some((score) => score.id === id))
            .map((score) => ({ ...score, also: [...score.also, score.about] }))}
          onTake={({ id }) => {
            open([...opened, id]);
            return "";
          }}
        />
      )}
    </div>
  );
}

function Tests(): JSX.Element {
  return <Rows path={["tests"]} name="test" render={(path) => <Fields under="tests" at={path} />} />;
}

function Plan(): JSX.Element {
  const { visit } = useHere();
  const first = ["action", "who", "when"];
  return (
    <>
      <OpenLines />
      <Rows
        path={["plan"]}
        name="plan line"
        render={(path, _, isNew) => (
          <>
            <Text
              path={[...path, "action"]}
              {...labelOf("plan.action")}
              also={() => {
                // A new line is for the doctor written to until another reader is named.
                if (isNew && textAt(visit.written, [...path, "who"]) === "")
                  visit.put([...path, "who"], "general practitioner");
              }}
            />
            <Fields under="plan" at={path} only={["who", "when"]} />
            {isNew ? null : (
              <div class="wide more">
                <Fields under="plan" at={path} without={first} />
              </div>
            )}
          </>
        )}
      />
      <Fields under="follow_up" at={["follow_up"]} />
      <Fields under="told" at={["told"]} />
    </>
  );
}

/** Messages that were accepted, with the reason; taken off, the message stands again. */
function Accepted(): JSX.Element | null {
  const { visit } = useHere();
  const accepted = listAt(visit.written, ["accept"]);
  const names = visit.rowsAt(["accept"]);
  if (accepted.length === 0) return null;
  return (
    <section aria-label="Messages accepted">
      <h3>Messages accepted</h3>
      {accepted.map((_, i) => (
        <Row key={names[i]} path={["accept", i]} name={`message accepted ${i + 1}`} isNew={false}>
          <Fields under="accept" at={["accept", i]} />
        </Row>
      ))}
    </section>
  );
}

function Letters(): JSX.Element {
  return (
    <>
      <SendTo />
      <Accepted />
    </>
  );
}

export const SECTIONS: readonly Section[] = [
  { id: "who", title: "Who and why", holds: ["format", "visit", "patient"], body: Who },
  { id: "told", title: "History", holds: ["history", "asked"], body: History },
  { id: "eye", title: "Examination", holds: ["examination"], body: Eye },
  { id: "scope", title: "Dermoscopy", holds: ["scope", "sites"], body: Through },
  {
    id: "pull",
    title: "Pull test and extent",
    holds: ["pull_test", "extent", "scores"],
    body: PullAndExtent,
  },
  { id: "tests", title: "Tests", holds: ["tests"], body: Tests },
  { id: "impression", title: "Impression", holds: ["impression"], body: ImpressionRows },
  { id: "plan", title: "Plan", holds: ["plan", "follow_up", "told"], body: Plan },
  { id: "send", title: "Letter to", holds: ["send_to", "accept"], body: Letters },
];

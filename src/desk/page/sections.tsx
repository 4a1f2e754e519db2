/** The form in the order of an examination: who, what was told, what was seen, what it means, what happens. */
import type { JSX } from "preact";
import type { KeyPath } from "../../base/yaml-source.js";
import { PHOTOTYPES } from "../../visit/visit.js";
import { textAt, textsAt, valueAt } from "./apply.js";
import { AnsweredFacts, ChosenFacts, ReadFromWords } from "./facts.js";
import { Choice, Lines, Pick, Text, Tick } from "./fields.js";
import { ImpressionRows } from "./impression.js";
import { OpenLines } from "./open-lines.js";
import { Rows } from "./rows.js";
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
  const { words } = useHere();
  return (
    <>
      <Text
        path={["visit", "reason"]}
        label="Why the patient came"
        hint="a sentence"
        rows={2}
        wide
        most={1000}
      />
      <div class="grid">
        <Text path={["patient", "name", "title"]} label="Title" narrow />
        <Text path={["patient", "name", "given"]} label="Given name" />
        <Text path={["patient", "name", "family"]} label="Family name" />
        <Text path={["patient", "born"]} label="Born" kind="date" />
        <Text path={["patient", "id"]} label="Patient number" narrow />
      </div>
      <div class="grid">
        <Choice
          path={["patient", "sex"]}
          label="Sex as recorded"
          choices={["female", "male", "intersex", "not stated"]}
          blank="—"
        />
        <Choice path={["patient", "phototype"]} label="Phototype" choices={PHOTOTYPES} blank="—" />
      </div>
      <details>
        <summary>Visit number, address, language, pregnancy</summary>
        <div class="grid">
          <Text path={["visit", "id"]} label="Visit number" narrow />
          <Text path={["visit", "date"]} label="Day of the visit" kind="date" />
          <Pick
            path={["visit", "seen_by"]}
            label="Seen by"
            options={words.people.map(({ key, name }) => [key, name] as const)}
          />
          <Text path={["patient", "language"]} label="Language of the handout" placeholder="en-GB" narrow />
          <Text path={["patient", "ancestry"]} label="Ancestry" hint="in the patient's words" />
          <Choice
            path={["patient", "large_print"]}
            label="Handout in large print"
            choices={[["true", "yes"]]}
            blank="no"
          />
          <Choice
            path={["patient", "pregnancy"]}
            label="Pregnancy"
            choices={["pregnant", "breastfeeding", "planning", "no"]}
            blank="—"
          />
          <Lines path={["patient", "address"]} label="Address" rows={3} />
        </div>
      </details>
    </>
  );
}

function Told(): JSX.Element {
  const { visit } = useHere();
  return (
    <>
      <div class="grid">
        <Text path={["history", "duration_weeks"]} label="Duration" hint="weeks" kind="number" />
        <Choice path={["history", "onset"]} label="Onset" choices={["sudden", "gradual"]} blank="not asked" />
        <Choice
          path={["history", "shedding"]}
          label="Shedding"
          choices={["normal", "increased", "none"]}
          blank="not asked"
        />
        <Choice
          path={["history", "course"]}
          label="Course"
          choices={["spreading", "stable", "improving", "relapsing"]}
          blank="not asked"
        />
      </div>
      <div class="grid symptoms">
        <Text path={["history", "symptoms", "itch"]} label="Itch" hint="0–10" kind="number" />
        <Text path={["history", "symptoms", "pain"]} label="Pain" hint="0–10" kind="number" />
        <Text path={["history", "symptoms", "burning"]} label="Burning" hint="0–10" kind="number" />
      </div>
      <div class="grid">
        <Lines path={["history", "family"]} label="Family history" />
        <Lines path={["history", "past"]} label="Past history" />
        <Lines path={["history", "medicines"]} label="Medicines" />
        <Lines path={["history", "allergies"]} label="Allergies" />
        <Lines path={["history", "triggers"]} label="Triggers" />
        <Lines path={["history", "hair_care"]} label="Hair care" />
        <Lines path={["history", "contacts"]} label="Contacts affected" />
      </div>
      <ChosenFacts path={["history", "exposures"]} label="Exposures" kinds={["exposure"]} />
      <AnsweredFacts
        path={["asked"]}
        label="Questions asked"
        kinds={["red flag", "history"]}
        first={visit.state.askedFor}
      />
      <ReadFromWords />
      <Text path={["history", "notes"]} label="Anything else" rows={2} wide most={4000} />
    </>
  );
}

const BODY = [
  ["scalp", "Scalp"],
  ["eyebrows", "Eyebrows"],
  ["eyelashes", "Eyelashes"],
  ["nails", "Nails"],
  ["skin", "Skin elsewhere"],
  ["mouth", "Mouth"],
  ["lymph_nodes", "Lymph nodes"],
  ["body_hair", "Body hair"],
] as const;

function Eye(): JSX.Element {
  return (
    <>
      <ChosenFacts path={["examination", "pattern"]} label="Pattern of loss" kinds={["pattern"]} />
      <AnsweredFacts path={["examination", "signs"]} label="Signs to eye and touch" kinds={["sign"]} />
      <div class="grid">
        {BODY.map(([key, label]) => (
          <Text key={key} path={["examination", key]} label={label} rows={1} most={4000} />
        ))}
      </div>
    </>
  );
}

function Scope(): JSX.Element {
  return (
    <div class="grid">
      <Text path={["scope", "magnification"]} label="Magnification" hint="times" kind="number" />
      <Text path={["scope", "field_diameter_mm"]} label="Field" hint="mm across" kind="number" />
      <Choice path={["scope", "light"]} label="Light" choices={["polarised", "non-polarised"]} blank="—" />
      <Choice
        path={["scope", "contact"]}
        label="Contact"
        choices={["dry", "immersion", "contact"]}
        blank="—"
      />
    </div>
  );
}

function Through(): JSX.Element {
  return (
    <>
      <Scope />
      <Scalp />
    </>
  );
}

function PullAndExtent(): JSX.Element {
  const { words } = useHere();
  const regions = words.regions.map(({ id, term }) => [id, term] as const);
  return (
    <>
      <h3>Pull test</h3>
      <Rows
        path={["pull_test"]}
        name="pull test"
        render={(path) => (
          <>
            <Pick
              path={[...path, "site"]}
              label="Where"
              options={regions}
              means={(word) => words.regionOf.find(word)}
            />
            <Text path={[...path, "pulled"]} label="Pulled" kind="number" />
            <Text path={[...path, "came_out"]} label="Came out" kind="number" />
            <Text path={[...path, "anagen"]} label="Of these anagen" kind="number" />
          </>
        )}
      />
      <h3>
        Extent <span class="hint">percent of hair lost in each area</span>
      </h3>
      <div class="grid four">
        {(["top", "left", "right", "back"] as const).map((area) => (
          <Text key={area} path={["extent", area]} label={area} kind="number" />
        ))}
      </div>
      <Scores />
    </>
  );
}

function Scores(): JSX.Element {
  const { visit, words } = useHere();
  const used = words.scores.some(({ id }) => valueAt(visit.written, ["scores", id]) !== undefined);
  return (
    <details open={used}>
      <summary>Scores</summary>
      {words.scores.map(({ id, term, about, inputs }) => (
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
    </details>
  );
}

function Tests(): JSX.Element {
  return (
    <Rows
      path={["tests"]}
      name="test"
      render={(path) => (
        <>
          <Text path={[...path, "name"]} label="Test" />
          <Text path={[...path, "value"]} label="Value" kind="number" />
          <Text path={[...path, "unit"]} label="Unit" narrow />
          <Text path={[...path, "result"]} label="Result in words" suggestions={["awaited"]} />
          <Text path={[...path, "date"]} label="Taken" kind="date" />
          <Text path={[...path, "range", "low"]} label="Range from" kind="number" />
          <Text path={[...path, "range", "high"]} label="to" kind="number" />
        </>
      )}
    />
  );
}

const READERS = ["general practitioner", "patient", "clinic"];

function Plan(): JSX.Element {
  const { visit } = useHere();
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
              label="What is to be done"
              hint="a sentence"
              rows={1}
              also={() => {
                // A new line is for the doctor written to until another reader is named.
                if (isNew && textAt(visit.written, [...path, "who"]) === "")
                  visit.put([...path, "who"], READERS[0] ?? "");
              }}
            />
            <Text path={[...path, "who"]} label="Who" suggestions={READERS} />
            <Text path={[...path, "when"]} label="By when" hint="in words" narrow />
            {isNew ? null : (
              <div class="wide more">
                <Choice
                  path={[...path, "urgency"]}
                  label="How soon"
                  choices={["now", "same day", "days", "soon"]}
                  blank="—"
                />
                <Text path={[...path, "by"]} label="On or before" kind="date" />
                <Tick path={[...path, "declined"]} label="Offered, and the patient declined" value="yes" />
                <Answers path={path} />
              </div>
            )}
          </>
        )}
      />
      <Text path={["follow_up", "weeks"]} label="Next visit in" hint="weeks" kind="number" />
      <Text path={["told"]} label="What the patient was told" rows={2} wide most={4000} />
    </>
  );
}

/** The must-not-miss lines that a plan line answers; one is taken off again by a touch. */
function Answers({ path }: { readonly path: KeyPath }): JSX.Element | null {
  const { visit } = useHere();
  const at = [...path, "answers"];
  const answers = textsAt(visit.written, at);
  if (answers.length === 0) return null;
  return (
    <p class="acts">
      <span class="hint">Answers:</span>
      {answers.map((id) => (
        <button
          key={id}
          type="button"
          class="chip"
          aria-pressed="true"
          disabled={visit.state.signed}
          onClick={() => {
            const rest = answers.filter((other) => other !== id);
            if (rest.length === 0) visit.remove(at);
            else visit.put(at, rest);
          }}
        >
          {id.replaceAll("-", " ")}
        </button>
      ))}
    </p>
  );
}

export const SECTIONS: readonly Section[] = [
  { id: "who", title: "Who and why", holds: ["format", "visit", "patient"], body: Who },
  { id: "told", title: "History", holds: ["history", "asked"], body: Told },
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
  { id: "send", title: "Letter to", holds: ["send_to", "accept"], body: SendTo },
];

/** The clinic's people, and the numbers for urgent help that its handouts print. */
import type { JSX } from "preact";
import type { Problem } from "../../base/problem.js";
import { listAt, textAt } from "./apply.js";
import { type ClinicDraft, type PersonDraft, put, putPerson } from "./clinic-draft.js";
import { Line, Saying, Ticked } from "./clinic-fields.js";

interface PartProps {
  readonly draft: ClinicDraft;
  readonly change: (draft: ClinicDraft) => void;
  readonly of: (path: string) => readonly Problem[];
}

export function People({ draft, change, of }: PartProps): JSX.Element {
  const { people } = draft;
  const field = (person: PersonDraft, i: number, key: string, label: string, hint?: string) => (
    <Line
      label={label}
      value={textAt(person.fields, [key])}
      write={(text) => change(putPerson(draft, i, key, text))}
      problems={of(`people.${person.key}.${key}`)}
      {...(hint ? { hint } : {})}
    />
  );
  return (
    <section class="part" aria-labelledby="people">
      <h2 id="people">People</h2>
      {people.map((person, i) => {
        const called = textAt(person.fields, ["name"]) || "new person";
        return (
          <fieldset key={i} class="person">
            <legend class="unseen">{called}</legend>
            <div class="grid">
              {field(person, i, "name", "Name", "with title")}
              {field(person, i, "role", "Role")}
              {field(person, i, "qualifications", "Qualifications")}
              {field(person, i, "registration", "Registration")}
            </div>
            <p class="acts">
              <Ticked
                label="Signs letters"
                value={textAt(person.fields, ["may_sign"])}
                write={(text) => change(putPerson(draft, i, "may_sign", text))}
              />
              <button
                type="button"
                class="plain"
                aria-label={`Take out ${called}`}
                onClick={() => change({ ...draft, people: people.filter((_, other) => other !== i) })}
              >
                Take out
              </button>
            </p>
            <Saying problems={of(`people.${person.key}`)} id={`person-${i}-said`} />
          </fieldset>
        );
      })}
      <Saying problems={of("people")} id="people-said" />
      <p class="acts">
        <button
          type="button"
          onClick={() => change({ ...draft, people: [...people, { key: "", fields: {} }] })}
        >
          Add a person
        </button>
      </p>
    </section>
  );
}

export function Emergency({ draft, change, of }: PartProps): JSX.Element {
  const rows = listAt(draft.written, ["emergency"]);
  const shown = [...rows.keys(), rows.length];
  const field = (i: number, key: string, label: string, hint?: string) => (
    <Line
      label={label}
      value={textAt(rows[i], [key])}
      write={(text) => change(put(draft, ["emergency", i, key], text))}
      problems={of(`emergency[${i}].${key}`)}
      {...(hint ? { hint } : {})}
    />
  );
  return (
    <section class="part" aria-labelledby="urgent">
      <h2 id="urgent">Numbers for urgent help</h2>
      <p class="hint">Printed in the patient's handout. A wrong number costs time, so none is filled in.</p>
      {shown.map((i) => (
        <div key={i} class="grid">
          {field(i, "label", "What for")}
          {field(i, "number", "Number")}
          {field(i, "country", "Country", "two letters, such as GB; empty for any")}
        </div>
      ))}
    </section>
  );
}

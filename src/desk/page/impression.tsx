/** The clinician's impression: a disorder typed in any spelling, how sure, and a sentence. */
import type { JSX } from "preact";
import { listAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Choice, Pick, Text, Tick } from "./fields.js";
import { Row } from "./rows.js";
import { useHere } from "./use.js";

export function ImpressionRows(): JSX.Element {
  const { visit, words } = useHere();
  const count = listAt(visit.written, ["impression"]).length;
  return (
    <div class="entries">
      {Array.from({ length: count }, (_, i) => (
        <Row key={i} path={["impression", i]} name={`impression ${i + 1}`} isNew={false}>
          <Pick
            path={["impression", i, "disorder"]}
            label="Disorder"
            options={words.disorders.map(({ term }) => [term, term] as const)}
            means={(word) => words.disorders.find(({ id }) => id === words.disorderOf.find(word))?.term}
          />
          <Choice
            path={["impression", i, "certainty"]}
            label="How sure"
            choices={["definite", "probable", "possible", "excluded"]}
            blank="—"
            wide
          />
          <Text path={["impression", i, "note"]} label="What it rests on" wide />
          <Tick path={["impression", i, "in_handout"]} label="Keep this name out of the handout" value="no" />
        </Row>
      ))}
      {visit.state.signed ? null : (
        <Combo
          label={count === 0 ? "Disorder" : "Another disorder"}
          hint="type a few letters, Enter takes it"
          entries={words.disorders}
          place="impression"
          onTake={(disorder) => {
            visit.put(["impression", count, "disorder"], disorder.term);
            requestAnimationFrame(() => {
              const row = document.querySelector(`[data-place="impression[${count}].certainty"]`);
              row?.querySelector<HTMLInputElement>("input")?.focus();
            });
            return "";
          }}
        />
      )}
    </div>
  );
}

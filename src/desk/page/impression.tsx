/** The clinician's impression: a disorder typed in any spelling, how sure, and a sentence. */
import type { JSX } from "preact";
import { listAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Fields } from "./keys.js";
import { Row } from "./rows.js";
import { useHere } from "./use.js";

export function ImpressionRows(): JSX.Element {
  const { visit, words } = useHere();
  const count = listAt(visit.written, ["impression"]).length;
  const names = visit.rowsAt(["impression"]);
  return (
    <div class="entries">
      {Array.from({ length: count }, (_, i) => (
        <Row key={names[i]} path={["impression", i]} name={`impression ${i + 1}`} isNew={false}>
          <Fields under="impression" at={["impression", i]} />
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

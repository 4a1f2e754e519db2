/** Which documents of the visit wait to leave the clinic, which have left, and a person's word that they did. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { WAYS } from "../../register/ways.js";
import type { LeftDocument, Refusal } from "../messages.js";
import { type Answer, askLeft, askMarkLeft } from "./ask.js";
import { Segments } from "./segments.js";
import { useHere } from "./use.js";

export function LeftForm(): JSX.Element | null {
  const { visit, words } = useHere();
  const [documents, setDocuments] = useState<readonly LeftDocument[]>([]);
  const [chosen, choose] = useState<ReadonlySet<string>>(new Set());
  const [by, setBy] = useState("");
  const [how, setHow] = useState<string>(WAYS[0]);
  const [on, setOn] = useState(words.today);
  const [refused, setRefused] = useState<Refusal | null>(null);
  const take = (answer: Answer<{ readonly documents: readonly LeftDocument[] }>) => {
    setRefused(answer.kind === "refused" ? answer.refusal : null);
    if (answer.kind !== "done") return;
    setDocuments(answer.value.documents);
    choose(new Set());
  };
  useEffect(() => {
    void askLeft(visit.state.file).then(take);
  }, []);
  const shown = documents.filter(({ state }) => state !== "replaced");
  if (shown.length === 0) return null;
  const waits = shown.some(({ state }) => state === "waiting");
  return (
    <form
      onSubmit={async (event) => {
        event.preventDefault();
        take(await askMarkLeft({ file: visit.state.file, ids: [...chosen], by, how, on }));
      }}
    >
      <h3>Left the clinic</h3>
      <ul class="left-list">
        {shown.map((one) => (
          <li key={one.id}>
            {one.state === "waiting" ? (
              <label class="tick">
                <input
                  type="checkbox"
                  checked={chosen.has(one.id)}
                  onChange={(event) => {
                    const next = new Set(chosen);
                    if (event.currentTarget.checked) next.add(one.id);
                    else next.delete(one.id);
                    choose(next);
                  }}
                />
                <span>{nameOf(one)}: waits</span>
              </label>
            ) : (
              <p>
                {nameOf(one)}:{" "}
                {one.state === "withdrawn"
                  ? `withdrawn${one.why ? ` (${one.why})` : ""}`
                  : one.left.map(({ on: day, how: way }) => `${way}, ${day}`).join("; ")}
              </p>
            )}
          </li>
        ))}
      </ul>
      {waits ? (
        <>
          <Segments
            label="Who says so"
            value={by}
            options={words.people.map(({ key, name }) => [key, name] as const)}
            choose={setBy}
          />
          <Segments
            label="How"
            value={how}
            options={WAYS.map((way) => [way, way] as const)}
            choose={setHow}
          />
          <div class="field">
            <label for="left-on">
              On <span class="hint">year-month-day</span>
            </label>
            <input
              id="left-on"
              type="text"
              autocomplete="off"
              value={on}
              onInput={(event) => setOn(event.currentTarget.value)}
            />
          </div>
          <p class="acts">
            <button type="submit" disabled={chosen.size === 0 || by === ""}>
              Mark as sent
            </button>
          </p>
        </>
      ) : null}
      {refused ? (
        <p class="warning" role="alert">
          {refused.refused}
        </p>
      ) : null}
    </form>
  );
}

const nameOf = ({ kind, reader, edition }: LeftDocument): string =>
  `${kind.replaceAll("-", " ")}${reader ? ` to ${reader}` : ""}${edition > 1 ? `, edition ${edition}` : ""}`;

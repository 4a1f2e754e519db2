/** A visit or its documents for another program or another reader: editable letter, FHIR, a PDF locked by a password. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { MadeFile } from "../messages.js";
import { type Answer, askFile } from "./ask.js";
import { Dialog } from "./dialog.js";
import { useHere } from "./use.js";

export function GiveMenu(): JSX.Element {
  const { visit } = useHere();
  const [isOpen, open] = useState(false);
  return (
    <>
      <button type="button" onClick={() => open(true)}>
        Hand over
      </button>
      {isOpen ? <GiveDialog visit={visit} close={() => open(false)} /> : null}
    </>
  );
}

function GiveDialog({
  visit,
  close,
}: {
  readonly visit: ReturnType<typeof useHere>["visit"];
  readonly close: () => void;
}): JSX.Element {
  const [said, say] = useState("");
  const { state } = visit;
  const current = state.made.filter((made) => made.current);
  const tell = (answer: Answer<string>) =>
    say(
      answer.kind === "done"
        ? `${answer.value} was handed to the browser.`
        : answer.kind === "refused"
          ? answer.refusal.refused
          : "The desk does not answer.",
    );
  const give = async (as: "docx" | "fhir") => {
    if (await visit.isSaved())
      tell(await askFile("export", { file: state.file, base: visit.state.hash, as }));
  };
  return (
    <Dialog title="Hand over" close={close}>
      <p class="acts">
        <button type="button" onClick={() => void give("docx")}>
          Letter to edit (DOCX)
        </button>
        <button type="button" onClick={() => void give("fhir")}>
          Visit for a record system (FHIR)
        </button>
      </p>
      {current.length === 0 ? (
        <p class="hint">A locked PDF can be had once documents are made of the visit as it is now.</p>
      ) : (
        <LockForm made={current} file={state.file} tell={tell} />
      )}
      <p role="status">{said}</p>
      <p class="acts">
        <button type="button" onClick={close}>
          Done
        </button>
      </p>
    </Dialog>
  );
}

function LockForm({
  made,
  file,
  tell,
}: {
  readonly made: readonly MadeFile[];
  readonly file: string;
  readonly tell: (answer: Answer<string>) => void;
}): JSX.Element {
  const [link, setLink] = useState(made[0]?.link ?? "");
  const [password, setPassword] = useState("");
  const [again, setAgain] = useState("");
  return (
    <form
      onSubmit={async (event) => {
        event.preventDefault();
        if (password !== again) return;
        tell(await askFile("locked", { file, link, password }));
        setPassword("");
        setAgain("");
      }}
    >
      <h3>PDF locked by a password</h3>
      <div class="grid">
        <div class="field">
          <label for="lock-which">Document</label>
          <select id="lock-which" value={link} onChange={(event) => setLink(event.currentTarget.value)}>
            {made.map(({ name, link: to }) => (
              <option key={to} value={to}>
                {name}
              </option>
            ))}
          </select>
        </div>
        <div class="field">
          <label for="lock-password">
            Password <span class="hint">tell it by another way than the e-mail</span>
          </label>
          <input
            id="lock-password"
            type="password"
            autocomplete="new-password"
            value={password}
            onInput={(event) => setPassword(event.currentTarget.value)}
          />
        </div>
        <div class="field">
          <label for="lock-again">The same password again</label>
          <input
            id="lock-again"
            type="password"
            autocomplete="new-password"
            value={again}
            onInput={(event) => setAgain(event.currentTarget.value)}
          />
        </div>
      </div>
      <p class="acts">
        <button type="submit" disabled={password === "" || password !== again}>
          Lock and keep
        </button>
        {again !== "" && password !== again ? <span class="hint">The two are not the same.</span> : null}
      </p>
    </form>
  );
}

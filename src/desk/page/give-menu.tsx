/** A visit or its documents for another program or another reader: editable letter, FHIR, a PDF locked by a password. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { MadeFile, Written } from "../messages.js";
import { listAt, textAt } from "./apply.js";
import { type Answer, askFile, whyNot } from "./ask.js";
import { Dialog } from "./dialog.js";
import { LeftForm } from "./left-form.js";
import { Segments } from "./segments.js";
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
  const [reader, setReader] = useState(visit.reader);
  const { state } = visit;
  const readers = readersIn(visit.written);
  const current = state.made.filter((made) => made.current);
  const tell = (answer: Answer<string>) =>
    say(answer.kind === "done" ? `${answer.value} was handed to the browser.` : whyNot(answer));
  const ask = async (route: "export" | "draft", more: object) => {
    if (await visit.isSaved())
      tell(await askFile(route, { file: state.file, base: visit.state.hash, reader, ...more }));
  };
  return (
    <Dialog title="Hand over" close={close} said={said}>
      {readers.length > 1 ? (
        <Segments
          label="Letter to"
          value={String(reader)}
          options={readers.map(({ name }, i) => [String(i), name] as const)}
          choose={(chosen) => setReader(Number(chosen))}
        />
      ) : null}
      <p class="acts">
        <button type="button" onClick={() => void ask("export", { as: "docx" })}>
          Letter to edit (DOCX)
        </button>
        <button type="button" onClick={() => void ask("export", { as: "fhir" })}>
          Visit for a record system (FHIR)
        </button>
      </p>
      {state.signed ? (
        <MailForm reader={readers[reader]} ask={(password, again) => ask("draft", { password, again })} />
      ) : (
        <p class="hint">An e-mail draft can be had of a signed visit.</p>
      )}
      {current.length === 0 ? (
        <p class="hint">A locked PDF can be had once documents are made of the visit as it is now.</p>
      ) : (
        <LockForm made={current} file={state.file} tell={tell} />
      )}
      {state.signed ? <LeftForm /> : null}
    </Dialog>
  );
}

interface Reader {
  readonly name: string;
  readonly email: string;
}

/** Who is written to, in the order of the letters: those with one of their own, then those who get a copy. */
function readersIn(written: Written): readonly Reader[] {
  const all = listAt(written, ["send_to"]).map((entry) => ({
    name: textAt(entry, ["name"]),
    email: textAt(entry, ["email"]),
    copy: /^(?:true|yes|on)$/iu.test(textAt(entry, ["copy"])),
  }));
  return [...all.filter(({ copy }) => !copy), ...all.filter(({ copy }) => copy)];
}

/** A draft for the mail program: nothing clinical in its words, the letter locked. Nothing is sent from here. */
function MailForm({
  reader,
  ask,
}: {
  readonly reader: Reader | undefined;
  readonly ask: (password: string, again: boolean) => Promise<void>;
}): JSX.Element | null {
  const [isSent, setSent] = useState(false);
  const password = usePassword();
  if (!reader) return null;
  return (
    <form
      onSubmit={async (event) => {
        event.preventDefault();
        if (!password.isReady) return;
        await ask(password.text, isSent);
        password.clear();
      }}
    >
      <h3>E-mail draft</h3>
      {reader.email === "" ? (
        <p class="hint">{reader.name} has no e-mail address in this visit.</p>
      ) : (
        <>
          <p>
            To {reader.name}, {reader.email}, with the letter locked. Your mail program opens it; nothing is
            sent from here.
          </p>
          <div class="grid">
            <PasswordFields {...password} name="mail" />
          </div>
          <label class="tick">
            <input
              type="checkbox"
              checked={isSent}
              onChange={(event) => setSent(event.currentTarget.checked)}
            />
            <span>Also if the register has it as sent</span>
          </label>
          <p class="acts">
            <button type="submit" disabled={!password.isReady}>
              Make the draft
            </button>
          </p>
        </>
      )}
    </form>
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
  const password = usePassword();
  return (
    <form
      onSubmit={async (event) => {
        event.preventDefault();
        if (!password.isReady) return;
        tell(await askFile("locked", { file, link, password: password.text }));
        password.clear();
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
        <PasswordFields {...password} name="lock" />
      </div>
      <p class="acts">
        <button type="submit" disabled={!password.isReady}>
          Lock and keep
        </button>
      </p>
    </form>
  );
}

interface Password {
  readonly text: string;
  readonly again: string;
  readonly setText: (text: string) => void;
  readonly setAgain: (text: string) => void;
  readonly isReady: boolean;
  readonly clear: () => void;
}

function usePassword(): Password {
  const [text, setText] = useState("");
  const [again, setAgain] = useState("");
  const clear = () => {
    setText("");
    setAgain("");
  };
  return { text, again, setText, setAgain, isReady: text !== "" && text === again, clear };
}

function PasswordFields({
  text,
  again,
  setText,
  setAgain,
  name,
}: Password & { readonly name: string }): JSX.Element {
  const field = (id: string, value: string, write: (text: string) => void, label: JSX.Element) => (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="password"
        autocomplete="new-password"
        value={value}
        onInput={(event) => write(event.currentTarget.value)}
      />
    </div>
  );
  return (
    <>
      {field(
        `${name}-password`,
        text,
        setText,
        <>
          Password <span class="hint">tell it by another way than the e-mail</span>
        </>,
      )}
      {field(`${name}-again`, again, setAgain, <>The same password again</>)}
      {again !== "" && text !== again ? <p class="hint">The two are not the same.</p> : null}
    </>
  );
}

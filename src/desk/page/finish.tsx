/** Sign, reopen, make and open, as the state of the visit allows. */
import type { JSX } from "preact";
import { useEffect, useId, useState } from "preact/hooks";
import type { OpenPoint, SigningAsked } from "../messages.js";
import { listAt, mapAt, textAt } from "./apply.js";
import { askSigning } from "./ask.js";
import { Dialog } from "./dialog.js";
import { GiveMenu } from "./give-menu.js";
import { ProblemLine } from "./problems-view.js";
import { Segments } from "./segments.js";
import { useHere } from "./use.js";

export function Finish(): JSX.Element {
  const { visit } = useHere();
  const [asking, setAsking] = useState<"sign" | "reopen" | null>(null);
  const [making, setMaking] = useState(false);
  const { state } = visit;
  const current = state.made.filter((m) => m.current);
  return (
    <div class="finish">
      {current.map(({ name, kind, reader, link }) => (
        <a key={name} href={link} target="_blank" rel="noreferrer" title={reader}>
          {kind === "handout" ? "Handout" : "Letter"}
          {/\d\.pdf$/u.test(name) ? ` ${/(\d+)\.pdf$/u.exec(name)?.[1]}` : ""} PDF
          {reader ? <span class="unseen"> to {reader}</span> : null}
        </a>
      ))}
      <button
        type="button"
        class={state.signed && current.length === 0 ? "main" : ""}
        disabled={making}
        onClick={async () => {
          setMaking(true);
          await visit.make();
          setMaking(false);
        }}
      >
        {making ? "Making" : current.length > 0 ? "Make again" : "Make documents"}
      </button>
      <GiveMenu />
      {state.signed ? (
        <button type="button" onClick={() => setAsking("reopen")}>
          Reopen as draft
        </button>
      ) : (
        <button type="button" class="main" onClick={() => setAsking("sign")}>
          Sign
        </button>
      )}
      {asking === "sign" ? <SignDialog close={() => setAsking(null)} /> : null}
      {asking === "reopen" ? <ReopenDialog close={() => setAsking(null)} /> : null}
    </div>
  );
}

const KINDS: Readonly<Record<OpenPoint["kind"], string>> = {
  "must not be missed": "Must not be missed, and still open",
  "not asked": "Not asked",
  warning: "Warnings",
  "not printed": "Will not be printed",
};

/** Waits until the last change is saved, then shows all that is open; only then can anyone sign. */
function SignDialog({ close }: { readonly close: () => void }): JSX.Element {
  const { visit, words, goTo } = useHere();
  const [list, setList] = useState<SigningAsked | null>(null);
  const [failed, setFailed] = useState("");
  const [by, setBy] = useState("");
  const [read, setRead] = useState(false);
  const [reason, setReason] = useState("");
  const { written } = visit;
  const name = mapAt(written, ["patient", "name"]);
  useEffect(() => {
    const look = async () => {
      if (!(await visit.isSaved()))
        return setFailed("Not everything is saved yet. Close this and look again.");
      const answer = await askSigning(visit.state.file, visit.state.hash);
      if (answer.kind === "done") setList(answer.value);
      else setFailed("The visit cannot be looked through now. Close this and try again.");
    };
    void look();
  }, []);
  const open = list?.open ?? [];
  const why = reason.trim();
  const ready =
    list !== null &&
    list.errors.length === 0 &&
    by !== "" &&
    (read || open.length === 0) &&
    (why !== "" || !list.needsReason);
  const sign = async (list: SigningAsked): Promise<boolean> => {
    await visit.sign(by, list.digest, list.needsReason ? why : undefined);
    return visit.state.signed;
  };
  return (
    <Dialog title="Sign this visit?" close={close}>
      <dl>
        <dt>Patient</dt>
        <dd>
          {[name.title, name.given, name.family].filter(Boolean).join(" ")}, born{" "}
          <span class="whole">{textAt(written, ["patient", "born"])}</span>, number{" "}
          <span class="whole">{textAt(written, ["patient", "id"])}</span>
        </dd>
        <dt>Impression</dt>
        <dd>
          {listAt(written, ["impression"])
            .map((line) => `${textAt(line, ["disorder"])} (${textAt(line, ["certainty"]) || "how sure?"})`)
            .join("; ") || "none recorded"}
        </dd>
        <dt>Letter to</dt>
        <dd>
          {listAt(written, ["send_to"])
            .map((r) => textAt(r, ["name"]))
            .join("; ") || "nobody yet"}
        </dd>
      </dl>
      {failed ? <p class="notice warning">{failed}</p> : null}
      {list === null && !failed ? <p aria-busy="true">Looking through the visit.</p> : null}
      {list && list.errors.length > 0 ? (
        <section class="open-points">
          <h3>In the way of signing</h3>
          <ul class="problems">
            {list.errors.map((problem) => (
              <ProblemLine key={`${problem.id} ${problem.path ?? ""}`} problem={problem} onGo={close} />
            ))}
          </ul>
        </section>
      ) : null}
      {(Object.keys(KINDS) as OpenPoint["kind"][]).map((kind) => {
        const here = open.filter((point) => point.kind === kind);
        return here.length === 0 ? null : (
          <section key={kind} class={`open-points ${kind.replaceAll(" ", "-")}`}>
            <h3>
              {KINDS[kind]} <span class="hint">{here.length}</span>
            </h3>
            <ul>
              {here.map(({ id, says, path }) => (
                <li key={`${id} ${path ?? ""} ${says}`}>
                  {kind === "must not be missed" ? <b>{id.replaceAll("-", " ")}: </b> : null}
                  {says}{" "}
                  {path ? (
                    <button
                      type="button"
                      class="link"
                      onClick={() => {
                        close();
                        goTo(path);
                      }}
                    >
                      Go there
                    </button>
                  ) : null}
                </li>
              ))}
            </ul>
          </section>
        );
      })}
      {list && open.length === 0 && list.errors.length === 0 ? <p>Nothing stands open.</p> : null}
      {list && list.errors.length === 0 ? (
        <>
          <Segments
            label="Who signs"
            value={by}
            options={words.people
              .filter(({ maySign }) => maySign)
              .map(({ key, name, role }) => [key, `${name}, ${role}`] as const)}
            choose={setBy}
          />
          {list.needsReason ? (
            <>
              <p>
                Letters of this visit were signed before: this is edition {list.edition}, which replaces them.
              </p>
              <ReasonField reason={reason} setReason={setReason} />
            </>
          ) : null}
          {open.length > 0 ? (
            <label class="tick">
              <input
                type="checkbox"
                checked={read}
                onChange={(event) => setRead(event.currentTarget.checked)}
              />
              <span>
                I have read what stands open ({open.length} {open.length === 1 ? "point" : "points"})
              </span>
            </label>
          ) : null}
        </>
      ) : null}
      <p class="acts">
        <button
          type="button"
          class="main"
          disabled={!ready}
          onClick={() => {
            close();
            if (list) void sign(list);
          }}
        >
          Sign
        </button>
        <button
          type="button"
          disabled={!ready}
          onClick={async () => {
            close();
            if (list && (await sign(list))) await visit.make();
          }}
        >
          Sign and make documents
        </button>
        <button type="button" onClick={close}>
          Not yet
        </button>
      </p>
    </Dialog>
  );
}

/** A signed visit is opened again for a reason, which the next letter gives. */
function ReopenDialog({ close }: { readonly close: () => void }): JSX.Element {
  const { visit } = useHere();
  const [reason, setReason] = useState("");
  return (
    <Dialog title="Reopen this visit as a draft?" close={close}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (reason.trim() === "") return;
          close();
          void visit.reopen(reason.trim());
        }}
      >
        <p>The next letter replaces the one that was signed, and says why.</p>
        <ReasonField reason={reason} setReason={setReason} />
        <p class="acts">
          <button type="submit" class="main" disabled={reason.trim() === ""}>
            Reopen
          </button>
          <button type="button" onClick={close}>
            Leave it signed
          </button>
        </p>
      </form>
    </Dialog>
  );
}

/** Why a signed letter is replaced by another. */
function ReasonField({
  reason,
  setReason,
}: {
  readonly reason: string;
  readonly setReason: (reason: string) => void;
}): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>
        Why it is changed <span class="hint">printed on the next letter; {300 - reason.length} left</span>
      </label>
      <input
        id={id}
        type="text"
        required
        maxLength={300}
        autocomplete="off"
        value={reason}
        onInput={(event) => setReason(event.currentTarget.value)}
      />
    </div>
  );
}

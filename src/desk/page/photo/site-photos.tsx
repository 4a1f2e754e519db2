/** Photos of one place: dropped, chosen or taken, and opened to be marked. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Holder } from "../align.js";
import { listAt, mapAt, textAt } from "../apply.js";
import { send } from "../ask.js";
import { base64 } from "../base64.js";
import { useHere } from "../use.js";
import type { openMarker } from "./marker.js";

const LIBRARY = "/photo.js";
let loading: Promise<{ readonly openMarker: typeof openMarker }> | undefined;

/** The marking with its style, fetched when a photo is first opened. */
function loadMarker() {
  if (!loading) {
    const style = document.createElement("link");
    style.rel = "stylesheet";
    style.href = "/photo.css";
    document.head.append(style);
    loading = import(LIBRARY) as NonNullable<typeof loading>;
  }
  return loading;
}

function whoseOf(written: Holder, site: number, path: string): string {
  const name = mapAt(written, ["patient", "name"]);
  return [
    [name.title, name.given, name.family].filter(Boolean).join(" "),
    `born ${textAt(written, ["patient", "born"])}`,
    textAt(written, ["patient", "id"]),
    textAt(written, ["sites", site, "site"]),
    path.split("/").at(-1) ?? "",
  ].join(" · ");
}

export function MarkPhoto({
  site,
  photo,
}: {
  readonly site: number;
  readonly photo: number;
}): JSX.Element | null {
  const { visit, words } = useHere();
  const [trouble, setTrouble] = useState("");
  const path = textAt(visit.written, ["sites", site, "photos", photo, "file"]);
  if (path === "") return null;
  const mark = async () => {
    setTrouble("");
    const host = document.createElement("div");
    document.body.append(host);
    const own = new Set(
      (visit.state.likely[textAt(visit.written, ["sites", site, "site"])] ?? []).map(String),
    );
    const field = Number(textAt(visit.written, ["scope", "field_diameter_mm"]));
    try {
      const { openMarker } = await loadMarker();
      await openMarker(host, {
        file: visit.state.file,
        photo: path,
        whose: whoseOf(visit.written, site, path),
        signed: visit.state.signed,
        findings: words.findings.toSorted((a, b) => Number(own.has(b.id)) - Number(own.has(a.id))),
        ...(field > 0 ? { fieldMm: field } : {}),
        send,
        closed: () => {
          host.remove();
          void visit.weigh();
        },
      });
    } catch (error) {
      host.remove();
      setTrouble(error instanceof Error ? error.message : "The photo cannot be opened.");
    }
  };
  return (
    <div class="photo-acts">
      <button type="button" onClick={() => void mark()}>
        Mark hairs and findings on {path.split("/").at(-1)}
      </button>
      {trouble === "" ? null : <p role="alert">{trouble}</p>}
    </div>
  );
}

export function AddPhoto({ site }: { readonly site: number }): JSX.Element | null {
  const { visit, announce } = useHere();
  const chosen = useRef<HTMLInputElement>(null);
  const taken = useRef<HTMLInputElement>(null);
  const [isOver, setOver] = useState(false);
  const [trouble, setTrouble] = useState("");
  const [stream, setStream] = useState<MediaStream | null>(null);
  if (visit.state.signed) return null;
  const add = async (files: Iterable<Blob>) => {
    setTrouble("");
    for (const blob of files) {
      const response = await send("add-photo", {
        file: visit.state.file,
        site: textAt(visit.written, ["sites", site, "site"]),
        bytes: await base64(blob),
      });
      const answer = (await response.json()) as { photo?: string; refused?: string };
      if (answer.photo === undefined) return setTrouble(answer.refused ?? "The photo was not taken.");
      const count = listAt(visit.written, ["sites", site, "photos"]).length;
      visit.put(["sites", site, "photos", count, "file"], answer.photo);
      announce(`Photo kept as ${answer.photo}`);
    }
  };
  const camera = async () => {
    try {
      setStream(
        await navigator.mediaDevices.getUserMedia({
          video: { facingMode: "environment", width: { ideal: 2560 } },
        }),
      );
    } catch {
      // No camera for the page, or none allowed: the system's own camera or a file.
      taken.current?.click();
    }
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the buttons inside do the same for those who drop nothing
    <div
      class={`photo-acts${isOver ? " over" : ""}`}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        void add(event.dataTransfer?.files ?? []);
      }}
    >
      <button type="button" onClick={() => chosen.current?.click()}>
        Choose a photo, or drop it here
      </button>
      <button type="button" onClick={() => void camera()}>
        Take a photo
      </button>
      {[chosen, taken].map((input, i) => (
        <input
          key={i}
          ref={input}
          type="file"
          tabIndex={-1}
          aria-label={i === 0 ? "Photo file" : "Photo from the camera"}
          accept="image/jpeg,image/png"
          {...(i === 1 ? { capture: "environment" } : { multiple: true })}
          onChange={(event) => {
            void add(event.currentTarget.files ?? []);
          }}
        />
      ))}
      {stream ? (
        <Camera
          stream={stream}
          take={(blob) => void add([blob])}
          close={() => {
            for (const track of stream.getTracks()) track.stop();
            setStream(null);
          }}
        />
      ) : null}
      {trouble === "" ? null : <p role="alert">{trouble}</p>}
    </div>
  );
}

function Camera({
  stream,
  take,
  close,
}: {
  readonly stream: MediaStream;
  readonly take: (blob: Blob) => void;
  readonly close: () => void;
}): JSX.Element {
  const video = useRef<HTMLVideoElement>(null);
  useEffect(() => {
    if (!video.current) return;
    video.current.srcObject = stream;
    void video.current.play();
  }, [stream]);
  const shoot = () => {
    const shown = video.current;
    if (!shown) return;
    const canvas = document.createElement("canvas");
    canvas.width = shown.videoWidth;
    canvas.height = shown.videoHeight;
    canvas.getContext("2d")?.drawImage(shown, 0, 0);
    canvas.toBlob((blob) => blob && take(blob), "image/jpeg", 0.95);
    close();
  };
  return (
    <>
      <video ref={video} muted playsInline aria-label="What the camera sees" />
      <button type="button" onClick={shoot}>
        Take it
      </button>
      <button type="button" onClick={close}>
        No photo
      </button>
    </>
  );
}

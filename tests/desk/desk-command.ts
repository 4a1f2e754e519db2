/** The desk as its command starts it, in a process of its own: it can be killed, and what it works can be told from what the test works. */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../house/source-files.js";

export interface DeskCommand {
  readonly url: string;
  readonly port: number;
  /** Milliseconds of processor time so far, in hundredths of a second; 0 where the system does not tell. */
  worked(): number;
  /** Ends it by a signal; gives its exit code. */
  stop(signal?: "SIGTERM" | "SIGKILL"): Promise<number | null>;
}

export async function deskCommand(folder: string, port: number): Promise<DeskCommand> {
  const child = spawn(
    process.execPath,
    [join(root, "bin", "whorl.js"), "desk", folder, "--port", String(port)],
    { stdio: ["ignore", "pipe", "ignore"] },
  );
  const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout.once("data", (data: Buffer) => resolve(data.toString("utf8").trim()));
    void ended.then((code) => reject(new Error(`the desk ended with ${code}`)));
  });
  return {
    url,
    port,
    worked: () => {
      try {
        const fields = readFileSync(`/proc/${child.pid}/stat`, "utf8").split(") ").at(-1)?.split(" ") ?? [];
        return (Number(fields[11]) + Number(fields[12])) * 10;
      } catch {
        return 0;
      }
    },
    stop: (signal = "SIGTERM") => {
      child.kill(signal);
      return ended;
    },
  };
}

/** A port that no other worker's desk takes. */
export const freePort = (): number => 20_000 + (process.pid % 20_000);

/** `npm test`: lint, types and tests side by side, so that no processor waits for one of them; fails when any does. */
import { spawn } from "node:child_process";

const PARTS = [
  ["npm", "run", "-s", "lint"],
  ["npm", "run", "-s", "types"],
  ["npx", "vitest", "run", ...process.argv.slice(2)],
];

const codes = await Promise.all(
  PARTS.map(
    ([command = "", ...args]) =>
      new Promise((resolve) => {
        spawn(command, args, { stdio: "inherit", shell: process.platform === "win32" }).once(
          "exit",
          (code) => {
            if (code !== 0) console.error(`failed: ${[command, ...args].join(" ")}`);
            resolve(code);
          },
        );
      }),
  ),
);
process.exit(codes.every((code) => code === 0) ? 0 : 1);

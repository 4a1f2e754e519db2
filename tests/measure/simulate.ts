/** The large simulation, by `npm run simulate [ROUNDS [FIELDS]]`, as `2000 1,2`: coverage of every interval and false calls of change, in percent, as a table. */
import { SCALPS } from "./scalps.js";
import { coverage, falseCalls, type Rates } from "./simulation.js";

const rounds = Number(process.argv[2] ?? 1000);
const plans = (process.argv[3] ?? "1,2,3,4")
  .split(",")
  .map(Number)
  .flatMap((fields) =>
    [60, 130].flatMap((mean) => Object.keys(SCALPS).map((scalp) => ({ fields, mean, scalp }))),
  );
const print = (title: string, made: readonly Rates[]) => {
  console.log(title);
  for (const id of new Set(made.flatMap((rates) => Object.keys(rates)))) {
    const cells = made.map((rates) => (rates[id]?.toFixed(1) ?? "-").padStart(6));
    console.log(`${id.padEnd(26)}${cells.join("")}`);
  }
};
console.log(`${rounds} rounds; fields, hairs per field, scalp:`);
for (const { fields, mean, scalp } of plans) console.log(`  ${fields} of ${mean}, ${scalp}`);
print(
  "Limits hold the truth, percent (93 to 97 looked for):",
  plans.map(({ fields, mean, scalp }) => coverage(fields, mean, scalp, rounds)),
);
print(
  "Change called where there is none, percent (3 to 6 looked for):",
  plans.map(({ fields, mean, scalp }) => falseCalls(fields, mean, scalp, rounds)),
);

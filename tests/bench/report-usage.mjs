/** Loaded into a measured process before anything else: at its end it tells, by file handle 3, what it took, all threads together. */
import { writeSync } from "node:fs";
import { isMainThread } from "node:worker_threads";

if (isMainThread)
  process.on("exit", () => {
    const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
    writeSync(3, JSON.stringify({ cpuMs: (userCPUTime + systemCPUTime) / 1000, peakMb: maxRSS / 1024 }));
  });

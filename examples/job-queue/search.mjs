// One search, spread over processes by a queue of jobs (bullmq) on its server (redis-server, of Debian's packages), both started here; then the same search as a whole, to compare.
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Queue, QueueEvents } from "bullmq";
import { mergeShards } from "dividing-network/design";
import { fromJSON, OF, search } from "./problem.mjs";

const PROCESSES = 2;
const folder = mkdtempSync(join(tmpdir(), "shards-"));
const children = [];
const start = (command, args) => {
  const child = spawn(command, args, { stdio: ["ignore", "ignore", "inherit"] });
  child.on("error", (error) => {
    console.error(`${command} can't be started: ${error.message}. On Debian: apt-get install redis-server`);
    stop();
    process.exit(1);
  });
  children.push(child);
  return child;
};
const stop = () => {
  for (const child of children) child.kill("SIGTERM");
  rmSync(folder, { recursive: true, force: true });
};

/** A port that nobody uses now. */
const port = await new Promise((resolve) => {
  const server = createServer().listen(0, "127.0.0.1", () => {
    const { port: free } = server.address();
    server.close(() => resolve(free));
  });
});
const connection = { host: "127.0.0.1", port };

start("redis-server", ["--port", String(port), "--bind", "127.0.0.1", "--save", "", "--appendonly", "no", "--dir", folder]);
const queue = new Queue("shards", { connection });
const events = new QueueEvents("shards", { connection });
for (const each of [queue, events]) each.on("error", () => undefined); // until the server listens
try {
  await queue.waitUntilReady();
  await events.waitUntilReady();
  for (let i = 0; i < PROCESSES; i++) start(process.execPath, [fileURLToPath(new URL("worker.mjs", import.meta.url)), String(port)]);
  const jobs = await queue.addBulk(
    Array.from({ length: OF }, (_, index) => ({ name: "shard", data: { index, of: OF }, opts: { attempts: 2 } })),
  );
  const results = await Promise.all(jobs.map((job) => job.waitUntilFinished(events, 600_000)));
  const merged = mergeShards(results.map(({ answer }) => (answer === undefined ? undefined : fromJSON(answer))));
  const whole = await search();
  console.log(`${merged.networks} networks in ${OF} shards, by ${new Set(results.map(({ process: id }) => id)).size} processes`);
  console.log(
    `best ${merged.lossDb.toFixed(4)} dB, ${merged.proven ? "proven" : "not proven"}; as one search ${whole.lossDb.toFixed(4)} dB, ${whole.proven ? "proven" : "not proven"}`,
  );
  for (const [name, [part]] of Object.entries(merged.network))
    if (part.kind !== "driver") console.log(`  ${name} ${part.inductance ?? part.capacitance ?? part.resistance}`);
  if (!merged.proven || Math.abs(merged.lossDb - whole.lossDb) > 1e-9) {
    console.error("the merged answer isn't the whole's");
    process.exitCode = 1;
  }
} finally {
  await events.close().catch(() => undefined);
  await queue.close().catch(() => undefined);
  stop();
}

// A process that takes shards from the queue until it is told to stop. More of them may run on other machines: they need this folder, and the address of the queue's server.
import { Worker } from "bullmq";
import { search, toJSON } from "./problem.mjs";

const [port, host = "127.0.0.1"] = process.argv.slice(2);
const worker = new Worker(
  "shards",
  async ({ data: shard }) => {
    const answer = await search(shard).catch((error) => {
      // A shard may hold no network that keeps the limits.
      if (error.code === "no-feasible-network") return undefined;
      throw error;
    });
    return answer === undefined ? { process: process.pid } : { process: process.pid, answer: toJSON(answer) };
  },
  { connection: { host, port: Number(port) }, concurrency: 1 },
);
worker.on("error", (error) => console.error(error.message));
process.on("SIGTERM", () => void worker.close().then(() => process.exit(0)));

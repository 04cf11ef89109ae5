// One worker of the bench: on each message it reports how many candidates a second it got through.
import { parentPort } from "node:worker_threads";
import { register } from "tsx/esm/api";

register();
const { candidates } = await import("./candidates.ts");
parentPort.on("message", () => parentPort.postMessage(candidates().perSecond));

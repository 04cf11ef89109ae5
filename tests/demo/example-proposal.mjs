// The example proposes what the library finds from the same measurements and the example's drawer: found again here, from the built package. `npm run build` first.
import { readFile } from "node:fs/promises";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { lossOf } from "dividing-network/assessment";
import { redesignOnAllCores } from "dividing-network/cores";
import { readProject } from "dividing-network/project";

const folder = fileURLToPath(new URL("../../examples/desk-monitor/", import.meta.url));
const { project, found, proposed, goal, stock } = await readProject(await readFile(`${folder}project.json`, "utf8"), {
  readFile: (path) => readFile(folder + path, "utf8"),
});
const { front } = await redesignOnAllCores(found, {
  goal,
  ratedImpedance: project.ratedImpedance,
  maxParts: 6,
  stock,
  units: 2,
  workers: Math.min(4, availableParallelism()),
});
const nearest = front.reduce((best, one) => (one.lossDb < best.lossDb ? one : best));

/** What stands in a network, whatever its parts and joints are called. */
const contents = (network) =>
  Object.values(network)
    .filter(([part]) => part.kind !== "driver")
    .map(([part]) => `${part.kind} ${part.resistance ?? part.inductance ?? part.capacitance}`)
    .sort()
    .join(", ");
const [theirs, ours] = [contents(nearest.network), contents(proposed.network)];
const loss = lossOf(proposed, goal).lossDb;
if (theirs !== ours || Math.abs(loss - nearest.lossDb) > 1e-6) {
  console.error(`the example proposes ${ours} (${loss} dB), the library finds ${theirs} (${nearest.lossDb} dB)`);
  process.exit(1);
}
console.log(`the example's proposal is what the library finds of at most six parts: ${ours}; ${loss.toFixed(3)} dB`);

// What a fresh process waits for, printed as JSON. Run by public.ts, bundled.
import { solve } from "dividing-network";
import { grid, withParameters } from "./three-way-parts";

const loaded = performance.now();
// What other work on the machine doesn't lengthen: processor time, that of the engine's own helpers included.
const used = process.cpuUsage();
let processor: number | undefined;
const times = Array.from({ length: 3 }, () => {
  const start = performance.now();
  solve(withParameters, grid).voltage("w");
  const taken = performance.now() - start;
  if (processor === undefined) {
    const { user, system } = process.cpuUsage(used);
    processor = (user + system) / 1000;
  }
  return taken;
});
console.log(JSON.stringify({ loaded, first: times[0], processor, second: times[1], third: times[2] }));

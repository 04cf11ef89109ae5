// What a fresh process waits for, printed as JSON. Run by public.ts, bundled.
import { solve } from "dividing-network";
import { grid, withParameters } from "./three-way-parts";

const loaded = performance.now();
const times = Array.from({ length: 3 }, () => {
  const start = performance.now();
  solve(withParameters, grid).voltage("w");
  return performance.now() - start;
});
console.log(JSON.stringify({ loaded, first: times[0], second: times[1], third: times[2] }));

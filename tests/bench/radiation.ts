// Summing extended sources: the direct sum over 2,000 elements per source against Gauss rules with points chosen per frequency, both in one
// run, at an error that is computed in the same run against rules of much finer tolerance.
import { type Point } from "dividing-network/physics";
import { lineSource, panelSource, pistonSource, polarMap, pressureAt, sphereMap, type Source } from "dividing-network/radiation";
import { logGrid } from "dividing-network/numeric";

const speedOfSound = 343;
const elements = 2000;
const places: readonly Point[] = [
  [0, 0, 0],
  [0, 0.2, 0.1],
  [0, -0.2, -0.1],
  [-0.05, 0.4, 0],
  [0.02, -0.35, 0.05],
];
const lengths = [1.2, 0.9, 0.6, 0.4, 0.3];

/** Milliseconds of processor time of this process, which other programs on the machine do not lengthen much. */
const now = (): number => process.cpuUsage().user / 1e3;

/** The plain sum with one sine and one cosine per element, frequency and point; returns a checksum and the seconds. */
function directSum(points: readonly Point[], frequencies: Float64Array): { re: Float64Array; im: Float64Array; seconds: number } {
  const re = new Float64Array(points.length * frequencies.length);
  const im = new Float64Array(points.length * frequencies.length);
  const distances = new Float64Array(elements);
  const start = now();
  places.forEach(([x, y, z], s) => {
    points.forEach(([px, py, pz], p) => {
      for (let i = 0; i < elements; i++) distances[i] = Math.hypot(px - x, py - y, pz - z - lengths[s]! * ((i + 0.5) / elements - 0.5));
      for (let f = 0; f < frequencies.length; f++) {
        const k = (2 * Math.PI * frequencies[f]!) / speedOfSound;
        let [a, b] = [0, 0];
        for (let i = 0; i < elements; i++) {
          const r = distances[i]!;
          a += Math.cos(k * r) / r;
          b -= Math.sin(k * r) / r;
        }
        re[p * frequencies.length + f]! += a / elements;
        im[p * frequencies.length + f]! += b / elements;
      }
    });
  });
  return { re, im, seconds: (now() - start) / 1e3 };
}

/** Largest difference relative to the five sources in phase. */
function largestError(a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }, inPhase: number): number {
  let worst = 0;
  for (let i = 0; i < a.re.length; i++) worst = Math.max(worst, Math.hypot(a.re[i]! - b.re[i]!, a.im[i]! - b.im[i]!) / inPhase);
  return worst;
}

function timed(run: () => void, rounds: number): number {
  const times: number[] = [];
  for (let i = 0; i < rounds; i++) {
    const start = now();
    run();
    times.push(now() - start);
  }
  return times.sort((a, b) => a - b)[rounds >> 1]!;
}

/** Runs the measurements and gives one line each. */
export async function bench(): Promise<{ name: string; lines: string[] }> {
  const frequencies = logGrid(20, 20_000, 500);
  const distance = 3;
  const angles = Array.from({ length: 73 }, (_, i) => -180 + 5 * i);
  const points = angles.map((angle): Point => [
    distance * Math.cos((angle * Math.PI) / 180),
    0,
    distance * Math.sin((angle * Math.PI) / 180),
  ]);
  const sources = places.map((position, s) => lineSource({ length: lengths[s]!, position }));
  const lines: string[] = [];

  const gauss = timed(() => pressureAt(sources, frequencies, { points, air: { speedOfSound } }), 15);
  const fast = pressureAt(sources, frequencies, { points, air: { speedOfSound } });
  const fine = pressureAt(sources, frequencies, { points, air: { speedOfSound }, tolerance: 1e-9 });
  const direct = directSum(points, frequencies);
  const inPhase = sources.length / distance;
  lines.push(
    `5 lines × 73 angles × 500 frequencies, direct sum over ${elements} elements each: ${(direct.seconds * 1e3).toFixed(0)} ms of processor time, error ${largestError(direct, fine, inPhase).toExponential(1)}`,
  );
  lines.push(
    `the same by Gauss rules (tolerance 1e-6): ${gauss.toFixed(1)} ms, error ${largestError(fast, fine, inPhase).toExponential(1)}, estimated ${fast.errorEstimate.toExponential(1)}`,
  );
  lines.push(`ratio: ${((direct.seconds * 1e3) / gauss).toFixed(0)} times`);

  const three: readonly Source[] = [
    panelSource({ width: 0.25, height: 1.2 }),
    lineSource({ length: 1.2, position: [0, 0.2, 0] }),
    pistonSource({ radius: 0.125, position: [0, 0, -0.8] }),
  ];
  lines.push(
    `polar map of a panel, a line and a piston, 73 angles × 500 frequencies: ${timed(() => polarMap(three, frequencies, { distance }), 5).toFixed(1)} ms`,
  );
  lines.push(
    `sphere of 10° steps (614 directions) of the same, 500 frequencies: ${timed(() => sphereMap(three, frequencies, { distance }), 3).toFixed(0)} ms`,
  );
  return { name: "radiation", lines };
}

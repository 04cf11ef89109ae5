// Minimum phase against one fft.js transform of 65,536 points, in one run, with the error of each result against the closed form beside it.
import FFT from "fft.js";
import { linearGrid, logGrid } from "dividing-network/numeric";
import { frequencyResponse, minimumPhase, minimumPhaseWithError, type FrequencyResponse } from "dividing-network/response";

const points = 65_536;

/** A driver with an 11 dB/octave start and a second-order end, its phase and its magnitude alone. */
function driver(grid: Float64Array, q: number, noise = 0): { given: FrequencyResponse; truth: FrequencyResponse } {
  const re = new Float64Array(grid.length);
  const im = new Float64Array(grid.length);
  grid.forEach((f, k) => {
    const [x, y] = [f / 60, f / 3000];
    // (−x²) / ((1 − x² + jx/0.8)(1 − y² + jy/q))
    const [a, b, c, d] = [1 - x * x, x / 0.8, 1 - y * y, y / q];
    const [p, s] = [a * c - b * d, a * d + b * c];
    re[k] = (-x * x * p) / (p * p + s * s);
    im[k] = (x * x * s) / (p * p + s * s);
  });
  let state = 1;
  const next = (): number => (state = (state * 48271) % 2147483647) / 2147483647 - 0.5;
  const size = re.map((value, k) => Math.hypot(value, im[k]!) * (1 + noise * next()));
  return { given: frequencyResponse(grid, size, new Float64Array(grid.length)), truth: frequencyResponse(grid, re, im) };
}

/** Largest phase error in degrees between 100 Hz and 6 kHz. */
function error(found: FrequencyResponse, truth: FrequencyResponse): number {
  let worst = 0;
  found.frequencies.forEach((f, k) => {
    const re = found.re[k]! * truth.re[k]! + found.im[k]! * truth.im[k]!;
    const im = found.im[k]! * truth.re[k]! - found.re[k]! * truth.im[k]!;
    if (f > 100 && f < 6000) worst = Math.max(worst, Math.abs(Math.atan2(im, re)) * (180 / Math.PI));
  });
  return worst;
}

/** Milliseconds of processor time of this process, which other programs on the machine do not lengthen much. */
const now = (): number => process.cpuUsage().user / 1e3;

/** Median over rounds of several runs of each job, taken in turn, milliseconds. */
function timed(jobs: readonly (() => void)[], rounds: number, runs: number): number[] {
  const times = jobs.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    jobs.forEach((job, i) => {
      const start = now();
      for (let run = 0; run < runs; run++) job();
      times[i]!.push((now() - start) / runs);
    });
  }
  return times.map((list) => list.sort((a, b) => a - b)[rounds >> 1]!);
}

/** Runs the measurements and gives one line each. */
export async function bench(): Promise<{ name: string; lines: string[] }> {
  const transform = new FFT(points);
  const input = transform.createComplexArray();
  const output = transform.createComplexArray();
  for (let i = 0; i < input.length; i++) input[i] = Math.sin(i * i);
  const sets = [
    ["65,536-point circle: 32,769 frequencies, 0 Hz to 24 kHz, linear", driver(linearGrid(0, 24000, points / 2 + 1), 0.9)],
    ["65,536 frequencies, 20 Hz to 20 kHz, logarithmic", driver(logGrid(20, 20000, points), 0.9)],
    ["65,536 frequencies, 0.37 Hz to 24 kHz, linear", driver(linearGrid(24000 / points, 24000, points), 0.9)],
    ["480 frequencies, 20 Hz to 20 kHz, logarithmic", driver(logGrid(20, 20000, 480), 0.9)],
    ["65,536 frequencies, logarithmic, with a resonance of Q = 100", driver(logGrid(20, 20000, points), 100)],
  ] as const;
  const rough = [
    ["4,097 frequencies, linear, each scattered by ±2.5 %", driver(linearGrid(0, 24000, 4097), 0.9, 0.05)],
    ["32,769 frequencies, linear, each scattered by ±2.5 %", driver(linearGrid(0, 24000, points / 2 + 1), 0.9, 0.05)],
  ] as const;
  const [unit, ...times] = timed(
    [
      () => void transform.transform(output, input),
      ...sets.map(
        ([, { given }]) =>
          () =>
            void minimumPhase(given),
      ),
    ],
    15,
    10,
  );
  const roughTimes = timed(
    rough.map(
      ([, { given }]) =>
        () =>
          void minimumPhase(given),
    ),
    3,
    1,
  );
  const line = (name: string, { given, truth }: ReturnType<typeof driver>, ms: number, exact: boolean): string => {
    const { response, errorDegrees, points: length } = minimumPhaseWithError(given);
    const at = response.frequencies.findIndex((f) => f > 3000);
    const found = exact
      ? `, error ${error(response, truth).toExponential(1)}° (estimate at 3 kHz ${errorDegrees[at]!.toExponential(1)}°)`
      : "";
    return `${name}: ${ms.toFixed(2)} ms, ${(ms / unit!).toFixed(2)} × fft.js, transform of ${length}${found}`;
  };
  return {
    name: "minimum phase (limit: 2.5 × one fft.js transform of 65,536 points)",
    lines: [
      `one fft.js transform of 65,536 points: ${unit!.toFixed(2)} ms`,
      ...sets.map(([name, set], i) => line(name, set, times[i]!, true)),
      ...rough.map(([name, set], i) => line(name, set, roughTimes[i]!, false)),
    ],
  };
}

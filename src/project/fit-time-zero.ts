import { listOf } from "../quantity/internal";
import { DividingNetworkError, type Issue } from "../errors";
import { predict, type Loudspeaker, type PressurePerVolt } from "../loudspeaker";
import { samePlace } from "../loudspeaker/internal";
import { logGrid } from "../numeric";
import { formatQuantity } from "../quantity";
import { addResponses, delayResponse, resample, type FrequencyResponse } from "../response";
import { bandWithout, freezeResponse } from "../response/internal";
import { fitDelays, type FittedDelay } from "./fit-delays";
import type { FittedTimeZero, MeasuredLoudspeakerPressure } from "./loaded-project";

/** Pressures whose time zero was fitted, what of the whole is left to check the model by, and what is to be said. */
export interface FittedTimes {
  readonly pressures: ReadonlyMap<string, readonly PressurePerVolt[]>;
  readonly whole: readonly MeasuredLoudspeakerPressure[];
  readonly fitted: readonly FittedTimeZero[];
  readonly notes: readonly Issue[];
}

/** A second answer whose misfit is less than this many times larger is as good as the first (choice, no source). */
const AS_GOOD = 1.5;
/**
 * Where drivers share no time zero with the others, but they, the others and the whole were measured at one place, their delays are fitted so that
 * the sum through the network as found is what was measured. That measurement of the whole then no longer checks the model. Polarities are the drawing's.
 */
export function fitTimeZeros(
  built: (pressures: ReadonlyMap<string, readonly PressurePerVolt[]>) => Loudspeaker,
  pressures: ReadonlyMap<string, readonly PressurePerVolt[]>,
  whole: readonly MeasuredLoudspeakerPressure[],
): FittedTimes {
  const unchanged: FittedTimes = { pressures, whole, fitted: [], notes: [] };
  if (pressures.size < 2 || [...pressures.values()].flat().every(({ timed }) => timed)) return unchanged;
  const next = new Map<string, PressurePerVolt[]>([...pressures].map(([name, list]) => [name, [...list]]));
  const [fitted, notes, used]: [FittedTimeZero[], Issue[], Set<MeasuredLoudspeakerPressure>] = [[], [], new Set()];
  for (const measured of whole) {
    const here = [...pressures].flatMap(([name, list]) =>
      list.filter((pressure) => samePlace(pressure, measured)).map((pressure) => ({ name, pressure })),
    );
    const untimed = here.filter(({ pressure }) => !pressure.timed);
    if (here.length < pressures.size || untimed.length === 0) continue;
    // Where all start at instants of their own, the first says what time zero is.
    const free = untimed.length === here.length ? untimed.slice(1) : untimed;
    const names = free.map(({ name }) => name);
    try {
      const delays = delaysAt(
        built,
        here.map(({ name, pressure: each }) => [name, { ...each, timed: true }]),
        names,
        measured,
      );
      free.forEach(({ name, pressure }, index) => {
        const fit = delays[index]!;
        const { frequencies, re, im, marks = [] } = delayResponse(pressure.response, fit.delay);
        const note = `the time zero of ${name} was fitted to the whole as measured at ${formatQuantity(measured.distance, "m")}`;
        replace(next, name, pressure, {
          ...pressure,
          timed: true,
          response: freezeResponse(frequencies, re, im, [...marks, Object.freeze({ kind: "model" as const, note })]),
        });
        fitted.push(
          Object.freeze({ driver: name, distance: measured.distance, azimuth: measured.azimuth, elevation: measured.elevation, ...fit }),
        );
      });
      for (const { name, pressure: other } of untimed) if (!names.includes(name)) replace(next, name, other, { ...other, timed: true });
      used.add(measured);
    } catch (error) {
      if (!(error instanceof DividingNetworkError)) throw error;
      notes.push(
        Object.freeze({
          code: "time-zero-not-fitted",
          message: `the delay of ${listOf(names)} against the others can't be fitted to ${measured.label}: ${error.message}`,
          hint: error.hint,
          parts: names,
          file: measured.label,
        }),
      );
    }
  }
  if (fitted.length === 0) return { ...unchanged, notes };
  // A place without a time zero can't be summed, and must not stop those that can.
  let left = 0;
  for (const [name, list] of next) {
    left += list.filter(({ timed }) => !timed).length;
    next.set(
      name,
      list.filter(({ timed }) => timed),
    );
  }
  if (left > 0)
    notes.push(
      Object.freeze({
        code: "place-left-out",
        message: `${left} measured ${left === 1 ? "pressure is" : "pressures are"} left out: no time zero, and the whole was not measured at the same place`,
        hint: "State a delay, or measure the whole there",
      }),
    );
  return { pressures: next, whole: whole.filter((measured) => !used.has(measured)), fitted, notes: [...fitted.map(sentence), ...notes] };
}

function replace(pressures: Map<string, PressurePerVolt[]>, name: string, old: PressurePerVolt, by: PressurePerVolt): void {
  pressures.set(
    name,
    pressures.get(name)!.map((pressure) => (pressure === old ? Object.freeze(by) : pressure)),
  );
}

/** The delays, s, of the pressures of `free` beyond what their own phases hold, in that order. */
function delaysAt(
  built: (pressures: ReadonlyMap<string, readonly PressurePerVolt[]>) => Loudspeaker,
  here: readonly (readonly [string, PressurePerVolt])[],
  free: readonly string[],
  measured: MeasuredLoudspeakerPressure,
): readonly FittedDelay[] {
  const box = built(new Map(here.map(([name, pressure]) => [name, [pressure]])));
  const ends = [measured.response, ...here.map(([, { response }]) => response)].map((response) =>
    bandWithout(response, ["no-data", "coarse"]),
  );
  const [from, to] = [Math.max(...ends.map((end) => end.from)), Math.min(...ends.map((end) => end.to))];
  if (!(to > 2 * from))
    throw new DividingNetworkError(
      "band-too-narrow",
      `readProject: what was measured there must share an octave that can be trusted, got ${from < to ? `${from} Hz to ${to} Hz` : "no band"}`,
      "Measure over a wider band",
    );
  const grid = logGrid(from, to, Math.ceil(48 * Math.log2(to / from)) + 1);
  const { branches } = predict(box, { places: [measured], frequencies: grid, voltage: measured.voltage }).places[0]!;
  // Drivers that share a measurement go with it.
  const groupOf = new Map(
    box.drivers.map(({ name, pressures: [pressure] }) => [
      name,
      free.find((each) => here.find(([other]) => other === each)![1].label === pressure!.label),
    ]),
  );
  const sum = (group: string | undefined): FrequencyResponse => {
    const parts = Object.entries(branches)
      .filter(([name]) => groupOf.get(name) === group)
      .map(([, branch]) => branch);
    if (parts.length === 0)
      throw new DividingNetworkError(
        "undetermined",
        `readProject: ${group ?? "what shares a time zero"} must be heard through the network as found, got no driver of it there`,
        "Look whether the network as found names it",
      );
    return parts.length === 1 ? parts[0]! : addResponses(...parts);
  };
  return fitDelays(sum(undefined), free.map(sum), resample(measured.response, grid), box.air);
}

function sentence({ driver, distance, azimuth, elevation, delay, offsetUncertainty, misfit, runnerUp }: FittedTimeZero): Issue {
  const metres = (length: number) => formatQuantity(length, "m", { digits: 2 });
  const where = `${metres(distance)}, azimuth ${azimuth}°, elevation ${elevation}°`;
  const second =
    runnerUp === undefined
      ? undefined
      : `${runnerUp.polarity === "reversed" ? "the other polarity" : "the drawn polarity"} and a path ${metres(Math.abs(runnerUp.offset))} ${runnerUp.offset < 0 ? "shorter" : "longer"}`;
  const ratio = runnerUp?.misfitRatio ?? Infinity;
  const ambiguous = ratio < AS_GOOD;
  return Object.freeze({
    code: ambiguous ? "time-zero-ambiguous" : "time-zero-fitted",
    message:
      `the delay of ${driver} against the others was fitted at ${where}: ${formatQuantity(delay, "s", { digits: 3 })}, known to ±${metres(offsetUncertainty)} of path; ${(100 * misfit).toFixed(1)} % of the louder branch is left`
      + `${second === undefined ? "" : ambiguous ? `; it isn't certain: ${second} fits ${ratio < 1 ? "better" : "nearly as well"} (${ratio.toFixed(2)} times what is left)` : `; the next best answer, ${second}, leaves ${ratio.toFixed(1)} times as much`}`
      + ". This measurement of the whole no longer checks the model",
    hint: ambiguous
      ? "Measure both drivers on one time zero, or state the delay"
      : "Measure on one time zero where the model is to be checked as well",
    parts: [driver],
  });
}

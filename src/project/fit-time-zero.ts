import { DividingNetworkError, type Issue } from "../errors";
import { predict, type Loudspeaker, type PressurePerVolt } from "../loudspeaker";
import { samePlace } from "../loudspeaker/internal";
import { logGrid } from "../numeric";
import { formatQuantity } from "../quantity";
import { addResponses, delayResponse, estimateDelay, relativeAcousticOffset, resample, type FrequencyResponse, type RelativeOffset } from "../response";
import { freezeResponse } from "../response/internal";
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
/** What may be left, as a part of the louder branch: beyond it the whole isn't these drivers through this network, and no delay says anything (choice, no source). */
const MOST_LEFT = 0.5;

/**
 * Where one driver shares no time zero with the others, but it, the others and the whole were measured at one place, the delay is fitted so that
 * the sum through the network as found is what was measured. That measurement of the whole then no longer checks the model. The polarity is the drawing's.
 */
export function fitTimeZeros(built: (pressures: ReadonlyMap<string, readonly PressurePerVolt[]>) => Loudspeaker, pressures: ReadonlyMap<string, readonly PressurePerVolt[]>, whole: readonly MeasuredLoudspeakerPressure[]): FittedTimes {
  const unchanged: FittedTimes = { pressures, whole, fitted: [], notes: [] };
  if (pressures.size < 2 || [...pressures.values()].flat().every(({ timed }) => timed)) return unchanged;
  const next = new Map<string, PressurePerVolt[]>([...pressures].map(([name, list]) => [name, [...list]]));
  const [fitted, notes, used]: [FittedTimeZero[], Issue[], Set<MeasuredLoudspeakerPressure>] = [[], [], new Set()];
  for (const measured of whole) {
    const here = [...pressures].flatMap(([name, list]) => list.filter((pressure) => samePlace(pressure, measured)).map((pressure) => ({ name, pressure })));
    const untimed = here.filter(({ pressure }) => !pressure.timed);
    if (here.length < pressures.size || untimed.length === 0) continue;
    // Where all start at instants of their own, one of two says what time zero is.
    const free = untimed.length === here.length ? untimed.slice(1) : untimed;
    if (free.length !== 1) continue;
    const { name: driver, pressure } = free[0]!;
    try {
      const fit = offsetAt(built, here.map(({ name, pressure: each }) => [name, { ...each, timed: true }]), driver, measured);
      const { frequencies, re, im, marks = [] } = delayResponse(pressure.response, fit.delay);
      const note = `the time zero of ${driver} was fitted to the whole as measured at ${formatQuantity(measured.distance, "m")}`;
      replace(next, driver, pressure, { ...pressure, timed: true, response: freezeResponse(frequencies, re, im, [...marks, Object.freeze({ kind: "model" as const, note })]) });
      for (const { name, pressure: other } of untimed) if (name !== driver) replace(next, name, other, { ...other, timed: true });
      used.add(measured);
      fitted.push(Object.freeze({ driver, distance: measured.distance, azimuth: measured.azimuth, elevation: measured.elevation, ...fit }));
    } catch (error) {
      if (!(error instanceof DividingNetworkError)) throw error;
      notes.push(Object.freeze({ code: "time-zero-not-fitted", message: `the delay of ${driver} against the others can't be fitted to ${measured.label}: ${error.message}`, hint: error.hint, parts: [driver], file: measured.label }));
    }
  }
  if (fitted.length === 0) return { ...unchanged, notes };
  // A place without a time zero can't be summed, and must not stop those that can.
  let left = 0;
  for (const [name, list] of next) {
    left += list.filter(({ timed }) => !timed).length;
    next.set(name, list.filter(({ timed }) => timed));
  }
  if (left > 0) notes.push(Object.freeze({ code: "place-left-out", message: `${left} measured ${left === 1 ? "pressure is" : "pressures are"} left out: no time zero, and the whole was not measured at the same place`, hint: "State a delay, or measure the whole there" }));
  return { pressures: next, whole: whole.filter((measured) => !used.has(measured)), fitted, notes: [...fitted.map(sentence), ...notes] };
}

function replace(pressures: Map<string, PressurePerVolt[]>, name: string, old: PressurePerVolt, by: PressurePerVolt): void {
  pressures.set(name, pressures.get(name)!.map((pressure) => (pressure === old ? Object.freeze(by) : pressure)));
}

/** The delay of one driver's pressure, s, beyond what its own phase holds. */
function offsetAt(built: (pressures: ReadonlyMap<string, readonly PressurePerVolt[]>) => Loudspeaker, here: readonly (readonly [string, PressurePerVolt])[], driver: string, measured: MeasuredLoudspeakerPressure): Omit<FittedTimeZero, "driver" | "distance" | "azimuth" | "elevation"> {
  const box = built(new Map(here.map(([name, pressure]) => [name, [pressure]])));
  // Drivers that share its measurement go with it.
  const own = here.find(([name]) => name === driver)![1].label;
  const mine = new Set(box.drivers.filter(({ pressures: [pressure] }) => pressure!.label === own).map(({ name }) => name));
  const ends = [measured.response, ...here.map(([, { response }]) => response)].map(({ frequencies, marks = [] }) => ({
    from: marks.reduce((from, { kind, from: begin, to = 0 }) => (begin === undefined && (kind === "no-data" || kind === "coarse") ? Math.max(from, to) : from), frequencies[0]! > 0 ? frequencies[0]! : (frequencies[1] ?? 0)),
    to: marks.reduce((to, { kind, from = Infinity, to: end }) => (end === undefined && (kind === "no-data" || kind === "coarse") ? Math.min(to, from) : to), frequencies[frequencies.length - 1]!),
  }));
  const [from, to] = [Math.max(...ends.map((end) => end.from)), Math.min(...ends.map((end) => end.to))];
  if (!(to > 2 * from)) throw new DividingNetworkError("band-too-narrow", `readProject: what was measured there must share an octave that can be trusted, got ${from} Hz to ${to} Hz`, "Measure over a wider band");
  const grid = logGrid(from, to, Math.ceil(48 * Math.log2(to / from)) + 1);
  const { branches } = predict(box, { places: [measured], frequencies: grid, voltage: measured.voltage }).places[0]!;
  const sum = (ofIts: boolean): FrequencyResponse => {
    const parts = Object.entries(branches).filter(([name]) => mine.has(name) === ofIts).map(([, branch]) => branch);
    return parts.length === 1 ? parts[0]! : addResponses(...parts);
  };
  const [first, second] = [sum(false), sum(true)];
  // Starts of their own may lie milliseconds apart: the search is for what is left.
  const apart = estimateDelay(first) - estimateDelay(second);
  const options = { first, second: delayResponse(second, apart), both: resample(measured.response, grid), air: box.air };
  const drawn = relativeAcousticOffset({ ...options, polarity: "same" });
  if (drawn.misfit > MOST_LEFT) throw new DividingNetworkError("undetermined", `readProject: at most half of the louder branch may be left, got ${drawn.misfit.toPrecision(3)} times that branch`, "Look whether the drawing, the voltages and the files are those of this loudspeaker");
  const either = relativeAcousticOffset(options);
  const others = [rival(drawn, drawn.runnerUp), either.polarity === "reversed" ? { offset: either.offset, polarity: "reversed" as const, misfitRatio: either.misfit / Math.max(drawn.misfit, 1e-12) } : rival(drawn, either.runnerUp)];
  const runnerUp = others.flatMap((other) => (other === undefined ? [] : [other])).sort((a, b) => a.misfitRatio - b.misfitRatio)[0];
  return {
    delay: apart + drawn.delay,
    delayUncertainty: drawn.delayUncertainty,
    offset: drawn.offset,
    offsetUncertainty: drawn.offsetUncertainty,
    misfit: drawn.misfit,
    ...(runnerUp === undefined ? {} : { runnerUp: Object.freeze({ offset: runnerUp.offset - drawn.offset, polarity: runnerUp.polarity, misfitRatio: runnerUp.misfitRatio }) }),
  };
}

function rival(best: RelativeOffset, other: RelativeOffset["runnerUp"]): RelativeOffset["runnerUp"] {
  return other === undefined || Math.abs(other.offset - best.offset) < 1e-4 && other.polarity === best.polarity ? undefined : other;
}

function sentence({ driver, distance, azimuth, elevation, delay, offsetUncertainty, misfit, runnerUp }: FittedTimeZero): Issue {
  const metres = (length: number) => formatQuantity(length, "m", { digits: 2 });
  const where = `${metres(distance)}, azimuth ${azimuth}°, elevation ${elevation}°`;
  const second = runnerUp === undefined ? undefined : `${runnerUp.polarity === "reversed" ? "the other polarity" : "the drawn polarity"} and a path ${metres(Math.abs(runnerUp.offset))} ${runnerUp.offset < 0 ? "shorter" : "longer"}`;
  const ratio = runnerUp?.misfitRatio ?? Infinity;
  const ambiguous = ratio < AS_GOOD;
  return Object.freeze({
    code: ambiguous ? "time-zero-ambiguous" : "time-zero-fitted",
    message: `the delay of ${driver} against the others was fitted at ${where}: ${formatQuantity(delay, "s", { digits: 3 })}, known to ±${metres(offsetUncertainty)} of path; ${(100 * misfit).toFixed(1)} % of the louder branch is left`
      + `${second === undefined ? "" : ambiguous ? `; it isn't certain: ${second} fits ${ratio < 1 ? "better" : "nearly as well"} (${ratio.toFixed(2)} times what is left)` : `; the next best answer, ${second}, leaves ${ratio.toFixed(1)} times as much`}`
      + ". This measurement of the whole no longer checks the model",
    hint: ambiguous ? "Measure both drivers on one time zero, or state the delay" : "Measure on one time zero where the model is to be checked as well",
    parts: [driver],
  });
}

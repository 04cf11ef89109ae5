import { DividingNetworkError } from "../errors";
import { logGrid } from "../numeric";
import type { FrequencyResponse } from "../response";
import { bandWithout, freezeResponse } from "../response/internal";

/** Where a prediction is made, Hz: over all, and the part of it that each place has. */
export interface PredictionGrid {
  readonly grid: Float64Array;
  readonly ofPlace: readonly Float64Array[];
}

/** Hz: what all drivers cover at one place. */
interface Span {
  readonly low: number;
  readonly high: number;
}

/** One grid for every place, as it was asked for. */
export function sameEverywhere(grid: Float64Array, places: number): PredictionGrid {
  return { grid, ofPlace: Array.from({ length: places }, () => grid) };
}

/** The band that some place covers, given what was measured of each driver, place by place: a narrow file narrows its own place and no other; a measured impedance of the network narrows all. The grid of the measurements where they have one, else logarithmic. */
export function predictionGrid(
  places: readonly (readonly FrequencyResponse[])[],
  impedances: readonly FrequencyResponse[] = [],
): PredictionGrid {
  if (places.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      "predict: there must be a place at which every driver was measured, got none",
      "Measure all drivers at one place at least",
    );
  const spans = places.map((responses) => spanOf(responses, impedances));
  const whole: Span = { low: Math.min(...spans.map(({ low }) => low)), high: Math.max(...spans.map(({ high }) => high)) };
  const finest = places
    .flat()
    .map(({ frequencies }) => frequencies)
    .reduce((most, each) => (each.length > most.length ? each : most));
  const shared = places.every((responses, index) =>
    responses.every(({ frequencies }) => equal(within(frequencies, spans[index]!), within(finest, spans[index]!))),
  );
  const grid = shared
    ? within(finest, whole)
    : logGrid(whole.low, whole.high, Math.max(2, Math.ceil(48 * Math.log2(whole.high / whole.low)) + 1));
  const ofPlace = spans.map((span) => {
    const part = within(grid, span);
    if (part.length < 2)
      throw new DividingNetworkError(
        "not-measured",
        `predict: the drivers' measurements at one place share ${part.length === 1 ? "a single frequency" : "no frequency"} between ${span.low} Hz and ${span.high} Hz`,
        "Measure over a wider band there, or ask for the other places",
      );
    return part.length === grid.length ? grid : part;
  });
  return { grid, ofPlace };
}

/** The part of a response on a grid that is part of its own. */
export function partOf(response: FrequencyResponse, grid: Float64Array): FrequencyResponse {
  if (response.frequencies === grid) return response;
  const from = response.frequencies.indexOf(grid[0]!);
  return freezeResponse(
    grid,
    response.re.subarray(from, from + grid.length),
    response.im.subarray(from, from + grid.length),
    response.marks,
  );
}

/** The band that every measurement at a place covers and may be trusted in. */
function spanOf(responses: readonly FrequencyResponse[], impedances: readonly FrequencyResponse[]): Span {
  let [low, high] = [0, Infinity];
  for (const response of [...responses, ...impedances]) {
    low = Math.max(low, bandWithout(response, ["no-data"]).from);
    high = Math.min(high, response.frequencies.at(-1)!);
  }
  if (low < high) return { low, high };
  throw new DividingNetworkError(
    "not-measured",
    `predict: the drivers' measurements${impedances.length > 0 ? ", pressures and impedances," : ""} share no band: ${low < Infinity ? `one begins at ${low} Hz, another ends at ${high} Hz` : "one has no data"}`,
    "Measure both over the crossover region at least",
  );
}

function within(frequencies: Float64Array, { low, high }: Span): Float64Array {
  return frequencies.filter((frequency) => frequency >= low && frequency <= high);
}

function equal(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((frequency, index) => frequency === b[index]);
}

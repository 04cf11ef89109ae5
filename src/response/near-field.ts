import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { finiteResponse } from "./finite-response";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { mergeMarks } from "./merge-marks";
import { turn } from "./response-from-impulse";
import { checkSameGrid } from "./same-grid";

/** Where a near-field measurement is carried to. */
export interface FarFieldOptions {
  /** m: effective radius a of the radiator. */
  readonly radius: Length;
  /** m: distance r to carry it to. */
  readonly distance: Length;
  /** `"half"` (default): flush in a large baffle; `"full"`: radiating all around, 6 dB less. */
  readonly space?: "half" | "full" | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/**
 * Far-field response in the input's unit from one measured at the centre of the radiator, close to it.
 *
 * $$\frac{p_{far}}{p_{near}} = \frac{a}{2r}\, e^{-jk(r - a/2)}$$
 *
 * (a/4r into full space.) Valid to ka ≤ 1, above which the result is marked coarse: there the near pressure of a rigid piston lies
 * 0.36 dB below what the formula assumes (`nearFieldErrorDb`), and the far field begins to beam.
 *
 * @param near response at the centre of the radiator, any unit
 * @param options `radius` and `distance` in m or text with their unit
 * @returns the response at the distance, in the input's unit, with the path's delay in its phase
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`
 * Source: after Keele (1974).
 * @example
 * ```ts
 * import { farFieldFromNearField, frequencyResponse, levelDb } from "dividing-network/response";
 *
 * levelDb(farFieldFromNearField(frequencyResponse([100], [1], [0]), { radius: "82.5 mm", distance: "1 m" })); // [-27.691521]
 * ```
 */
export function farFieldFromNearField(near: FrequencyResponse, options: FarFieldOptions): FrequencyResponse {
  const caller = "farFieldFromNearField";
  const { frequencies, re, im, marks = [] } = checkResponse(caller, "near", near);
  const given = checkOptions(caller, options, ["radius", "distance", "space", "air"]);
  const a = inSi(caller, "radius", given.radius, "m", { above: 0, max: 10 });
  const r = inSi(caller, "distance", given.distance, "m", { above: a, max: 1e4 });
  const space = checkOneOf(caller, "space", given.space ?? "half", ["half", "full"]);
  const c = checkAir(caller, given.air).speedOfSound;
  const ratio = a / ((space === "half" ? 2 : 4) * r);
  const outRe = re.map((value) => value * ratio);
  const outIm = im.map((value) => value * ratio);
  turn(frequencies, outRe, outIm, -(r - a / 2) / c);
  const limit = c / (2 * Math.PI * a);
  const mark: Mark = Object.freeze({
    kind: "coarse",
    from: limit,
    note: `near field carried to ${r} m: valid to ka = 1, ${Number(limit.toPrecision(3))} Hz`,
  });
  return freezeResponse(frequencies, outRe, outIm, frequencies[frequencies.length - 1]! > limit ? [...marks, mark] : marks);
}

/**
 * What `farFieldFromNearField` reads too low, in dB, at a given ka: the pressure at the centre of a rigid piston in a baffle is
 * $2 \rho c u \sin(ka/2)$, not $\rho c u\, ka$.
 *
 * $$20 \lg \frac{\sin(ka/2)}{ka/2}$$
 *
 * @param ka wave number times radius, dimensionless, 0 to 3
 * @returns dB, 0 at ka = 0, negative above
 * @throws DividingNetworkError `invalid-argument`
 * Source: after Keele (1974); checked value recomputed.
 * @example
 * ```ts
 * import { nearFieldErrorDb } from "dividing-network/response";
 *
 * nearFieldErrorDb(1); // -0.364977
 * ```
 */
export function nearFieldErrorDb(ka: number): number {
  const x = checkNumber("nearFieldErrorDb", "ka", ka, { min: 0, max: 3 }) / 2;
  return x === 0 ? 0 : 20 * Math.log10(Math.sin(x) / x);
}

/** One radiator measured in its own near field. */
export interface NearFieldSource {
  /** As measured close to it. */
  readonly response: FrequencyResponse;
  /** m: effective radius, √(area/π). */
  readonly radius: Length;
}

/**
 * Near-field pressures of several radiators (cone, ports, passive radiators) as one, in their common unit, referred to the radius of the
 * first: complex values weighted by radius, since each reaches the far field with a/(2r). Carry the sum further with the
 * first one's radius.
 *
 * $$p = \sum_i \frac{a_i}{a_1}\, p_i$$
 *
 * With `spacing` (from the first radiator to each other one) bands are marked uncertain where the first one's sound, p₁·a₁/(2·spacing), comes
 * within 12 dB of the other's own at the other's microphone: such a measurement holds more of the cone than of the port.
 *
 * @param sources at least one response with its radius in m, all with the same frequencies, the same drive and one time zero
 * @param options `spacing` between the first radiator's centre and the others, m
 * @returns the sum in the responses' unit
 * @throws DividingNetworkError `invalid-argument`, `grid-mismatch`, `overflow`
 * Source: after Keele (1974).
 * @example
 * ```ts
 * import { combineNearFields, frequencyResponse } from "dividing-network/response";
 *
 * const cone = { response: frequencyResponse([40], [1], [0]), radius: "80 mm" } as const;
 * const port = { response: frequencyResponse([40], [0], [2]), radius: "20 mm" } as const;
 * combineNearFields([cone, port]).im; // [0.5]
 * ```
 */
export function combineNearFields(
  sources: readonly NearFieldSource[],
  options?: { readonly spacing?: Length | undefined },
): FrequencyResponse {
  const caller = "combineNearFields";
  if (!Array.isArray(sources) || sources.length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sources" must be an array of at least one { response, radius }, got ${show(sources)}`,
    );
  }
  const { spacing } = checkOptions(caller, options, ["spacing"]);
  const known = checkList(caller, "sources", sources as readonly NearFieldSource[], "{ response, radius }").map((source, i) => {
    const given = checkOptions(caller, source, ["response", "radius"]);
    return {
      response: checkResponse(caller, `sources[${i}].response`, given.response),
      radius: inSi(caller, `sources[${i}].radius`, given.radius, "m", { above: 0, max: 10 }),
    };
  });
  const first = known[0]!;
  const re = new Float64Array(first.response.re.length);
  const im = new Float64Array(re.length);
  const marks: Mark[] = [...mergeMarks(known.map(({ response }) => response))];
  for (const [index, { response, radius }] of known.entries()) {
    checkSameGrid(caller, first.response, response);
    const weight = radius / first.radius;
    for (let k = 0; k < re.length; k++) {
      re[k]! += weight * response.re[k]!;
      im[k]! += weight * response.im[k]!;
    }
    if (index === 0 || spacing === undefined) continue;
    const share = first.radius / (2 * inSi(caller, "spacing", spacing, "m", { above: 0, max: 100 }));
    for (const mark of leakageMarks(first.response, response, share, `radiator ${index + 1}`)) marks.push(mark);
  }
  return finiteResponse(caller, first.response.frequencies, re, im, marks);
}

function leakageMarks(first: FrequencyResponse, other: FrequencyResponse, share: number, name: string): Mark[] {
  const { frequencies } = first;
  const marks: Mark[] = [];
  const leaks = (k: number): boolean => Math.hypot(first.re[k]!, first.im[k]!) * share * 4 > Math.hypot(other.re[k]!, other.im[k]!);
  for (let k = 0; k < frequencies.length; k++) {
    if (!leaks(k)) continue;
    const from = frequencies[k]!;
    while (k + 1 < frequencies.length && leaks(k + 1)) k++;
    marks.push(
      Object.freeze({
        kind: "uncertain",
        from,
        to: frequencies[k]!,
        note: `the first radiator reaches the microphone of ${name} within 12 dB of its own sound`,
      }),
    );
  }
  return marks;
}

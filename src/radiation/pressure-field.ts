import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";
import { frequencyResponse, resample, type FrequencyResponse, type Mark } from "../response";
import { checkResponse } from "../response/internal";
import { checkField } from "./check-data";
import type { PressureField } from "./field-data";

/** A drive for each frequency: a response, or one number, or one complex number. */
export type Drive =
  | FrequencyResponse
  | number
  | {
      /** Real part. */
      readonly re: number;
      /** Imaginary part. */
      readonly im: number;
    };

/**
 * The response at one point of a field, in the field's unit.
 *
 * @param field what `pressureAt` gives
 * @param index which of its points, from 0, dimensionless
 * @returns the response there
 * @throws DividingNetworkError when there is no such point
 * @example
 * ```ts
 * import { pointSource, pressureAt, responseAtPoint } from "dividing-network/radiation";
 * import { levelDb } from "dividing-network/response";
 *
 * const field = pressureAt([pointSource()], [100, 1000], { points: [[1, 0, 0], [2, 0, 0]] });
 * levelDb(responseAtPoint(field, 1)); // [-6.0206, -6.0206]
 * ```
 */
export function responseAtPoint(field: PressureField, index = 0): FrequencyResponse {
  const { frequencies, points, re, im, marks } = checkField("responseAtPoint", "field", field);
  checkNumber("responseAtPoint", "index", index, { integer: true, min: 0, max: points.length - 1 });
  const n = frequencies.length;
  return frequencyResponse(frequencies, re.slice(index * n, index * n + n), im.slice(index * n, index * n + n), marks);
}

/**
 * The sum of several fields, each times a drive: what remains to be done when only the network changes and the places stay. In the unit
 * of the fields times that of the drives.
 *
 * @param fields one per source, from `pressureAt` with that source alone, all with the same frequencies and points
 * @param drives one per field: a response (brought to the frequencies by interpolation), a number or a complex number, in any unit
 * @returns the sum, with the marks of all
 * @throws DividingNetworkError when numbers of fields, drives, points or frequencies differ
 * @example
 * ```ts
 * import { combineFields, pointSource, pressureAt } from "dividing-network/radiation";
 *
 * const above = pressureAt([pointSource({ position: [0, 0, 0.1] })], [1000], { points: [[3, 0, 0]] });
 * const below = pressureAt([pointSource({ position: [0, 0, -0.1] })], [1000], { points: [[3, 0, 0]] });
 * combineFields([above, below], [1, -1]).re; // [0]
 * ```
 */
export function combineFields(fields: readonly PressureField[], drives: readonly Drive[]): PressureField {
  const lists: readonly unknown[] = [fields, drives];
  if (!lists.every((list) => Array.isArray(list)) || fields.length === 0 || fields.length !== drives.length) {
    throw new DividingNetworkError(
      "invalid-argument",
      `combineFields: "fields" and "drives" must be arrays of one length of at least 1, got ${show(fields)} and ${show(drives)}`,
    );
  }
  const own = fields.map((field, s) => checkField("combineFields", `fields[${s}]`, field));
  const { frequencies, points } = own[0]!;
  const n = frequencies.length;
  const re = new Float64Array(points.length * n);
  const im = new Float64Array(points.length * n);
  const marks: Mark[] = [];
  own.forEach((field, s) => {
    const same =
      field.points.length === points.length && field.points.every((point, p) => point.every((part, i) => part === points[p]![i]));
    if (!same || !sameFrequencies(field.frequencies, frequencies)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `combineFields: "fields" must have the same points and frequencies, got others at index ${s}`,
      );
    }
    const drive = driveOn("combineFields", drives[s], frequencies);
    addMarks(marks, field.marks);
    addMarks(marks, drive.marks);
    for (let i = 0; i < re.length; i++) {
      const f = i % n;
      re[i]! += field.re[i]! * drive.re[f]! - field.im[i]! * drive.im[f]!;
      im[i]! += field.re[i]! * drive.im[f]! + field.im[i]! * drive.re[f]!;
    }
  });
  return freezeField({ frequencies, points, re, im, errorEstimate: Math.max(...own.map((field) => field.errorEstimate)) }, marks);
}

/** A drive on a grid of frequencies; nothing given is 1. */
export function driveOn(caller: string, drive: Drive | undefined, frequencies: Float64Array): FrequencyResponse {
  if (typeof drive === "object" && drive !== null && "frequencies" in drive) {
    const own = checkResponse(caller, "drives", drive);
    return sameFrequencies(own.frequencies, frequencies) ? own : resample(own, frequencies);
  }
  const { re, im } = typeof drive === "object" && drive !== null ? drive : { re: drive ?? 1, im: 0 };
  checkNumber(caller, "drives", re);
  checkNumber(caller, "drives", im);
  return { frequencies, re: new Float64Array(frequencies.length).fill(re), im: new Float64Array(frequencies.length).fill(im) };
}

/** Whether two grids hold the same frequencies. */
export function sameFrequencies(a: Float64Array, b: Float64Array): boolean {
  return a === b || (a.length === b.length && a.every((value, i) => value === b[i]));
}

/** Adds the marks that are not in a list yet. */
export function addMarks(list: Mark[], marks: readonly Mark[] | undefined): void {
  for (const mark of marks ?? []) {
    if (!list.some((other) => other.kind === mark.kind && other.from === mark.from && other.to === mark.to && other.note === mark.note))
      list.push(mark);
  }
}

/** A frozen field, with its marks when there are any. */
export function freezeField<T extends object>(field: T, marks: readonly Mark[]): T & { readonly marks?: readonly Mark[] } {
  return Object.freeze(marks.length === 0 ? field : { ...field, marks: Object.freeze([...marks]) });
}

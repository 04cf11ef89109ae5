import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOptions, show } from "../errors/internal";
import type { LongWorkOptions } from "../numeric";
import { reportProgress } from "../numeric/internal";
import { airAbsorption, type Air, type GivenPoint, type Point } from "../physics";
import { checkAir, checkPoints } from "../physics/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import type { Mark } from "../response";
import { checkedGrid } from "../response/internal";
import { checkFlag } from "./check-data";
import { measuredField } from "./measured-field";
import { addMarks, driveOn, freezeField, type Drive } from "./pressure-field";
import type { PressureField } from "./field-data";
import { checkSource, type Source } from "./source";
import { addSourceField, fieldScratch } from "./source-field";

/** How sources are summed, apart from where. */
export interface SummationOptions extends LongWorkOptions {
  /** One per source: a response, a number or a complex number, in any unit (Pa at 1 m, say); default 1 each. */
  readonly drives?: readonly (Drive | undefined)[] | undefined;
  /**
   * Wanted error of each source's integral relative to the source in phase (its field if all elements arrived together, those of a source
   * with free edges counted whole), 1e-9 to 0.1; default 1e-6.
   */
  readonly tolerance?: number | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
  /** m, the height z of a rigid floor, which mirrors every source; default none. */
  readonly floor?: Length | undefined;
  /** Whether the air absorbs (over the distance from each source's centre); default false. It follows from the air's state, and humidity is 50 % where none is stated. */
  readonly absorption?: boolean | undefined;
}

/** The option names of `SummationOptions`. */
export const summationKeys = /* @__PURE__ */ Object.freeze([
  "drives",
  "tolerance",
  "air",
  "floor",
  "absorption",
  "onProgress",
  "signal",
] as const);

/**
 * The field of one or more sources at stated points, near or far: in 1/m per unit drive (see `Source`), in Pa when the drives are pressures
 * at 1 m or the sources measured. Extended sources are integrated by Gauss rules whose number of points follows from wavelength and
 * distance and is checked against a finer rule; `errorEstimate` is the largest difference found. A rigid floor adds each source's mirror
 * image.
 *
 * @param sources at least one
 * @param frequencies Hz, ascending, at least 0
 * @param options `points` in m (required; x towards the listener, y to the loudspeaker's own left, z up), and how to sum
 * @returns the field at the points, flat arrays, points × frequencies
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`; `point-on-source`; `below-floor`; `accuracy-not-reached`;
 *   `outside-measured-range` for a measured source; `too-large` beyond 2²⁶ values; `overflow`; `aborted`
 * @example
 * ```ts
 * import { lineSource, pressureAt } from "dividing-network/radiation";
 *
 * const near = pressureAt([lineSource({ length: 2 })], [5000], { points: [[0.5, 0, 0], [1, 0, 0]] });
 * const level = (p: number) => 20 * Math.log10(Math.hypot(near.re[p]!, near.im[p]!));
 * level(1) - level(0); // -3.039
 * ```
 */
export function pressureAt(
  sources: readonly Source[],
  frequencies: ArrayLike<number>,
  options: SummationOptions & { readonly points: readonly GivenPoint[] },
): PressureField {
  const given = checkOptions("pressureAt", options, ["points", ...summationKeys]);
  return sumAt("pressureAt", sources, frequencies, checkPoints("pressureAt", "points", given.points), given);
}

const mostValues = 2 ** 26;

/** `pressureAt` for other functions: the points are checked already, the options' names too. */
export function sumAt(
  caller: string,
  sources: readonly Source[],
  frequencies: ArrayLike<number>,
  points: readonly Point[],
  options: SummationOptions,
): PressureField {
  if (!Array.isArray(sources) || sources.length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sources" must be an array of at least one source, got ${show(sources)}`,
    );
  }
  checkList(caller, "sources", sources, "sources");
  const grid = checkedGrid(caller, frequencies);
  const tolerance = checkNumber(caller, "tolerance", options.tolerance ?? 1e-6, { min: 1e-9, max: 0.1 });
  const floor = options.floor === undefined ? undefined : inSi(caller, "floor", options.floor, "m");
  const drives: readonly (Drive | undefined)[] = options.drives ?? sources.map(() => undefined);
  if (!isList(drives) || drives.length !== sources.length) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "drives" must have one entry for each of the ${sources.length} sources, got ${show(drives)}`,
    );
  }
  const air = checkAir(caller, options.air);
  const c = air.speedOfSound;
  const wavenumbers = grid.map((f) => (2 * Math.PI * f) / c);
  const absorption = checkFlag(caller, "absorption", options.absorption);
  if (absorption && air.conditions === undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "air" must be { temperature, humidity, pressure } when the air absorbs, got ${show(Object.keys(options.air ?? {}).join(", "))}`,
      "State the air's state: absorption follows from it, not from speed and density",
    );
  }
  const absorbed = absorption ? grid.map((frequency) => (airAbsorption({ ...air.conditions, frequency }) * Math.LN10) / 20) : undefined;
  const n = grid.length;
  if (points.length * n > mostValues) {
    throw new DividingNetworkError(
      "too-large",
      `${caller}: points times frequencies must be at most ${mostValues}, got ${points.length} × ${n}`,
      "Ask for fewer at a time",
    );
  }
  const re = new Float64Array(points.length * n);
  const im = new Float64Array(points.length * n);
  const marks: Mark[] = [];
  const scratch = fieldScratch(n);
  let errorEstimate = 0;
  if (floor !== undefined) points.forEach(([, , z], p) => aboveFloor(caller, `points[${p}]`, z, floor));
  sources.forEach((candidate, s) => {
    const source = checkSource(caller, `sources[${s}]`, candidate);
    if (floor !== undefined) aboveFloor(caller, `sources[${s}]`, lowest(source), floor);
    const drive = driveOn(caller, drives[s], grid);
    addMarks(marks, drive.marks);
    const gain = (source.polarity === "reversed" ? -1 : 1) * 10 ** (source.gainDb / 20);
    const [driveRe, driveIm] = [new Float64Array(n), new Float64Array(n)];
    for (let f = 0; f < n; f++) {
      const [cos, sin] = [gain * Math.cos(2 * Math.PI * grid[f]! * source.delay), -gain * Math.sin(2 * Math.PI * grid[f]! * source.delay)];
      driveRe[f] = drive.re[f]! * cos - drive.im[f]! * sin;
      driveIm[f] = drive.re[f]! * sin + drive.im[f]! * cos;
    }
    const measured = source.shape.kind === "measured" ? measuredField(caller, source.shape.set, grid, c) : undefined;
    points.forEach((point, p) => {
      reportProgress(caller, options, s * points.length + p, sources.length * points.length);
      const images: readonly Point[] = floor === undefined ? [point] : [point, [point[0], point[1], 2 * floor - point[2]]];
      for (const image of images) {
        const local = toLocal(source, image);
        scratch.re.fill(0);
        scratch.im.fill(0);
        if (measured !== undefined) measured.add(local, scratch, marks);
        else if (source.dipolePath > 0) {
          const half = source.dipolePath / 2;
          for (const side of [1, -1]) {
            const error = addSourceField(
              caller,
              source,
              [local[0] - side * half, local[1], local[2]],
              wavenumbers,
              tolerance,
              side,
              scratch,
            );
            errorEstimate = Math.max(errorEstimate, error);
          }
        } else errorEstimate = Math.max(errorEstimate, addSourceField(caller, source, local, wavenumbers, tolerance, 1, scratch));
        // A measurement holds the air of its own path already.
        const distance = absorbed === undefined ? 0 : Math.hypot(...local) - (measured?.distance ?? 0);
        for (let f = 0, at = p * n; f < n; f++, at++) {
          const loss = absorbed === undefined ? 1 : Math.exp(-absorbed[f]! * distance);
          const a = scratch.re[f]! * loss;
          const b = scratch.im[f]! * loss;
          re[at]! += a * driveRe[f]! - b * driveIm[f]!;
          im[at]! += a * driveIm[f]! + b * driveRe[f]!;
        }
      }
    });
  });
  reportProgress(caller, options, sources.length * points.length, sources.length * points.length);
  for (let i = 0; i < re.length; i++) {
    if (Number.isFinite(re[i]) && Number.isFinite(im[i])) continue;
    throw new DividingNetworkError(
      "overflow",
      `${caller}: the field must be a finite number, got ${re[i]} + j(${im[i]}) at points[${Math.floor(i / n)}] and ${grid[i % n]} Hz`,
      "Bring frequencies, lengths and drives within what a number can hold",
    );
  }
  return freezeField({ frequencies: grid, points, re, im, errorEstimate }, marks);
}

/** `Array.isArray` without losing the type of the entries. */
function isList(value: unknown): boolean {
  return Array.isArray(value);
}

function toLocal({ position, axes }: Source, [x, y, z]: Point): [number, number, number] {
  const [dx, dy, dz] = [x - position[0], y - position[1], z - position[2]];
  const along = (axis: Point): number => dx * axis[0] + dy * axis[1] + dz * axis[2];
  return [along(axes[0]), along(axes[1]), along(axes[2])];
}

/** Height z of the lowest part of a source, m; of a bent one as if it were flat. */
function lowest({ shape, position, axes, dipolePath }: Source): number {
  const [tilt, side, up] = [axes[0][2], axes[1][2], axes[2][2]];
  let reach = (Math.abs(tilt) * dipolePath) / 2;
  if (shape.kind === "disc" || shape.kind === "ring") reach += shape.radius * Math.hypot(side, up);
  if (shape.kind === "rectangle") reach += (Math.abs(side) * shape.width + Math.abs(up) * shape.height) / 2;
  return position[2] - reach;
}

function aboveFloor(caller: string, what: string, height: number, floor: number): void {
  if (height < floor - 1e-9) {
    throw new DividingNetworkError(
      "below-floor",
      `${caller}: "${what}" must lie above the floor at z = ${floor} m, got ${height} m`,
      "Move it up, or lower the floor",
    );
  }
}

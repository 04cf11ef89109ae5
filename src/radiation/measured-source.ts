import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import { pointInDirection, type GivenPoint } from "../physics";
import { pointInSi } from "../physics/internal";
import type { Length, Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { estimateDelay, resample, type FrequencyResponse } from "../response";
import { checkResponse, freezeResponse } from "../response/internal";
import { checkFlag } from "./check-data";
import type { MeasuredHalf, MeasuredPlace, MeasuredSet } from "./measured-set";
import { sameFrequencies } from "./pressure-field";
import { placementKeys, placeSource, type Source, type SourcePlacement } from "./source";

/** One measurement at one angle. */
export interface MeasuredAngle {
  /** Degrees, −180 to 180: azimuth positive towards +y, or elevation positive up and on over the top. */
  readonly angle: number;
  /** Pa per unit of the drive (1 V, say), at the set's distance. */
  readonly response: FrequencyResponse;
  /** s, how much later than on the axis the sound arrives; default: estimated. */
  readonly delay?: Time | undefined;
}

/** Options of `measuredSource`. */
export interface MeasuredOptions extends SourcePlacement {
  /** m, from the rotation centre to the microphone. */
  readonly distance: Length;
  /** Must hold 0°, the axis. */
  readonly horizontal: readonly MeasuredAngle[];
  /** What it holds for 0° is not used. */
  readonly vertical?: readonly MeasuredAngle[] | undefined;
  /**
   * m, where the sound spreads from, counted from the rotation centre in the source's own coordinates (x along its axis, y to its left, z
   * up): a driver's place in a box that was turned as a whole. Default the rotation centre itself.
   */
  readonly acousticCentre?: GivenPoint | undefined;
  /** Whether the phase holds the flight to the microphone; default `"included"`. */
  readonly flight?: "included" | "removed" | undefined;
  /**
   * What stands in for a side without measurements: nothing, the other side of its plane, or that and then the other plane. Default
   * `"none"`.
   */
  readonly symmetry?: "none" | "mirror" | "axial" | undefined;
  /**
   * Degrees around the axis, 0 to 30; default 0. A point so near to a measured plane is answered even where the other plane was not measured as
   * far: of that one the outermost measurement is held, for its share of at most sin² of these degrees (3 % at 10°), and marked.
   */
  readonly planeToleranceDegrees?: number | undefined;
  /** Whether the outermost measurement is held beyond the measured angles; default false, which refuses. */
  readonly extrapolate?: boolean | undefined;
}

/**
 * A source made of measured responses over horizontal and vertical angles, Pa per unit drive. At a measured angle it gives the measurement
 * itself. Between two angles of a plane a bulk delay is removed, the complex values run on a cubic through the neighbours (a line where
 * there are none), and the delay, which runs on the same, is put back. Where the rest of the phase turns by more than 90° from one angle to
 * the next, and not beside a null (10 dB below the largest), nothing is known between them: that is refused. Between the planes, at an
 * angle φ around the axis, the value is a blend with weights cos²φ and sin²φ at the same angle off the axis: a model, and marked so.
 * The rotation centre is the source's position. The sound spreads from the acoustic centre, by default the same: only the difference to the
 * path in the measurement is added, as $\frac{d}{r}e^{-jk(r-d)}$, r and d counted from there, in the direction in which that centre sees the
 * point. Of a point source at its acoustic centre the field is then exact wherever it is asked for.
 *
 * @param options measuring distance in m; acoustic centre in m; responses over angles in degrees (azimuth positive towards +y, elevation positive up) in Pa per
 *   unit drive, all from one time zero; what to do where nothing was measured; and the placement: position in m (x towards the listener, y to
 *   the loudspeaker's own left, z up), rotation in degrees, polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is missing, unknown or out of range, an angle is given twice, or 0° is missing
 * @example
 * ```ts
 * import { measuredSource, pressureAt } from "dividing-network/radiation";
 * import { frequencyResponse } from "dividing-network/response";
 *
 * const level = (value: number) => frequencyResponse([1000, 2000], [value, value], [0, 0]);
 * const source = measuredSource({
 *   distance: "1 m", flight: "removed", symmetry: "axial",
 *   horizontal: [{ angle: 0, response: level(1) }, { angle: 30, response: level(0.5) }],
 * });
 * const field = pressureAt([source], [1000], { points: [[Math.cos(Math.PI / 12), Math.sin(Math.PI / 12), 0]] });
 * Math.hypot(field.re[0]!, field.im[0]!); // 0.875
 * ```
 */
export function measuredSource(options: MeasuredOptions): Source {
  const caller = "measuredSource";
  const given = checkOptions(caller, options, [
    ...placementKeys,
    "distance",
    "horizontal",
    "vertical",
    "acousticCentre",
    "flight",
    "symmetry",
    "planeToleranceDegrees",
    "extrapolate",
  ]);
  const distance = inSi(caller, "distance", given.distance, "m", { above: 0, max: 1e6 });
  const acousticCentre = pointInSi(caller, "acousticCentre", given.acousticCentre ?? [0, 0, 0]);
  checkNumber(caller, "distance of acousticCentre from the rotation centre", Math.hypot(...acousticCentre), { below: distance, unit: "m" });
  const horizontal = checkedCut("horizontal", given.horizontal);
  const axis = horizontal.find(({ angle }) => angle === 0);
  if (axis === undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "horizontal" must hold a measurement at 0°, the axis, got ${horizontal.length} others`,
      "Everything else is counted from it",
    );
  }
  const vertical = given.vertical === undefined ? [] : checkedCut("vertical", given.vertical);
  const path =
    (plane: "azimuth" | "elevation") =>
    (angle: number): number => {
      const [x, y, z] = pointInDirection({ [plane]: angle }, distance);
      const [cx, cy, cz] = acousticCentre;
      // Of the rotation centre itself the distance as it is, without rounding.
      return cx === 0 && cy === 0 && cz === 0 ? distance : Math.hypot(x - cx, y - cy, z - cz);
    };
  const [across, upright] = [withDelays(axis, horizontal, path("azimuth")), withDelays(axis, vertical, path("elevation"))];
  const symmetry = checkOneOf(caller, "symmetry", given.symmetry ?? "none", ["none", "mirror", "axial"]);
  const side = (cut: readonly MeasuredPlace[], sign: 1 | -1): MeasuredHalf | undefined => halfOf(cut, sign, symmetry !== "none");
  const own: (MeasuredHalf | undefined)[] = [side(across, 1), side(upright, 1), side(across, -1), side(upright, -1)];
  // With the axis alone there is one side that ends at 0°.
  if (!own.some((half) => half !== undefined)) own[0] = Object.freeze({ places: across, borrowed: false });
  const borrow = (i: number): MeasuredHalf | undefined => {
    const candidates = symmetry === "none" ? [i] : symmetry === "mirror" ? [i, (i + 2) % 4] : [i, (i + 2) % 4, (i + 1) % 4, (i + 3) % 4];
    const from = candidates.find((candidate) => own[candidate] !== undefined);
    return from === undefined ? undefined : Object.freeze({ ...own[from]!, borrowed: from !== i });
  };
  const set: MeasuredSet = Object.freeze({
    distance,
    acousticCentre,
    flight: checkOneOf(caller, "flight", given.flight ?? "included", ["included", "removed"]),
    halves: Object.freeze([borrow(0), borrow(1), borrow(2), borrow(3)] as const),
    planeTolerance: checkNumber(caller, "planeToleranceDegrees", given.planeToleranceDegrees ?? 0, { min: 0, max: 30, unit: "degrees" }),
    extrapolate: checkFlag(caller, "extrapolate", given.extrapolate),
  });
  return placeSource(caller, { kind: "measured", set }, "simple", given);
}

type Checked = { readonly angle: number; readonly response: FrequencyResponse; readonly delay: number | undefined };

function checkedCut(argument: string, cut: unknown): readonly Checked[] {
  if (!Array.isArray(cut) || cut.length === 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `measuredSource: "${argument}" must be an array of at least one { angle, response }, got ${show(cut)}`,
    );
  }
  const checked = checkList<unknown>("measuredSource", argument, cut, "{ angle, response }").map((entry, i) => {
    const where = `${argument}[${i}]`;
    const { angle, response, delay } = checkOptions("measuredSource", entry as Partial<MeasuredAngle>, ["angle", "response", "delay"]);
    return {
      angle: checkNumber("measuredSource", `${where}.angle`, angle, { min: -180, max: 180, unit: "degrees" }),
      response: checkResponse("measuredSource", `${where}.response`, response),
      delay: delay === undefined ? undefined : inSi("measuredSource", `${where}.delay`, delay, "s"),
    };
  });
  const sorted = checked.sort((a, b) => a.angle - b.angle);
  const twice = sorted.find((entry, i) => i > 0 && entry.angle === sorted[i - 1]!.angle);
  if (twice !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `measuredSource: "${argument}" must hold each angle once, got ${twice.angle}° twice`,
    );
  return sorted;
}

/** A cut with the axis, each angle with its delay against the axis and its path in m. */
function withDelays(axis: Checked, cut: readonly Checked[], path: (angle: number) => number): readonly MeasuredPlace[] {
  const others = cut
    .filter(({ angle }) => angle !== 0)
    .map(({ angle, response, delay }): MeasuredPlace =>
      Object.freeze({ angle, response, delay: delay ?? relativeDelay(response, axis.response), path: path(angle) }),
    );
  return Object.freeze(
    [...others, Object.freeze({ angle: 0, response: axis.response, delay: 0, path: path(0) })].sort((a, b) => a.angle - b.angle),
  );
}

/**
 * One side of a plane from the axis outwards, or nothing when that side was not measured. A symmetry makes up the neighbour across the axis.
 */
function halfOf(cut: readonly MeasuredPlace[], sign: 1 | -1, symmetric: boolean): MeasuredHalf | undefined {
  const outwards = cut.map((place) => Object.freeze({ ...place, angle: sign * place.angle + 0 })).sort((a, b) => a.angle - b.angle);
  const places = outwards.filter(({ angle }) => angle >= 0);
  if (places.length < 2) return undefined;
  const inner =
    outwards.filter(({ angle }) => angle < 0).at(-1)
    ?? (symmetric ? Object.freeze({ ...places[1]!, angle: -places[1]!.angle }) : undefined);
  return Object.freeze({ places: Object.freeze(places), borrowed: false, ...(inner === undefined ? {} : { inner }) });
}

/** Delay of one response against another, s: what the phase of their cross spectrum shows. */
function relativeDelay(response: FrequencyResponse, axis: FrequencyResponse): number {
  const { frequencies, re, im } = response;
  const low = axis.frequencies[0]!;
  const high = axis.frequencies[axis.frequencies.length - 1]!;
  const inside = frequencies.filter((f) => f >= low && f <= high);
  if (inside.length < 2) return 0;
  const other = sameFrequencies(inside, axis.frequencies) ? axis : resample(axis, inside);
  const start = frequencies.indexOf(inside[0]!);
  const crossRe = inside.map((_, i) => re[start + i]! * other.re[i]! + im[start + i]! * other.im[i]!);
  const crossIm = inside.map((_, i) => im[start + i]! * other.re[i]! - re[start + i]! * other.im[i]!);
  return estimateDelay(freezeResponse(inside, crossRe, crossIm));
}

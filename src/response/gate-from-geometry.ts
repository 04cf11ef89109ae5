import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import type { Air } from "../physics";
import { checkAir } from "../physics/internal";
import { startWorking, type Length, type Working } from "../quantity";
import { inSi } from "../quantity/internal";
import type { Mark } from "./mark";
import { gateMarks } from "./gate-marks";

/** Where the loudspeaker and the microphone stand. */
export interface GateGeometry {
  /** m: straight line from the source to the microphone. */
  readonly distance: Length;
  /** m above the floor. */
  readonly sourceHeight: Length;
  /** m above the floor. */
  readonly microphoneHeight: Length;
  /** m above the floor; left out where there is none. */
  readonly ceilingHeight?: Length | undefined;
  /** Other flat surfaces: the distance of the source and of the microphone from each, in m. */
  readonly walls?:
    | readonly {
        /** What the surface is called. */
        readonly name: string;
        /** m: how far the source is from it. */
        readonly source: Length;
        /** m: how far the microphone is from it. */
        readonly microphone: Length;
      }[]
    | undefined;
  /** The air: `{ temperature, humidity, pressure }` in °C, % and Pa, or `{ speedOfSound, density }` in m/s and kg/m³; default dry, 20 °C. */
  readonly air?: Air | undefined;
}

/** One reflection off a flat surface. */
export interface Reflection {
  /** Where the sound was reflected. */
  readonly surface: string;
  /** m beyond the direct path. */
  readonly extraPath: number;
  /** s after the direct sound. */
  readonly delay: number;
}

/** The time that is free of reflections, and what it allows. */
export interface Gate {
  /** s from the direct sound to the first reflection. */
  readonly duration: number;
  /** The surface that ends it. */
  readonly surface: string;
  /** Hz: 1/T; below it there is no data. */
  readonly lowestFrequency: number;
  /** Hz: 3/T; up to it the data are coarse. */
  readonly coarseBelow: number;
  /** All reflections, first to last. */
  readonly reflections: readonly Reflection[];
  /** The two marks for a frequency response. */
  readonly marks: readonly Mark[];
  /** How each number came about. */
  readonly working: Working;
}

const source = "derived here: mirror image of the source behind the floor";

/**
 * The reflection-free time in seconds of a measurement, from where things stand: each flat surface reflects as a mirror.
 *
 * $$T = \min \frac{\sqrt{d^2 + 4 a b} - d}{c}$$
 *
 * with d the straight distance, a and b the distances of the source and of the microphone from the surface. Below 1/T a
 * gated measurement holds no data, from 1/T to 3/T only coarse ones.
 *
 * @param geometry lengths in m or text with their unit, the `air`
 * @returns the duration in s, the limits in Hz, the reflections and the working
 * @throws DividingNetworkError `invalid-argument`; `impossible-geometry` when the heights differ by more than the distance
 * Source: mirror image; checked value recomputed.
 * @example
 * ```ts
 * import { gateFromGeometry } from "dividing-network/response";
 *
 * const gate = gateFromGeometry({ distance: "1 m", sourceHeight: "1 m", microphoneHeight: "1 m", air: { speedOfSound: 343 } });
 * gate.lowestFrequency; // 277.492829
 * ```
 */
export function gateFromGeometry(geometry: GateGeometry): Gate {
  const caller = "gateFromGeometry";
  const given = checkOptions(caller, geometry, ["distance", "sourceHeight", "microphoneHeight", "ceilingHeight", "walls", "air"]);
  const length = (name: string, value: unknown): number => inSi(caller, name, value, "m", { above: 0, max: 1000 });
  const d = length("distance", given.distance);
  const h1 = length("sourceHeight", given.sourceHeight);
  const h2 = length("microphoneHeight", given.microphoneHeight);
  const c = checkAir(caller, given.air).speedOfSound;
  const surfaces: { name: string; a: number; b: number }[] = [{ name: "floor", a: h1, b: h2 }];
  if (given.ceilingHeight !== undefined) {
    const top = length("ceilingHeight", given.ceilingHeight);
    if (top <= Math.max(h1, h2))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "ceilingHeight" must be above both heights, in m, got ${show(given.ceilingHeight)}`,
      );
    surfaces.push({ name: "ceiling", a: top - h1, b: top - h2 });
  }
  const walls: unknown = given.walls ?? [];
  if (!Array.isArray(walls))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "walls" must be an array of { name, source, microphone } in m, got ${show(walls)}`,
    );
  for (const [i, wall] of (given.walls ?? []).entries()) {
    const known = checkOptions(caller, wall, ["name", "source", "microphone"]);
    surfaces.push({
      name: String(known.name ?? `wall ${i + 1}`),
      a: length(`walls[${i}].source`, known.source),
      b: length(`walls[${i}].microphone`, known.microphone),
    });
  }
  for (const { name, a, b } of surfaces) {
    if (Math.abs(a - b) > d * (1 + 1e-12)) {
      throw new DividingNetworkError(
        "impossible-geometry",
        `${caller}: "distance" must be at least the difference of the distances from the ${name}, ${Math.abs(a - b)} m, got ${d} m`,
        "Give the straight line from the source to the microphone",
      );
    }
  }
  const reflections = surfaces
    .map(({ name, a, b }) => {
      const extraPath = (4 * a * b) / (Math.sqrt(d * d + 4 * a * b) + d);
      return Object.freeze({ surface: name, extraPath, delay: extraPath / c, a, b });
    })
    .sort((p, q) => p.delay - q.delay);
  const first = reflections[0]!;
  const working = startWorking();
  const extra = working.step(
    "Δ",
    "m",
    { formula: "√(d² + 4·a·b) − d", tex: "\\Delta = \\sqrt{d^2 + 4ab} - d", source },
    { d: [d, "m"], a: [first.a, "m"], b: [first.b, "m"] },
    (v) => (4 * v.a * v.b) / (Math.sqrt(v.d * v.d + 4 * v.a * v.b) + v.d),
  );
  const duration = working.step(
    "T",
    "s",
    { formula: "Δ / c", tex: "T = \\Delta / c", source },
    { Δ: [extra, "m"], c: [c, "m/s"] },
    (v) => v.Δ / v.c,
  );
  const lowestFrequency = working.step("f", "Hz", { formula: "1 / T", tex: "f = 1/T", source }, { T: [duration, "s"] }, (v) => 1 / v.T);
  return Object.freeze({
    duration,
    surface: first.surface,
    lowestFrequency,
    coarseBelow: 3 * lowestFrequency,
    reflections: Object.freeze(reflections.map(({ surface, extraPath, delay }) => Object.freeze({ surface, extraPath, delay }))),
    marks: gateMarks(duration),
    working: working.done(),
  });
}

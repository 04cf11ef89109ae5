import { DividingNetworkError } from "../errors";
import { axisIndex } from "./polar-map";
import type { PolarMap } from "./field-data";

/** Half a polar map, from the axis outwards: rows of the map by angle off the axis. */
export interface Meridian {
  readonly map: PolarMap;
  /** Degrees off the axis, ascending from 0. */
  readonly angles: number[];
  readonly rows: number[];
}

/** The halves of a map that have data off the axis; 180° counts for both when either end holds it. */
export function meridians(caller: string, map: PolarMap): Meridian[] {
  axisIndex(caller, map);
  const last = map.angles.length - 1;
  const rear = Math.abs(map.angles[last]!) === 180 ? last : map.angles[0] === -180 ? 0 : -1;
  return ([1, -1] as const).flatMap((sign) => {
    const off = (i: number): number => Math.abs(map.angles[i]!);
    const rows = [...map.angles.keys()]
      .filter((i) => map.angles[i]! * sign >= -1e-9 && off(i) < 180 - 1e-9)
      .sort((a, b) => off(a) - off(b));
    if (rows.length < 2) return [];
    if (rear >= 0) rows.push(rear);
    return [{ map, rows, angles: rows.map((i) => Math.abs(map.angles[i]!)) }];
  });
}

/** Mean squares at an angle of a map over frequency; between two angles the level in dB is interpolated linearly. */
export function squaresAt(caller: string, map: PolarMap, angle: number): Float64Array {
  const n = map.frequencies.length;
  const row = (i: number): Float64Array => map.re.slice(i * n, i * n + n).map((value, f) => value * value + map.im[i * n + f]! ** 2);
  const turned = Math.abs(angle) === 180 && !map.angles.includes(angle) ? -angle : angle;
  const above = map.angles.findIndex((candidate) => candidate >= turned - 1e-9);
  if (above >= 0 && Math.abs(map.angles[above]! - turned) <= 1e-9) return row(above);
  // One end at ±180° closes the circle for the other, where that lies on its own side of the axis.
  const last = map.angles.length - 1;
  const seam =
    (above < 0 && map.angles[0] === -180 && map.angles[last]! > 0) || (above === 0 && map.angles[last] === 180 && map.angles[0]! < 0);
  if (above <= 0 && !seam) {
    throw new DividingNetworkError(
      "missing-angle",
      `${caller}: the ${map.plane} map must reach ${angle}°, got angles from ${map.angles[0]}° to ${map.angles[last]}°`,
      "Compute or measure the map over the whole circle",
    );
  }
  const [low, high] = !seam ? [map.angles[above - 1]!, map.angles[above]!] : above < 0 ? [map.angles[last]!, 180] : [-180, map.angles[0]!];
  const [a, b] = !seam ? [row(above - 1), row(above)] : [row(last), row(0)];
  const t = (turned - low) / (high - low);
  return a.map((square, f) => square ** (1 - t) * b[f]! ** t);
}

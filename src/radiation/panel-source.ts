import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { placementKeys, placeSource, type Mounting, type Source, type SourcePlacement } from "./source";

/** Options of `panelSource`. */
export interface PanelOptions extends SourcePlacement {
  /** m, along the source's own y. */
  readonly width: Length;
  /** m, along the source's own z; along the arc when bent. */
  readonly height: Length;
  /** m, radius of an arc in the source's own x–z plane: positive bulges towards the listener, negative is hollow. Default: flat. */
  readonly bendRadius?: Length | undefined;
  /** Default `"simple"`; a bent source cannot sit in a flat baffle. */
  readonly mounting?: Mounting | undefined;
}

/** Options of `lineSource`. */
export interface LineOptions extends SourcePlacement {
  /** m, along the source's own z; along the arc when bent. */
  readonly length: Length;
  /** m; default 0. */
  readonly width?: Length | undefined;
  /** m; see `PanelOptions`. */
  readonly bendRadius?: Length | undefined;
  /** Default `"simple"`; a bent source cannot sit in a flat baffle. */
  readonly mounting?: Mounting | undefined;
}

/**
 * A rectangular panel that moves as one, flat or bent to an arc in its vertical plane, of any width. Its field at unit drive is
 * $\frac{1}{WH}\iint \frac{e^{-jkR}}{R}\,dy\,dz$, 1/m, near or far: close to a tall panel the level falls by 3 dB per doubling of distance,
 * far away by 6 dB.
 *
 * @param options width and height in m (required), bend radius in m, mounting, and the placement: position in m (x towards the listener,
 *   y to the loudspeaker's own left, z up), rotation in degrees, polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { panelSource, pressureAt } from "dividing-network/radiation";
 *
 * const panel = panelSource({ width: "0.3 m", height: "1.5 m" });
 * pressureAt([panel], [0], { points: [[1, 0, 0]] }).re; // [0.9212]
 * ```
 */
export function panelSource(options: PanelOptions): Source {
  const given = checkOptions("panelSource", options, [...placementKeys, "width", "height", "bendRadius", "mounting"]);
  const width = inSi("panelSource", "width", given.width, "m", { min: 0 });
  const height = inSi("panelSource", "height", given.height, "m", { above: 0 });
  return rectangle("panelSource", width, height, given);
}

/**
 * A line source: a panel of stated length and no width (or a small one), straight or bent to an arc. Its field at unit drive tends to
 * $\frac{\sin x}{x}\,e^{-jkr}/r$, 1/m, with $x = (kL/2)\sin\theta$, far away.
 *
 * @param options length in m (required), width in m, bend radius in m, mounting, and the placement: position in m (x towards the listener,
 *   y to the loudspeaker's own left, z up), rotation in degrees, polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { lineSource, pressureAt } from "dividing-network/radiation";
 *
 * // asinh(L / 2d) · 2 / L is the static limit.
 * pressureAt([lineSource({ length: 2 })], [0], { points: [[1, 0, 0]] }).re; // [0.881374]
 * ```
 */
export function lineSource(options: LineOptions): Source {
  const given = checkOptions("lineSource", options, [...placementKeys, "length", "width", "bendRadius", "mounting"]);
  const width = inSi("lineSource", "width", given.width ?? 0, "m", { min: 0 });
  const length = inSi("lineSource", "length", given.length, "m", { above: 0 });
  return rectangle("lineSource", width, length, given);
}

function rectangle(
  caller: string,
  width: number,
  height: number,
  given: SourcePlacement & { bendRadius?: Length; mounting?: Mounting },
): Source {
  const mounting = given.mounting ?? "simple";
  if (given.bendRadius === undefined) return placeSource(caller, { kind: "rectangle", width, height }, mounting, given);
  const bendRadius = inSi(caller, "bendRadius", given.bendRadius, "m", { min: -1e6, max: 1e6 });
  checkNumber(caller, "bendRadius", Math.abs(bendRadius), { min: height / (2 * Math.PI), unit: "m (a full circle) in size" });
  if (mounting === "baffle") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "mounting" must be "simple" or "free-edge" for a bent source, got "baffle"`,
      "A bent source does not lie in the plane of a baffle",
    );
  }
  return placeSource(caller, { kind: "rectangle", width, height, bendRadius }, mounting, given);
}

import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { cosDegrees } from "../physics/internal";
import { startWorking, type Working } from "../quantity";
import { twoSources, type TwoSourceOptions } from "./two-source-lobes";

/** The angles around the axis within which two sources stay close to their level on it. */
export interface TwoSourceWindow {
  /** Degrees upwards, 0 to 90. */
  readonly up: number;
  /** Degrees downwards, 0 to 90. */
  readonly down: number;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * The window around the axis, degrees up and down, within which two equally loud point sources one above the other stay within ±x dB of
 * their level on the axis, far away: the first angles at which $|\cos\frac{kd\sin\theta+\psi}2| = 10^{\pm x/20}|\cos\frac\psi2|$, ψ being
 * the lead of the upper source. In phase it is $\sin\theta = \frac{\lambda}{\pi d}\arccos 10^{-x/20}$ on both sides.
 *
 * @param options spacing in m, frequency in Hz, lead of the upper source in degrees, `withinDb` x in dB, and the `air`
 * @returns degrees up and down (90 when the level never leaves the band), and the working
 * @throws DividingNetworkError when an option is missing, unknown or out of range, or when the axis is a null
 * @example
 * ```ts
 * import { twoSourceWindow } from "dividing-network/radiation";
 *
 * twoSourceWindow({ spacing: "0.15 m", frequency: "3 kHz", withinDb: 3, air: { speedOfSound: 343 } }).up; // 10.968396
 * ```
 */
export function twoSourceWindow(options: Omit<TwoSourceOptions, "levelDifferenceDb"> & { readonly withinDb: number }): TwoSourceWindow {
  const caller = "twoSourceWindow";
  const { withinDb, ...place } = checkOptions(caller, options, ["spacing", "frequency", "phaseDegrees", "withinDb", "air"]);
  const x = checkNumber(caller, "withinDb", withinDb, { above: 0, max: 100, unit: "dB" });
  const { d, f, c, lead } = twoSources(caller, place, ["spacing", "frequency", "phaseDegrees", "air"]);
  const axis = cosDegrees(lead / 2);
  if (axis === 0) {
    throw new DividingNetworkError(
      "axis-is-null",
      `${caller}: "phaseDegrees" must leave sound on the axis, got ${show(place.phaseDegrees)}`,
      "Reverse one source",
    );
  }
  const working = startWorking();
  const source = "derived here: two equal point sources, far field";
  const side = (symbol: string, sign: 1 | -1): number => {
    // Towards the source that lags the level first rises to its peak; it may leave the band there.
    const rises = sign * lead < 0 && axis * 10 ** (x / 20) <= 1;
    const sine = working.step(
      `sin ${symbol}`,
      "",
      {
        formula: `(2 side acos(10^(${rises ? "+" : "−"}x/20) cos(ψ/2)) − ψ) c / (2π f d)`,
        tex: `\\sin\\theta = \\frac{c}{2\\pi f d}\\left(\\pm 2\\arccos(10^{${rises ? "" : "-"}x/20}\\cos\\tfrac\\psi2) - \\psi\\right)`,
        source,
        note: "angles in radians",
      },
      { x: [x, "dB"], ψ: [(lead * Math.PI) / 180, "rad"], c: [c, "m/s"], f: [f, "Hz"], d: [d, "m"], side: [rises ? -sign : sign, ""] },
      ({ x, ψ, c, f, d, side }) =>
        ((2 * side * Math.acos(Math.min(1, 10 ** ((rises ? x : -x) / 20) * Math.cos(ψ / 2))) - ψ) * c) / (2 * Math.PI * f * d),
    );
    if (Math.abs(sine) >= 1) return 90;
    return working.step(
      symbol,
      "°",
      { formula: `|asin(sin ${symbol})|`, tex: "\\theta = |\\arcsin(\\sin\\theta)|", source },
      { [`sin ${symbol}`]: [sine, ""] },
      (v) => (Math.abs(Math.asin(v[`sin ${symbol}`]!)) * 180) / Math.PI,
    );
  };
  const up = side("θ up", 1);
  const down = side("θ down", -1);
  return Object.freeze({ up, down, working: working.done() });
}

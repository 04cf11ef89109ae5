import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { startWorking, type Working } from "../quantity";
import { twoSources, type TwoSourceOptions } from "./two-source-lobes";

/** Options of `lobeTilt`. */
export interface LobeTiltOptions extends Pick<TwoSourceOptions, "spacing" | "frequency" | "air"> {
  /** Order of both filters, 1 to 12: Butterworth of any order, Linkwitz–Riley of even order. */
  readonly order: number;
  /** Of the two drivers; default `"same"`. */
  readonly polarity?: "same" | "reversed" | undefined;
  /** Which of the two stands above; default the one of the high-pass. */
  readonly above?: "high-pass" | "low-pass" | undefined;
}

/** Where the main lobe of a crossover points. */
export interface LobeTilt {
  /** Degrees by which the upper source leads, in (−180, 180]. */
  readonly phaseDegrees: number;
  /** Degrees of elevation, positive up; `undefined` when no direction within ±90° is in phase. At ±180° of lead the lobe that points up. */
  readonly tilt: number | undefined;
  /** How each number came about. */
  readonly working: Working;
}

/**
 * Tilt of the main lobe at the crossover frequency, degrees of elevation (positive up), for two coplanar drivers one above the other, far
 * away. Of two filters of order n over one denominator (Butterworth, Linkwitz–Riley) the high-pass leads the low-pass by n·90° at all
 * frequencies: odd orders leave ±90°, and the lobe tilts by $\arcsin(\lambda/4d)$ to the driver that lags; even orders of the right
 * polarity leave 0° and no tilt.
 *
 * @param options order, spacing in m, crossover frequency in Hz, polarity, which driver is above, and the `air`
 * @returns lead of the upper source in degrees, tilt in degrees, and the working
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { lobeTilt } from "dividing-network/radiation";
 *
 * lobeTilt({ order: 3, spacing: "0.15 m", frequency: "3 kHz", air: { speedOfSound: 343 } }).tilt; // 10.985208
 * lobeTilt({ order: 4, spacing: "0.15 m", frequency: "3 kHz" }).tilt; // 0
 * ```
 */
export function lobeTilt(options: LobeTiltOptions): LobeTilt {
  const caller = "lobeTilt";
  const {
    order: given,
    polarity,
    above,
    ...place
  } = checkOptions(caller, options, ["order", "spacing", "frequency", "polarity", "above", "air"]);
  const order = checkNumber(caller, "order", given, { integer: true, min: 1, max: 12 });
  const { d, f, c } = twoSources(caller, place, ["spacing", "frequency", "air"]);
  const reversal = checkOneOf(caller, "polarity", polarity ?? "same", ["same", "reversed"]) === "reversed" ? 180 : 0;
  const side = checkOneOf(caller, "above", above ?? "high-pass", ["high-pass", "low-pass"]) === "high-pass" ? 1 : -1;
  const working = startWorking();
  const source = "two point sources, far field; after Linkwitz (1976)";
  const phaseDegrees = working.step(
    "ψ",
    "°",
    {
      formula: "side (90° n + reversal) − 360° m",
      tex: "\\psi = \\pm(n\\cdot 90^\\circ + \\psi_0) - m\\cdot 360^\\circ",
      source: "derived here: the ratio of high-pass to low-pass is (s/ω₀)ⁿ",
      note: "m whole turns are left out",
    },
    { n: [order, ""], reversal: [reversal, "°"], side: [side, ""], m: [Math.ceil((side * (order * 90 + reversal)) / 360 - 0.5), ""] },
    ({ n, reversal, side, m }) => side * (n * 90 + reversal) - 360 * m,
  );
  const sine = working.step(
    "sin θ",
    "",
    { formula: "−ψ c / (360° f d)", tex: "\\sin\\theta = -\\frac{\\psi c}{360^\\circ f d}", source },
    { ψ: [phaseDegrees === 180 ? -180 : phaseDegrees, "°"], c: [c, "m/s"], f: [f, "Hz"], d: [d, "m"] },
    ({ ψ, c, f, d }) => (ψ === 0 ? 0 : (-ψ * c) / (360 * f * d)),
  );
  // A lobe straight up or down is one even when rounding puts its sine a hair beyond 1.
  const tilt =
    Math.abs(sine) > 1 + 1e-12
      ? undefined
      : working.step(
          "θ",
          "°",
          { formula: "asin(sin θ)", tex: "\\theta = \\arcsin(\\sin\\theta)", source },
          { "sin θ": [sine, ""] },
          (v) => (Math.asin(Math.max(-1, Math.min(1, v["sin θ"]))) * 180) / Math.PI,
        );
  return Object.freeze({ phaseDegrees, tilt, working: working.done() });
}

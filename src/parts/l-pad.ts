import { fewDigits, amplitudeExcess, inSi } from "../quantity/internal";
import { checkNumber, checkOptions } from "../errors/internal";
import { formatQuantity, type Power, type Resistance } from "../quantity";
import { padSeriesLaw, padShuntLaw } from "./basic-laws";
import type { PartKind } from "./kind";
import type { PartBranch } from "./law";
import { padSeries, padShunt } from "./pad-resistances";
import { listed, rated } from "./words";

/** Two resistors that attenuate a load and keep the resistance seen from the input. Terminals: input, output, common. */
export interface LPad {
  /** Marks an L-pad. */
  readonly kind: "l-pad";
  /** dB, ≥ 0. */
  readonly attenuationDb: number;
  /** Ω: the load for which it is made. */
  readonly load: number;
  /** Ω, between input and output. */
  readonly series: number;
  /** Ω, between output and common; absent at 0 dB, where there is none. */
  readonly shunt?: number;
  /** W: the heat that it may turn out, as rated; absent: not known. */
  readonly power?: number | undefined;
}

/**
 * An L-pad: with $k = 10^{A/20}$ it has $R_s = R(1 - 1/k)$ in series and $R_p = R/(k - 1)$ across the load, so that
 * the input sees R. After standard attenuator theory.
 *
 * @param options `attenuationDb` in dB (0 dB or more), `load` in Ω (above 0 Ω); `power`: W that it is rated for, default not known
 * @returns the part with its resistances in Ω; three terminals: input, output, common
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { lPad } from "dividing-network";
 *
 * lPad({ attenuationDb: 6, load: "8 Ω" }).series; // 3.9905
 * ```
 */
export function lPad(options: { readonly attenuationDb: number; readonly load: Resistance; readonly power?: Power | undefined }): LPad {
  const { power } = checkOptions("lPad", options, ["attenuationDb", "load", "power"]);
  const attenuationDb = checkNumber("lPad", "attenuationDb", options?.attenuationDb, { min: 0, max: 200, unit: "dB" });
  const load = inSi("lPad", "load", options.load, "Ω", { above: 0 });
  const series = padSeries(load, -amplitudeExcess(-attenuationDb));
  const shunt = padShunt(load, amplitudeExcess(attenuationDb));
  // Below 1e-300 dB the resistance across the load is beyond any number: there is none, as at 0 dB.
  return Object.freeze({
    kind: "l-pad",
    attenuationDb,
    load,
    series,
    ...(Number.isFinite(shunt) ? { shunt } : {}),
    ...(power === undefined ? {} : { power: inSi("lPad", "power", power, "W", { above: 0 }) }),
  });
}

export const lPadKind: PartKind<LPad> = {
  rated: "power",
  heats: () => true,
  terminals: () => ["input", "output", "common"],
  remark: (part) => `pad of ${part.attenuationDb} dB for ${part.load} ohm`,
  noun: "L-pad",
  maker: "lPad",
  joins: "nodes",
  apart: [
    [0, 1],
    [1, 2],
  ],
  expand(part) {
    const branches: PartBranch[] = [{ from: 0, to: 1, law: padSeriesLaw, values: [part.series] }];
    if (part.shunt !== undefined) branches.push({ from: 1, to: 2, law: padShuntLaw, values: [part.shunt] });
    return { terminals: 3, branches };
  },
  words: (part) => [
    `L-pad ${fewDigits(part.attenuationDb)} dB for ${formatQuantity(part.load, "Ω")}`,
    listed(
      `${formatQuantity(part.series, "Ω")} in series${part.shunt === undefined ? "" : `, ${formatQuantity(part.shunt, "Ω")} across the load`}`,
      rated(part.power, "W"),
    ),
  ],
  symbols: ({ series, shunt }) => [
    { suffix: "series", symbol: "resistor", value: formatQuantity(series, "Ω"), from: 0, to: 1 },
    ...(shunt === undefined ? [] : [{ suffix: "shunt", symbol: "resistor", value: formatQuantity(shunt, "Ω"), from: 1, to: 2 } as const]),
  ],
  chosen: true,
  mistaken: [0, 1],
};

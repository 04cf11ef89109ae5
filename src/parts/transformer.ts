import { fewDigits, inSi } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { formatQuantity, type Inductance, type Resistance } from "../quantity";
import { primaryWindingLaw, secondaryWindingLaw } from "./basic-laws";
import type { PartKind } from "./kind";

/** A transformer. Terminals: primary dot, primary end, secondary dot, secondary end. */
export type Transformer =
  | {
      /** Marks a transformer, ideal. */
      readonly kind: "transformer";
      /** Primary to secondary turns, dimensionless, not 0. */
      readonly ratio: number;
    }
  | {
      /** Marks a transformer of two windings. */
      readonly kind: "transformer";
      /** H. */
      readonly primaryInductance: number;
      /** H. */
      readonly secondaryInductance: number;
      /** Coupling factor, dimensionless. */
      readonly k: number;
      /** Ω. */
      readonly primaryResistance: number;
      /** Ω. */
      readonly secondaryResistance: number;
    };

/** What `transformer` takes: an ideal ratio, or two coupled windings. */
export type TransformerOptions =
  | {
      /** Primary to secondary turns, dimensionless, not 0. */
      readonly ratio: number;
    }
  | {
      /** H, above 0. */
      readonly primaryInductance: Inductance;
      /** H, above 0. */
      readonly secondaryInductance: Inductance;
      /** Coupling factor between −1 and 1, dimensionless. */
      readonly k: number;
      /** Ω, default 0. */
      readonly primaryResistance?: Resistance | undefined;
      /** Ω, default 0. */
      readonly secondaryResistance?: Resistance | undefined;
    };

/**
 * A transformer: ideal, $V_1 = n V_2$ and $I_2 = -n I_1$, or two windings with inductance (H), coupling factor and
 * resistance (Ω). An autotransformer is one whose windings are joined by its nodes: for a tapped coil, the end of the
 * first winding and the dot of the second share the tap's node.
 *
 * @param options `ratio`: primary to secondary turns (dimensionless, not 0); or `primaryInductance`,
 *   `secondaryInductance` in H, `k` in −1 … 1 (dimensionless), `primaryResistance`, `secondaryResistance` in Ω (default 0 Ω)
 * @returns the part; four terminals: primary dot, primary end, secondary dot, secondary end
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { network, resistor, solve, transformer, valueAt } from "dividing-network";
 *
 * const stepDown = network({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s", "gnd"], R1: [resistor(4), "s", "gnd"] });
 * valueAt(solve(stepDown, [100, 1000]).impedance, 1000).re; // 16
 * ```
 */
export function transformer(options: TransformerOptions): Transformer {
  const caller = "transformer";
  if (typeof options === "object" && options !== null && "ratio" in options) {
    checkOptions(caller, options, ["ratio"]);
    const ratio = checkNumber(caller, "ratio", options.ratio);
    if (ratio === 0)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "ratio" must be a finite number other than 0, got 0`,
        "Give primary turns over secondary turns, negative when the secondary is reversed",
      );
    return Object.freeze({ kind: "transformer", ratio });
  }
  checkOptions(caller, options, ["primaryInductance", "secondaryInductance", "k", "primaryResistance", "secondaryResistance"]);
  return Object.freeze({
    kind: "transformer",
    primaryInductance: inSi(caller, "primaryInductance", options?.primaryInductance, "H", { above: 0 }),
    secondaryInductance: inSi(caller, "secondaryInductance", options.secondaryInductance, "H", { above: 0 }),
    k: checkNumber(caller, "k", options.k, { above: -1, below: 1 }),
    primaryResistance: inSi(caller, "primaryResistance", options.primaryResistance ?? 0, "Ω"),
    secondaryResistance: inSi(caller, "secondaryResistance", options.secondaryResistance ?? 0, "Ω"),
  });
}

export const transformerKind: PartKind<Transformer> = {
  noun: "transformer",
  maker: "transformer",
  joins: "nodes",
  apart: [
    [0, 1],
    [2, 3],
  ],
  mistaken: [2, 3],
  link: (part) => ("ratio" in part ? "ratio" : undefined),
  expand(part) {
    if ("ratio" in part) return { terminals: 4, branches: [], transformers: [{ primary: [0, 1], secondary: [2, 3], ratio: part.ratio }] };
    return {
      terminals: 4,
      branches: [
        { from: 0, to: 1, law: primaryWindingLaw, values: [part.primaryInductance, part.primaryResistance] },
        { from: 2, to: 3, law: secondaryWindingLaw, values: [part.secondaryInductance, part.secondaryResistance] },
      ],
      couplings: [{ first: 0, second: 1, k: part.k }],
    };
  },
  terminals: () => ["primary, dot", "primary, end", "secondary, dot", "secondary, end"],
  remark: () => "transformer",
  words: (part) =>
    "ratio" in part
      ? [`Transformer ${fewDigits(part.ratio)} : 1`, ""]
      : [
          `Transformer ${formatQuantity(part.primaryInductance, "H")} / ${formatQuantity(part.secondaryInductance, "H")}`,
          `k ${fewDigits(part.k)}`,
        ],
  symbols(part) {
    const [first, second] =
      "ratio" in part ? ["", ""] : [formatQuantity(part.primaryInductance, "H"), formatQuantity(part.secondaryInductance, "H")];
    return [
      { suffix: "primary", symbol: "inductor", value: first, from: 0, to: 1, dot: "always" },
      { suffix: "secondary", symbol: "inductor", value: second, from: 2, to: 3, dot: "always" },
    ];
  },
  note: (part) =>
    `primary and secondary are one transformer, ${"ratio" in part ? `${fewDigits(part.ratio)} : 1` : `k = ${fewDigits(part.k)}`}. The dots mark its ends of one sense.`,
};

import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { formatQuantity, type Frequency, type Inductance, type Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { driverLaw } from "./driver-law";
import type { PartKind } from "./kind";
import type { Expansion } from "./law";
import { measuredLaw } from "./measured-law";
import type { DriverModel } from "./driver-model";

/** The electrical side of a driver, as parameters or as measured. Its + is its first node. */
export type DriverImpedance =
  | {
      /** Marks a driver, described by parameters. */
      readonly kind: "driver";
      /** The parameters of its equivalent circuit. */
      readonly model: DriverModel;
    }
  | {
      /** Marks a driver, measured. */
      readonly kind: "driver";
      /** Ω over Hz, as measured. */
      readonly response: FrequencyResponse;
    };

/** What `driverImpedance` takes for a driver that is known by its parameters. */
export interface DriverOptions {
  /** Direct-current resistance, Ω, above 0. */
  readonly re: Resistance;
  /** Inductance of the voice coil, H. */
  readonly le?: Inductance | undefined;
  /** Lossy coil, first formula: a resistance (Ω) across a second inductance. With `le2`. */
  readonly re2?: Resistance | undefined;
  /** Lossy coil, first formula: the second inductance (H). With `re2`. */
  readonly le2?: Inductance | undefined;
  /** Lossy coil, second formula K(jω)ⁿ: K in Ω·sⁿ. With `n`. */
  readonly k?: number | undefined;
  /** Lossy coil, second formula: the exponent, 0 < n ≤ 1. With `k`. */
  readonly n?: number | undefined;
  /** Resonance in the enclosure in which the driver works, Hz. With `qms` and `qes`. */
  readonly fs?: Frequency | undefined;
  /** Mechanical Q at `fs`, dimensionless. */
  readonly qms?: number | undefined;
  /** Electrical Q at `fs`, dimensionless. */
  readonly qes?: number | undefined;
}

/**
 * A driver's electrical impedance (Ω), either by parameters,
 * $Z = R_e + j\omega L_e + Z_\mathrm{lossy} + \frac{R_e\,Q_{ms}/Q_{es}}{1 + jQ_{ms}(f/f_s - f_s/f)}$ with
 * $Z_\mathrm{lossy} = R_{e2} \parallel j\omega L_{e2}$ or $K(j\omega)^n$, after Small (1972) and Leach (2002) (cited from
 * memory), or as a measured `FrequencyResponse` in Ω, which is interpolated and never extrapolated.
 *
 * @param source parameters (Ω, H, Hz, Q dimensionless), or the measured impedance (Ω) of n points above 0 Hz
 * @returns the part; positive terminal first
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { driverImpedance, network, solve, valueAt } from "dividing-network";
 *
 * const dome = driverImpedance({ re: "5 Ω", fs: "800 Hz", qms: 2, qes: 1 });
 * const sweep = solve(network({ tweeter: [dome, "in", "gnd"] }), [400, 800]);
 * valueAt(sweep.impedance, 800).re; // 15
 * ```
 */
export function driverImpedance(source: DriverOptions | FrequencyResponse): DriverImpedance {
  if (typeof source === "object" && source !== null && "frequencies" in source)
    return Object.freeze({ kind: "driver", response: checkImpedance(source) });
  const caller = "driverImpedance";
  const given = checkOptions(caller, source, ["re", "le", "re2", "le2", "k", "n", "fs", "qms", "qes"]);
  together(given, ["re2", "le2"]);
  together(given, ["k", "n"]);
  together(given, ["fs", "qms", "qes"]);
  if (given.re2 !== undefined && given.k !== undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "re2"/"le2" and "k"/"n" are two formulas for one lossy coil, got both`,
      "Give one of them",
    );
  }
  const q = (name: "qms" | "qes") => (given[name] === undefined ? 0 : checkNumber(caller, name, given[name], { above: 0 }));
  return Object.freeze({
    kind: "driver",
    model: Object.freeze({
      re: inSi(caller, "re", given.re, "Ω", { above: 0 }),
      le: given.le === undefined ? 0 : inSi(caller, "le", given.le, "H"),
      re2: given.re2 === undefined ? 0 : inSi(caller, "re2", given.re2, "Ω", { above: 0 }),
      le2: given.le2 === undefined ? 0 : inSi(caller, "le2", given.le2, "H", { above: 0 }),
      k: given.k === undefined ? 0 : checkNumber(caller, "k", given.k, { above: 0, unit: "Ω·sⁿ" }),
      n: given.n === undefined ? 0 : checkNumber(caller, "n", given.n, { above: 0, max: 1 }),
      fs: given.fs === undefined ? 0 : inSi(caller, "fs", given.fs, "Hz", { above: 0 }),
      qms: q("qms"),
      qes: q("qes"),
    }),
  });
}

function together(options: object, names: readonly string[]): void {
  const present = names.filter((name) => (options as Record<string, unknown>)[name] !== undefined);
  if (present.length !== 0 && present.length !== names.length) {
    const missing = names.filter((name) => !present.includes(name));
    throw new DividingNetworkError(
      "invalid-argument",
      `driverImpedance: "${present.join('", "')}" needs "${missing.join('", "')}" beside it`,
      "Give them together or leave them out together",
    );
  }
}

function checkImpedance(response: FrequencyResponse): FrequencyResponse {
  const own = checkResponse("driverImpedance", "response", response);
  const { frequencies, re, im } = own;
  for (let i = 0; i < frequencies.length; i++) {
    if (!(re[i]! > 0)) {
      throw new DividingNetworkError(
        "invalid-response",
        `driverImpedance: a driver's impedance must have a real part above 0 Ω, got ${show(re[i])} + j(${show(im[i])}) Ω at ${frequencies[i]} Hz`,
        "Check that the columns are magnitude in Ω and phase in degrees, and that the phase stays within ±90°",
      );
    }
  }
  return own;
}

function expandDriver(part: DriverImpedance): Expansion {
  if ("response" in part)
    return { terminals: 2, branches: [{ from: 0, to: 1, law: measuredLaw(checkImpedance(part.response)), values: [] }] };
  const { re, le, re2, le2, k, n, fs, qms, qes } = part.model ?? {};
  if (!([re, fs, qms, qes].every((value) => typeof value === "number") && re > 0 && (fs === 0 || (qms > 0 && qes > 0)))) {
    throw new DividingNetworkError(
      "invalid-part",
      `a driver's model must have a resistance above 0 Ω, and qms and qes above 0 beside its fs, got re ${show(re)}, fs ${show(fs)}, qms ${show(qms)}, qes ${show(qes)}`,
      "Make it with driverImpedance",
    );
  }
  return { terminals: 2, branches: [{ from: 0, to: 1, law: driverLaw, values: [re, le, re2, le2, k, n, fs, qms, qes] }] };
}

export const driverKind: PartKind<DriverImpedance> = {
  noun: "driver",
  maker: "driverImpedance",
  joins: "nodes",
  expand: expandDriver,
  words(part) {
    if ("model" in part)
      return [`Driver Re ${formatQuantity(part.model.re, "Ω")}`, part.model.fs > 0 ? `fs ${formatQuantity(part.model.fs, "Hz")}` : ""];
    const { frequencies } = part.response;
    return ["Driver, measured", `${formatQuantity(frequencies[0]!, "Hz")} to ${formatQuantity(frequencies.at(-1)!, "Hz")}`];
  },
  symbols: (part) => [
    { suffix: "", symbol: "driver", value: "model" in part ? `Re ${formatQuantity(part.model.re, "Ω")}` : "as measured", from: 0, to: 1 },
  ],
  terminals: () => ["+", "−"],
  remark: () => "driver, its + is the first node",
  sounds: true,
  measured: (part) => ("response" in part ? part.response : undefined),
  model: (part) => ("model" in part ? part.model : undefined),
  toleranceByName: true,
};

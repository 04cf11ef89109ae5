import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, owned, show } from "../../errors/internal";
import type { Capacitance, Inductance, Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { LawData } from "./law-data";

/** Most laws in one, and how deep they may stand in one another. */
const MOST = 50;
const DEEPEST = 10;

/**
 * A resistance as the law of a custom part's branch, Z = R.
 *
 * @param resistance Ω as a number, or text with its unit; 0 Ω or more
 * @param name under which the value is found in the part; default `"resistance"`
 * @returns the law as plain data, Ω
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`
 * @example
 * ```ts
 * import { resistive } from "dividing-network/parts";
 *
 * resistive("0.3 Ω", "dcr"); // { law: "resistance", name: "dcr", value: 0.3 }
 * ```
 */
export function resistive(resistance: Resistance, name = "resistance"): LawData {
  return Object.freeze({
    law: "resistance",
    name: checkName("resistive", name),
    value: inSi("resistive", "resistance", resistance, "Ω"),
  });
}

/**
 * An inductance as the law of a custom part's branch, Z = jωL.
 *
 * @param inductance H as a number, or text with its unit; 0 H or more
 * @param name under which the value is found in the part; default `"inductance"`
 * @returns the law as plain data, H
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`
 * @example
 * ```ts
 * import { inductive } from "dividing-network/parts";
 *
 * inductive("1 mH"); // { law: "inductance", name: "inductance", value: 0.001 }
 * ```
 */
export function inductive(inductance: Inductance, name = "inductance"): LawData {
  return Object.freeze({
    law: "inductance",
    name: checkName("inductive", name),
    value: inSi("inductive", "inductance", inductance, "H"),
  });
}

/**
 * A capacitance as the law of a custom part's branch, Y = jωC.
 *
 * @param capacitance F as a number, or text with its unit; above 0 F
 * @param name under which the value is found in the part; default `"capacitance"`
 * @returns the law as plain data, F
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`
 * @example
 * ```ts
 * import { capacitive } from "dividing-network/parts";
 *
 * capacitive("10 µF"); // { law: "capacitance", name: "capacitance", value: 0.00001 }
 * ```
 */
export function capacitive(capacitance: Capacitance, name = "capacitance"): LawData {
  return Object.freeze({
    law: "capacitance",
    name: checkName("capacitive", name),
    value: inSi("capacitive", "capacitance", capacitance, "F", { above: 0 }),
  });
}

/**
 * An inductance that eddy currents turn into $Z = K(j\omega)^n$, as the law of a custom part's branch.
 *
 * @param options `k`: K in Ω·sⁿ, above 0; `n`: the exponent, dimensionless, 0 < n ≤ 1; `name`: under which the two are found in the part, as `nameK` and `nameN`; default `k` and `n`
 * @returns the law as plain data, K in Ω·sⁿ
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { fractional } from "dividing-network/parts";
 *
 * fractional({ k: 0.02, n: 0.7 }); // { law: "fractional", k: 0.02, n: 0.7 }
 * ```
 */
export function fractional(options: { readonly k: number; readonly n: number; readonly name?: string | undefined }): LawData {
  const { k, n, name = "" } = checkOptions("fractional", options, ["k", "n", "name"]);
  return Object.freeze({
    law: "fractional",
    name: name === "" ? "" : checkName("fractional", name),
    k: checkNumber("fractional", "k", k, { above: 0, unit: "Ω·sⁿ" }),
    n: checkNumber("fractional", "n", n, { above: 0, max: 1 }),
  });
}

/**
 * Laws one after the other: their impedances (Ω) add.
 *
 * @param laws at least one
 * @returns the law as plain data, each value in its SI unit
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { inductive, inSeries, resistive } from "dividing-network/parts";
 *
 * inSeries(inductive("1 mH"), resistive(0.3, "dcr")).law; // "series"
 * ```
 */
export function inSeries(...laws: readonly LawData[]): LawData {
  return joined("inSeries", "series", laws);
}

/**
 * Laws beside each other: their admittances (S) add.
 *
 * @param laws at least one
 * @returns the law as plain data, each value in its SI unit
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { inductive, inParallel, resistive } from "dividing-network/parts";
 *
 * inParallel(inductive("1 mH"), resistive(300, "coreLoss")).law; // "parallel"
 * ```
 */
export function inParallel(...laws: readonly LawData[]): LawData {
  return joined("inParallel", "parallel", laws);
}

function joined(caller: string, law: "series" | "parallel", laws: readonly unknown[]): LawData {
  return checkLaw(caller, "laws", { law, of: laws });
}

/** A law from outside, checked and frozen; `left`: how many more laws there may be in the whole. */
export function checkLaw(caller: string, argument: string, data: unknown, depth = 0, left: { count: number } = { count: MOST }): LawData {
  const wrong = (what: string) =>
    new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be ${what}, got ${show(data)}`,
      "Make it with resistive, inductive, capacitive, fractional, inSeries and inParallel",
    );
  if (typeof data !== "object" || data === null || Array.isArray(data)) throw wrong("a law");
  if (depth > DEEPEST || --left.count < 0) throw wrong(`a law of at most ${MOST} laws, ${DEEPEST} deep`);
  const given = data as {
    readonly law?: unknown;
    readonly name?: unknown;
    readonly value?: unknown;
    readonly k?: unknown;
    readonly n?: unknown;
    readonly of?: unknown;
  };
  switch (given.law) {
    case "resistance":
    case "inductance":
    case "capacitance": {
      const { name, value } = checkOptions(`${caller}: ${argument}`, given, ["law", "name", "value"]);
      const range = given.law === "capacitance" ? { above: 0 } : { min: 0 };
      return Object.freeze({
        law: given.law,
        name: checkName(caller, name),
        value: checkNumber(caller, `${argument}.value`, value, range),
      });
    }
    case "fractional": {
      const { name = "", k, n } = checkOptions(`${caller}: ${argument}`, given, ["law", "name", "k", "n"]);
      return Object.freeze({
        law: "fractional",
        name: name === "" ? "" : checkName(caller, name),
        k: checkNumber(caller, `${argument}.k`, k, { above: 0 }),
        n: checkNumber(caller, `${argument}.n`, n, { above: 0, max: 1 }),
      });
    }
    case "series":
    case "parallel": {
      const { of } = checkOptions(`${caller}: ${argument}`, given, ["law", "of"]);
      if (!Array.isArray(of) || of.length === 0 || of.length > MOST) throw wrong("at least one law");
      return owned({
        law: given.law,
        of: Array.from<unknown>(of).map((each, index) => checkLaw(caller, `${argument}[${index}]`, each, depth + 1, left)),
      });
    }
    default:
      throw wrong("a law");
  }
}

function checkName(caller: string, name: unknown): string {
  if (typeof name === "string" && /^[a-zA-Z][a-zA-Z0-9]{0,39}$/.test(name)) return name;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "name" must be a word of letters and digits, got ${show(name)}`,
    'As in "coreLoss"',
  );
}

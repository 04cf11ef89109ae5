import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOneOf, checkOptions } from "../../errors/internal";
import {
  formatQuantity,
  type Capacitance,
  type Current,
  type Frequency,
  type Inductance,
  type Power,
  type Resistance,
  type Voltage,
} from "../../quantity";
import { inSi } from "../../quantity/internal";
import { combined, LOSS_FREQUENCY, ratingsOf, type Arrangement, type Combination } from "./combination";
import { eachCombination, piecesBy, type Found } from "./combination-search";
import { checkStock } from "./stock";
import { mainValue, type Stock, type StockKind, type StockLine, type StockPart } from "./stock-part";

/** What a combination must keep, and of how many parts it may be. */
export interface CombinationOptions {
  /** Most pieces, 1 to 3, dimensionless; default 3. */
  readonly mostParts?: 1 | 2 | 3 | undefined;
  /** Relative deviation up to which all are equally near, dimensionless; default 0. Fewer and cheaper parts then win. */
  readonly closeEnough?: number | undefined;
  /** Hz at which losses are added; default 1 kHz. */
  readonly frequency?: Frequency | undefined;
  /** W that all together must bear; what doesn't state it isn't taken. */
  readonly power?: Power | undefined;
  /** V that all together must bear; what doesn't state it isn't taken. */
  readonly voltage?: Voltage | undefined;
  /** A that all together must bear; what doesn't state it isn't taken. */
  readonly current?: Current | undefined;
  /** Most that all pieces together may cost, in the stock's currency, dimensionless; what has no price isn't taken. */
  readonly largestPrice?: number | undefined;
}

/** The combination that comes nearest to a value. */
export interface BestCombination extends Combination {
  /** How far it is from what was asked for: relative, with its sign, dimensionless. */
  readonly deviation: number;
}

const KINDS = ["resistor", "inductor", "capacitor"] as const;
const UNITS = { resistor: "Ω", inductor: "H", capacitor: "F" } as const;

/**
 * The parts of a stock that come nearest to a value: one, two or three of them, in series, side by side, or mixed, no more of each than there are. The search is exact: no other
 * combination is nearer. Of several that are equally near (to a part in 10⁹, or within `closeEnough`), that of fewest parts is given, and of these the cheapest; what has no price counts as the dearest.
 *
 * Ratings asked for are kept by every piece, as `combination` shares voltage, current and power among them.
 *
 * @param drawer from `stock` or `readStockCsv`, or its lines
 * @param kind what is wanted: `"resistor"`, `"inductor"` or `"capacitor"`
 * @param options `value` in Ω, H or F, as a number or text; `mostParts`, `closeEnough` (dimensionless), `frequency` (Hz), `power` (W), `voltage` (V), `current` (A), `largestPrice` (dimensionless)
 * @returns the combination with its value, loss, tolerance, ratings and price; how far it is (relative, dimensionless)
 * @throws DividingNetworkError `not-in-stock` when nothing keeps what is asked for; `too-many-parts` beyond 2000 values of one kind, or where ratings leave too many combinations to be looked at;
 *   `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { bestCombination, stock } from "dividing-network/parts";
 *
 * const drawer = stock([{ kind: "capacitor", value: "10 µF", count: 2 }, { kind: "capacitor", value: "4.7 µF" }, { kind: "capacitor", value: "2.2 µF", count: 1 }]);
 * const found = bestCombination(drawer, "capacitor", { value: "12 µF", closeEnough: 0.02 });
 * found.says; // "2.2 µF and 10 µF in parallel"
 * found.deviation; // 0.0167
 * bestCombination(drawer, "capacitor", { value: "12 µF" }).says; // "10 µF and (2.2 µF and 10 µF in series) in parallel"
 * bestCombination(drawer, "capacitor", { value: "12 µF", mostParts: 1 }).says; // "10 µF"
 * ```
 */
export function bestCombination(
  drawer: Stock | readonly (StockLine | StockPart)[],
  kind: StockKind,
  options: CombinationOptions & { readonly value: Resistance | Inductance | Capacitance },
): BestCombination {
  const caller = "bestCombination";
  const { parts } = checkStock(caller, "drawer", drawer);
  checkOneOf(caller, "kind", kind, KINDS);
  const {
    value: asked,
    mostParts = 3,
    closeEnough = 0,
    frequency = LOSS_FREQUENCY,
    power,
    voltage,
    current,
    largestPrice,
  } = checkOptions(caller, options, ["value", "mostParts", "closeEnough", "frequency", "power", "voltage", "current", "largestPrice"]);
  const value = inSi(caller, "value", asked, UNITS[kind], { above: 0 });
  const most = checkNumber(caller, "mostParts", mostParts, { min: 1, max: 3, integer: true });
  const f = inSi(caller, "frequency", frequency, "Hz", { above: 0 });
  const least = {
    power: power === undefined ? 0 : inSi(caller, "power", power, "W", { min: 0 }),
    voltage: voltage === undefined ? 0 : inSi(caller, "voltage", voltage, "V", { min: 0 }),
    current: current === undefined ? 0 : inSi(caller, "current", current, "A", { min: 0 }),
  };
  const price = largestPrice === undefined ? Infinity : checkNumber(caller, "largestPrice", largestPrice, { min: 0 });
  const rated = least.power > 0 || least.voltage > 0 || least.current > 0;
  const allows = ({ pieces, shape }: Found) => {
    const { power: watts, voltage: volts, current: amperes } = ratingsOf(arranged(kind, pieces, shape), kind);
    const bears = (limit: number, has: number | undefined) => limit === 0 || (has !== undefined && has >= limit * (1 - 1e-12));
    return (
      bears(least.power, watts)
      && bears(least.voltage, volts)
      && bears(least.current, amperes)
      && (price === Infinity || pieces.reduce((sum, { price: own = Infinity }) => sum + own, 0) <= price * (1 + 1e-12))
    );
  };
  const own = parts.filter((one) => one.part.kind === kind);
  // Together parts bear at most as many times what the best of them does.
  const possible = (["power", "voltage", "current"] as const).every(
    (rating) => most * own.reduce((largest, one) => Math.max(largest, one[rating] ?? 0), 0) >= least[rating] * (1 - 1e-12),
  );
  const found = possible
    ? eachCombination(
        caller,
        piecesBy(caller, own, rated),
        value,
        most,
        checkNumber(caller, "closeEnough", closeEnough, { min: 0, max: 1 }),
        rated || price < Infinity ? allows : undefined,
      )
    : undefined;
  if (found === undefined) {
    const wanted = [rated ? "bears what is asked for" : "", price < Infinity ? `costs at most ${price}` : ""]
      .filter((word) => word !== "")
      .join(" and ");
    throw new DividingNetworkError(
      "not-in-stock",
      `${caller}: "drawer" must hold ${kind === "inductor" ? "an" : "a"} ${kind}${wanted === "" ? "" : ` or combination of at most ${most} that ${wanted}`}, got none for ${formatQuantity(value, UNITS[kind])}`,
      "Add parts, or ask for less",
    );
  }
  const best = combined(arranged(kind, found.pieces, found.shape), kind, found.pieces, f);
  return Object.freeze({ ...best, deviation: mainValue(best.part) / value - 1 });
}

/** The pieces as the search drew them: where values add, coils and resistors stand in series, capacitors side by side. */
export function arranged(kind: StockKind, pieces: readonly StockPart[], shape: Found["shape"]): Arrangement {
  const sum = (of: readonly Arrangement[]): Arrangement =>
    Object.freeze(kind === "capacitor" ? { parallel: Object.freeze(of) } : { series: Object.freeze(of) });
  const harmonic = (of: readonly Arrangement[]): Arrangement =>
    Object.freeze(kind === "capacitor" ? { series: Object.freeze(of) } : { parallel: Object.freeze(of) });
  const [a, b, c] = pieces;
  switch (shape) {
    case "one":
      return a!;
    case "sum":
      return sum(pieces);
    case "harmonic":
      return harmonic(pieces);
    case "sum of harmonic":
      return sum([a!, harmonic([b!, c!])]);
    case "harmonic of sum":
      return harmonic([a!, sum([b!, c!])]);
  }
}

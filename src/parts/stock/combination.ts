import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import { formatQuantity, type Frequency } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { capacitor } from "../capacitor";
import { inductor } from "../inductor";
import { resistor } from "../resistor";
import { checkStock } from "./stock";
import { mainValue, type BoughtPart, type StockKind, type StockPart } from "./stock-part";

/** Parts of a stock, one alone, or several in series or side by side. */
export type Arrangement =
  | StockPart
  | {
      /** One after the other. */
      readonly series: readonly Arrangement[];
    }
  | {
      /** Side by side. */
      readonly parallel: readonly Arrangement[];
    };

/** Parts of a stock that stand in the place of one. */
export interface Combination {
  /** How they are connected. */
  readonly arrangement: Arrangement;
  /** How they are connected, in words. */
  readonly says: string;
  /** Each piece, one taken twice twice. */
  readonly parts: readonly StockPart[];
  /** The one part that they make: its value in Ω, H or F as of parts without loss, its loss as at the stated frequency. */
  readonly part: BoughtPart;
  /** Whether the loss of all of them is known. */
  readonly lossKnown: boolean;
  /** Largest deviation from its value when all deviate most, relative, dimensionless; absent where that of one isn't known. */
  readonly tolerance?: number;
  /** W that all bear together when none bears more than it may; absent where one doesn't say. */
  readonly power?: number;
  /** V that all bear together, alternating, when none bears more than it may; absent where one doesn't say. */
  readonly voltage?: number;
  /** A that all bear together when none bears more than it may; absent where one doesn't say. */
  readonly current?: number;
  /** Of all pieces, in the stock's currency, dimensionless; absent where that of one isn't known. */
  readonly price?: number;
}

/** Hz at which losses are added where nothing is said: a choice. */
export const LOSS_FREQUENCY = 1000;
const [DEEPEST, MOST_PIECES] = [20, 100];

/**
 * What parts of a stock make when they stand in the place of one: value, loss, tolerance, what they bear together, and price.
 *
 * The value is that of parts without loss. The loss is the resistance of all of them at `frequency`: in series that is exact at every frequency, side by side nearly so for
 * capacitors, and for coils above a few times $R/2\pi L$. Voltage, current and power are shared by the nominal values: of capacitors in series the smallest bears most. That is
 * alternating voltage; direct voltage shares by their leakage, which no list states. Coils in series or side by side are taken to be apart:
 * near each other they couple (`couplingFromPlacement`).
 *
 * @param arrangement a line of a stock, or `{ series: […] }` or `{ parallel: […] }` of such, nested as wanted, all of one kind
 * @param options `frequency` in Hz at which losses are added; default 1 kHz
 * @returns the whole as one part: Ω, H, F, W, V, A; tolerance and price dimensionless
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`, `invalid-quantity`
 * @example
 * ```ts
 * import { combination, stock } from "dividing-network/parts";
 *
 * const [ten, four] = stock([{ kind: "resistor", value: 10, power: "10 W" }, { kind: "resistor", value: "4.7 Ω", power: "10 W" }]).parts;
 * const whole = combination({ series: [four!, { parallel: [ten!, ten!] }] });
 * whole.part; // { kind: "resistor", resistance: 9.7 }
 * whole.power; // 20.64 W: then 10 W of it are in the 4.7 Ω
 * ```
 */
export function combination(arrangement: Arrangement, options: { readonly frequency?: Frequency | undefined } = {}): Combination {
  const caller = "combination";
  const { frequency = LOSS_FREQUENCY } = checkOptions(caller, options, ["frequency"]);
  const f = inSi(caller, "frequency", frequency, "Hz", { above: 0 });
  const { arrangement: own, parts } = checkedArrangement(caller, arrangement);
  const kinds = [...new Set(parts.map(({ part }) => part.kind))];
  if (kinds.length !== 1)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "arrangement" must be of parts of one kind, got ${kinds.join(" and ")}`,
      "Draw different parts as entries of a network",
    );
  return combined(own, kinds[0]!, parts, f);
}

/** The same, of parts that were checked. */
export function combined(arrangement: Arrangement, kind: StockKind, parts: readonly StockPart[], frequency: number): Combination {
  const valueWith = (change: (part: StockPart) => number) => totalOf(arrangement, kind, (one) => mainValue(one.part) * change(one));
  const value = valueWith(() => 1);
  const lossKnown = parts.every((one) => one.lossKnown);
  const alone = parts.length === 1;
  const tolerances = all(parts.map(({ tolerance }) => tolerance));
  const tolerance =
    tolerances === undefined
      ? undefined
      : alone
        ? tolerances[0]!
        : Math.max(valueWith((one) => 1 + one.tolerance!) / value - 1, 1 - valueWith((one) => 1 - one.tolerance!) / value);
  const facts = {
    tolerance,
    ...ratingsOf(arrangement, kind),
    price: all(parts.map(({ price }) => price))?.reduce((sum, one) => sum + one, 0),
  };
  return Object.freeze({
    arrangement,
    says: says(arrangement, true),
    parts: Object.freeze([...parts]),
    part: alone ? parts[0]!.part : withLoss(arrangement, kind, value, parts, frequency, facts),
    lossKnown,
    ...(Object.fromEntries(Object.entries(facts).filter(([, fact]) => fact !== undefined)) as {
      readonly [K in keyof typeof facts]?: number;
    }),
  });
}

/** W, V and A that all bear together; `undefined` where one doesn't say. */
export function ratingsOf(
  arrangement: Arrangement,
  kind: StockKind,
): { readonly power: number | undefined; readonly voltage: number | undefined; readonly current: number | undefined } {
  const shares = sharesOf(arrangement, kind);
  const bears = (rating: "power" | "voltage" | "current", share: (of: Share) => number) =>
    shares.reduce<number | undefined>(
      (least, of) => (least === undefined || of.part[rating] === undefined ? undefined : Math.min(least, of.part[rating] / share(of))),
      Infinity,
    );
  return {
    power: bears("power", ({ volts, amperes }) => volts * amperes),
    voltage: bears("voltage", ({ volts }) => volts),
    current: bears("current", ({ amperes }) => amperes),
  };
}

/** Whether values add where parts are connected so. */
function adds(kind: StockKind, series: boolean): boolean {
  return series !== (kind === "capacitor");
}

function members(arrangement: Arrangement): { readonly of: readonly Arrangement[]; readonly series: boolean } | undefined {
  return "series" in arrangement
    ? { of: arrangement.series, series: true }
    : "parallel" in arrangement
      ? { of: arrangement.parallel, series: false }
      : undefined;
}

function totalOf(arrangement: Arrangement, kind: StockKind, value: (part: StockPart) => number): number {
  const inside = members(arrangement);
  if (inside === undefined) return value(arrangement as StockPart);
  const own = inside.of.map((each) => totalOf(each, kind, value));
  return adds(kind, inside.series) ? own.reduce((sum, one) => sum + one, 0) : 1 / own.reduce((sum, one) => sum + 1 / one, 0);
}

/** What of the whole's voltage and current one piece has. */
interface Share {
  readonly part: StockPart;
  readonly volts: number;
  readonly amperes: number;
}

function sharesOf(arrangement: Arrangement, kind: StockKind, volts = 1, amperes = 1): readonly Share[] {
  const inside = members(arrangement);
  if (inside === undefined) return [{ part: arrangement as StockPart, volts, amperes }];
  const values = inside.of.map((each) => totalOf(each, kind, ({ part }) => mainValue(part)));
  const total = totalOf(arrangement, kind, ({ part }) => mainValue(part));
  return inside.of.flatMap((each, index) => {
    const share = adds(kind, inside.series) ? values[index]! / total : total / values[index]!;
    return sharesOf(each, kind, inside.series ? volts * share : volts, inside.series ? amperes : amperes * share);
  });
}

function withLoss(
  arrangement: Arrangement,
  kind: StockKind,
  value: number,
  parts: readonly StockPart[],
  frequency: number,
  { power, voltage, current, tolerance }: ReturnType<typeof ratingsOf> & { readonly tolerance: number | undefined },
): BoughtPart {
  if (kind === "resistor") return resistor(value, { power, tolerance });
  const omega = 2 * Math.PI * frequency;
  const { re } = impedanceOf(arrangement, omega);
  if (kind === "inductor") return inductor(value, { dcr: re, current, tolerance });
  return parts.every(({ part }) => part.kind === "capacitor" && part.esr === 0)
    ? capacitor(value, { dissipationFactor: re * omega * value, voltage, tolerance })
    : capacitor(value, { esr: re, voltage, tolerance });
}

function impedanceOf(arrangement: Arrangement, omega: number): { readonly re: number; readonly im: number } {
  const inside = members(arrangement);
  if (inside === undefined) {
    const { part } = arrangement as StockPart;
    if (part.kind === "inductor") return { re: part.dcr, im: omega * part.inductance };
    return part.kind === "capacitor"
      ? { re: part.esr + part.dissipationFactor / (omega * part.capacitance), im: -1 / (omega * part.capacitance) }
      : { re: part.resistance, im: 0 };
  }
  const own = inside.of.map((each) => impedanceOf(each, omega));
  const sum = (of: readonly { readonly re: number; readonly im: number }[]) =>
    of.reduce((a, b) => ({ re: a.re + b.re, im: a.im + b.im }), { re: 0, im: 0 });
  const inverse = ({ re, im }: { readonly re: number; readonly im: number }) => {
    const size = re * re + im * im;
    return { re: re / size, im: -im / size };
  };
  return inside.series ? sum(own) : inverse(sum(own.map(inverse)));
}

function all(values: readonly (number | undefined)[]): readonly number[] | undefined {
  return values.every((value) => value !== undefined) ? values : undefined;
}

const UNITS = { resistor: "Ω", inductor: "H", capacitor: "F" } as const;

function says(arrangement: Arrangement, outermost: boolean): string {
  const inside = members(arrangement);
  if (inside === undefined) {
    const { part } = arrangement as StockPart;
    return formatQuantity(mainValue(part), UNITS[part.kind], { digits: 4 });
  }
  const own = inside.of.map((each) => says(each, false));
  const text = `${own.every((one) => one === own[0]) ? `${own.length} × ${own[0]}` : own.join(" and ")} in ${inside.series ? "series" : "parallel"}`;
  return outermost ? text : `(${text})`;
}

/** The arrangement with its lines checked, and each piece. */
function checkedArrangement(caller: string, given: unknown): { readonly arrangement: Arrangement; readonly parts: readonly StockPart[] } {
  const parts: StockPart[] = [];
  const wrong = (got: unknown) =>
    new DividingNetworkError(
      "invalid-argument",
      `${caller}: "arrangement" must be a line of a stock, or { series: […] } or { parallel: […] } of such, at most ${MOST_PIECES} pieces nested at most ${DEEPEST} deep, got ${show(got)}`,
      "Take lines from stock(…).parts",
    );
  const read = (each: unknown, depth: number): Arrangement => {
    if (typeof each !== "object" || each === null || depth > DEEPEST || parts.length >= MOST_PIECES) throw wrong(each);
    if (!("series" in each) && !("parallel" in each)) {
      const [line] = checkStock(caller, "arrangement", [each]).parts;
      parts.push(line!);
      return line!;
    }
    const list: unknown = "series" in each ? each.series : each.parallel;
    if (!Array.isArray(list) || list.length === 0 || list.length > MOST_PIECES) throw wrong(list);
    const own = Object.freeze(Array.from(list as readonly unknown[], (one) => read(one, depth + 1)));
    return Object.freeze("series" in each ? { series: own } : { parallel: own });
  };
  return { arrangement: read(given, 0), parts };
}

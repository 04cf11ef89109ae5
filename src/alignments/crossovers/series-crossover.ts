import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions } from "../../errors/internal";
import { fragment } from "../../network";
import type { Capacitor, Inductor } from "../../parts";
import { startWorking, type Frequency, type Resistance, type Working } from "../../quantity";
import type { TransferFunction } from "../../response";
import { checkNodes, type Branch, type BranchNodes, type CheckedNodes, type PlacedName } from "../branch";
import { makePart, type ChainPart } from "../ladders/chain-branch";
import { checkFrequency, checkLoad } from "../filters/check-filter";
import { makeScaled } from "../filters/filter";
import { polarityStep } from "./polarity";
import { conjugatePair } from "../prototypes/prototype";
import { secondOrderPoles } from "../prototypes/second-order-poles";

/** The options of `seriesCrossover`. */
export interface SeriesCrossoverOptions {
  /** 1 or 2. */
  readonly order: number;
  /** Hz */
  readonly frequency: Frequency;
  /** Ω: of each driver. */
  readonly load: Resistance;
  /** Q of the second-order functions; default 0.7071 (Butterworth), 0.5 is Linkwitz–Riley. */
  readonly q?: number | undefined;
}

/** The parts of a series crossover; the second coil and capacitor are there at order 2. */
export interface SeriesCrossoverShape {
  /** Across the high-pass driver. */
  readonly L1: readonly [Inductor, "from", "C1.1"];
  /** Across the low-pass driver. */
  readonly C1: readonly [Capacitor, "C1.1", "to"];
  /** Second order: in series with the high-pass driver. */
  readonly C2?: readonly [Capacitor, "from", "C2.2"];
  /** Second order: in series with the low-pass driver. */
  readonly L2?: readonly [Inductor, "C1.1", "L2.2"];
}

/** The nodes of both drivers, + first. */
export interface SeriesTerminals<N> {
  /** Of the low-pass driver. */
  readonly lowPass: readonly [PlacedName<"C1.1", N> | PlacedName<"L2.2", N>, PlacedName<"to", N>];
  /** Of the high-pass driver. */
  readonly highPass: readonly [PlacedName<"from", N> | PlacedName<"C2.2", N>, PlacedName<"C1.1", N>];
}

/** A two-way crossover whose drivers are connected in series. */
export interface SeriesCrossover {
  /** H and F by designator. */
  readonly parts: Readonly<Record<string, number>>;
  /** V at the low-pass driver per V at the input. */
  readonly lowPass: TransferFunction;
  /** V at the high-pass driver per V at the input. */
  readonly highPass: TransferFunction;
  /** For flat, coincident drivers. */
  readonly polarity: "same" | "reversed";
  /** The parts between two nodes, without the drivers. The high-pass driver lies on the side of `from`. */
  readonly branch: Branch<SeriesCrossoverShape>;
  /** The nodes of the drivers, + first, for the same names as given to `branch`. */
  readonly terminals: <const N extends BranchNodes>(nodes: CheckedNodes<N, BranchNodes>) => SeriesTerminals<N>;
  /** How each number came about. */
  readonly working: Working;
}

const source = "derived here: dual of the parallel network";

type Inputs = Readonly<Record<"R" | "f", readonly [value: number, unit: string]>>;
type Values = Readonly<Record<string, number>>;

/**
 * A series-connected crossover (H, F) of first or second order for two drivers of one resistance. First order: a coil
 * across the high-pass driver and a capacitor across the low-pass driver; voltages sum to exactly 1 and the input sees
 * R at every frequency. Second order: a further capacitor in series with the high-pass driver and a coil in series with
 * the low-pass driver. With $C_1 = C_2$ and $L_1 = L_2$ scaled by Q the drivers get $\frac{1}{s^2 + s/Q + 1}$ and its
 * mirror image; only Q = 0.7071 keeps the input at R. As the drivers' currents pass each other's parts, a driver whose
 * impedance is not R disturbs both ways.
 *
 * @param options `order` (1 or 2), `frequency` (Hz), `load` (Ω, of each driver), `q` (dimensionless, second order)
 * @returns parts (H, F), transfer functions, polarity, fragment, nodes of the drivers, working
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { seriesCrossover } from "dividing-network/alignments";
 *
 * seriesCrossover({ order: 1, frequency: "3 kHz", load: "8 Ω" }).parts; // { L1: 0.000424413, C1: 0.000006631456 }
 * ```
 */
export function seriesCrossover(options: SeriesCrossoverOptions): SeriesCrossover {
  const caller = "seriesCrossover";
  const given = checkOptions(caller, options, ["order", "frequency", "load", "q"]);
  const order = checkNumber(caller, "order", given.order, { integer: true, min: 1, max: 2 });
  const f = checkFrequency(caller, "frequency", given.frequency);
  const R = checkLoad(caller, "load", given.load);
  if (order === 1 && given.q !== undefined) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "q" has no meaning for order 1, got ${given.q}`, "Leave it out");
  }
  const Q = order === 1 ? 1 : checkNumber(caller, "q", given.q === undefined ? Math.SQRT1_2 : given.q, { min: 0.05, max: 20 });
  const steps = startWorking();
  const inputs: Inputs = { ...(order === 1 ? {} : { Q: [Q, ""] }), R: [R, "Ω"], f: [f, "Hz"] };
  const twice = (v: Values): number => (v["Q"] === undefined ? 1 : 2 * v["Q"]);
  const [over, overTex] = order === 1 ? ["R / (2πf)", "\\frac{R}{2\\pi f}"] : ["R / (2Q 2πf)", "\\frac{R}{2Q\\,2\\pi f}"];
  const [times, timesTex] = order === 1 ? ["1 / (2πf R)", "\\frac{1}{2\\pi f R}"] : ["2Q / (2πf R)", "\\frac{2Q}{2\\pi f R}"];
  const coil = (k: number): ChainPart => {
    const text = { formula: over, tex: `L_{${k}} = ${overTex}`, source };
    const value = steps.step(`L${k}`, "H", text, inputs, (v) => v.R / (twice(v) * 2 * Math.PI * v.f));
    return { designator: `L${k}`, placement: "series", kind: "inductor", value };
  };
  const condenser = (k: number): ChainPart => {
    const text = { formula: times, tex: `C_{${k}} = ${timesTex}`, source };
    const value = steps.step(`C${k}`, "F", text, inputs, (v) => twice(v) / (2 * Math.PI * v.f * v.R));
    return { designator: `C${k}`, placement: "series", kind: "capacitor", value };
  };
  // Across the branches, then in series with the drivers. Seen from the branch's end: g₁ = 2Q in shunt, g₂ = 1/(2Q) in series.
  const across = [coil(1), condenser(1)] as const;
  const within = order === 1 ? undefined : ([condenser(2), coil(2)] as const);
  const w = 2 * Math.PI * f;
  const poles = order === 1 ? conjugatePair(-w, 0) : secondOrderPoles(w, Q);
  const all = [...across, ...(within ?? [])];
  const names = (nodes: BranchNodes) => {
    const checked = checkNodes(`${caller}.branch`, nodes);
    return { ...checked, middle: `${checked.prefix}C1.1` };
  };
  const [lowPass, highPass] = [
    makeScaled([], poles, w ** order),
    makeScaled(
      Array.from({ length: order }, () => ({ re: 0, im: 0 })),
      poles,
      1,
    ),
  ];
  polarityStep(
    steps,
    "φ",
    lowPass,
    highPass,
    f,
    order === 1
      ? "both drivers have the same polarity: the voltages of the two ways then sum to exactly 1 at every frequency"
      : "the high-pass driver is reversed: half a turn apart at every frequency, the ways would cancel at the crossover with the same",
  );
  const result: SeriesCrossover = {
    parts: Object.freeze(Object.fromEntries(all.map(({ designator, value }) => [designator, value]))),
    lowPass,
    highPass,
    polarity: order === 1 ? "same" : "reversed",
    branch: ((nodes: BranchNodes) => {
      const { from, to, middle, prefix } = names(nodes);
      const outer = { [`${prefix}L1`]: [makePart(across[0]), from, middle], [`${prefix}C1`]: [makePart(across[1]), middle, to] } as const;
      if (within === undefined) return fragment(outer);
      return fragment({
        ...outer,
        [`${prefix}C2`]: [makePart(within[0]), from, `${prefix}C2.2`],
        [`${prefix}L2`]: [makePart(within[1]), middle, `${prefix}L2.2`],
      });
    }) as SeriesCrossover["branch"],
    terminals: ((nodes: BranchNodes) => {
      const { from, to, middle, prefix } = names(nodes);
      return order === 1
        ? { lowPass: [middle, to], highPass: [from, middle] }
        : { lowPass: [`${prefix}L2.2`, to], highPass: [`${prefix}C2.2`, middle] };
    }) as SeriesCrossover["terminals"],
    working: steps.done(),
  };
  return Object.freeze(result);
}

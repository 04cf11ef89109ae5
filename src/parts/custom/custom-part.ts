import { fewDigits } from "../../quantity/internal";
import { DividingNetworkError } from "../../errors";
import { checkList, checkNumber, checkOptions, owned, show } from "../../errors/internal";
import { formatQuantity } from "../../quantity";
import type { PartKind, PartSymbol } from "../kind";
import { compoundLaw } from "./compound-law";
import type { LawData } from "./law-data";
import { checkLaw } from "./laws";

/** A branch of a custom part, between two of its terminals. */
export interface CustomBranch {
  /** The terminal at which it begins, numbered from 0. */
  readonly from: number;
  /** The terminal at which it ends, numbered from 0. */
  readonly to: number;
  /** What it does. */
  readonly law: LawData;
}

/** A part of one's own: branches of laws between two, three or four terminals. */
export interface CustomPart<N extends 2 | 3 | 4 = 2 | 3 | 4> {
  /** Marks a part of one's own. */
  readonly kind: "custom";
  /** What it is, in words: `"Cored coil"`. */
  readonly title: string;
  /** How many terminals it has, a count. */
  readonly terminals: N;
  /** What lies between them. */
  readonly branches: readonly CustomBranch[];
}

const MOST_BRANCHES = 12;

/**
 * A part that the library doesn't know: branches between its terminals, each a law made of resistances, inductances, capacitances and powers of frequency in series and in parallel. It
 * stands in networks as every other part does: solved, differentiated by each of its values (exactly), scattered, listed, drawn, and written as JSON. The first value of a branch is its
 * main one.
 *
 * @param options `title`: what it is, in words; `terminals`: 2, 3 or 4, default 2; `branches`: each `{ from, to, law }` with terminals numbered from 0 (default 0 and 1), the law's values in SI
 * @returns the part, plain frozen data, values in SI
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { network, resistor, solve, valueAt } from "dividing-network";
 * import { inductive, inParallel, inSeries, part, resistive } from "dividing-network/parts";
 *
 * const cored = part({ title: "Cored coil", branches: [{ law: inSeries(inParallel(inductive("1 mH"), resistive("300 Ω", "coreLoss")), resistive("0.2 Ω", "dcr")) }] });
 * const low = network({ L1: [cored, "in", "w"], woofer: [resistor(8), "w", "gnd"] });
 * valueAt(solve(low, [100, 1000]).impedance, 1000).re; // 8.3315
 * ```
 */
export function part<const N extends 2 | 3 | 4 = 2>(options: {
  readonly title: string;
  readonly terminals?: N | undefined;
  readonly branches: readonly { readonly from?: number | undefined; readonly to?: number | undefined; readonly law: LawData }[];
}): CustomPart<N> {
  const caller = "part";
  const { title, terminals = 2, branches } = checkOptions(caller, options, ["title", "terminals", "branches"]);
  if (typeof title !== "string" || title.trim() === "" || title.length > 80)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "title" must be words of at most 80 characters, got ${show(title)}`,
      'As in "Cored coil"',
    );
  checkNumber(caller, "terminals", terminals, { min: 2, max: 4, integer: true });
  const list = checkList<unknown>(caller, "branches", branches, "{ from, to, law }");
  if (list.length === 0 || list.length > MOST_BRANCHES)
    throw new DividingNetworkError("invalid-argument", `${caller}: "branches" must be 1 to ${MOST_BRANCHES} branches, got ${list.length}`);
  const own = list.map((each, index): CustomBranch => {
    const {
      from = 0,
      to = 1,
      law,
    } = checkOptions(`${caller}: branches[${index}]`, each as { readonly from?: unknown; readonly to?: unknown; readonly law?: unknown }, [
      "from",
      "to",
      "law",
    ]);
    const terminal = (end: string, value: unknown) =>
      checkNumber(caller, `branches[${index}].${end}`, value, { min: 0, max: terminals - 1, integer: true });
    if (terminal("from", from) === terminal("to", to))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "branches[${index}]" must lie between two terminals, got both ends at ${show(from)}`,
      );
    return { from: from as number, to: to as number, law: checkLaw(caller, `branches[${index}].law`, law) };
  });
  const names = own.flatMap(({ law }) => compoundLaw(law).law.parameters);
  const twice = names.find((name, index) => names.indexOf(name) < index);
  if (twice !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: each value of a part must have a name of its own, got two of ${show(twice)}`,
      'Give laws their names: resistive(300, "coreLoss")',
    );
  const first = own.findIndex(({ from, to }) => Math.min(from, to) === 0);
  if (first !== 0 || own[0]!.from !== 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "branches[0]" must begin at terminal 0, got ${own[0]!.from}`,
      "The current of a part is that into its first terminal",
    );
  if (own.slice(1).some(({ from, to }) => from === 0 || to === 0))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: only "branches[0]" may end at terminal 0, got another`,
      "Put laws between the same terminals in parallel: inParallel(…)",
    );
  for (let at = 0; at < terminals; at++)
    if (!own.some(({ from, to }) => from === at || to === at))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: each of the ${terminals} terminals must have a branch, got none at terminal ${at}`,
      );
  return owned({ kind: "custom", title, terminals: terminals as N, branches: own });
}

const SYMBOLS = {
  resistance: "resistor",
  inductance: "inductor",
  capacitance: "capacitor",
  fractional: "inductor",
} as const satisfies Readonly<Record<string, PartSymbol["symbol"]>>;

/** The first leaf of a law: its main value. */
function leafOf(law: LawData): Exclude<LawData, { readonly of: unknown }> {
  return "of" in law ? leafOf(law.of[0]!) : law;
}

/** The values of a law as the trade writes them, in order. */
function wordsOf(law: LawData): readonly (readonly [name: string, value: string])[] {
  if ("of" in law) return law.of.flatMap(wordsOf);
  if (law.law === "fractional") return [[law.name === "" ? "K(jω)ⁿ" : law.name, `K ${fewDigits(law.k, 4)}, n ${fewDigits(law.n, 4)}`]];
  return [[law.name, formatQuantity(law.value, law.law === "resistance" ? "Ω" : law.law === "inductance" ? "H" : "F")]];
}

export const customKind: PartKind<CustomPart> = {
  noun: "custom part",
  maker: "part",
  joins: "nodes",
  expand: (given) => {
    // What isn't made by `part` is looked at here, as the values of every part are.
    const { terminals, branches } = part<2 | 3 | 4>({ title: given.title, terminals: given.terminals, branches: given.branches });
    return { terminals, branches: branches.map(({ from, to, law }) => ({ from, to, ...compoundLaw(law) })) };
  },
  terminals: ({ terminals }) => (terminals === 2 ? undefined : Array.from({ length: terminals }, (_, index) => `terminal ${index + 1}`)),
  remark: ({ title }) => title,
  heats: ({ branches }) => branches.some(({ law }) => leafOf(law).law === "resistance"),
  words({ title, branches }) {
    const [[, first], ...rest] = branches.flatMap(({ law }) => wordsOf(law)) as [
      readonly [string, string],
      ...(readonly [string, string])[],
    ];
    return [`${title} ${first}`, rest.map(([name, value]) => `${name} ${value}`).join(", ")];
  },
  symbols: ({ branches }) =>
    branches.map(({ from, to, law }, index) => {
      const main = leafOf(law);
      return {
        suffix: branches.length === 1 ? "" : String(index + 1),
        symbol: "of" in law && law.of.length > 2 ? "box" : SYMBOLS[main.law],
        value: wordsOf(main)[0]![1],
        from,
        to,
      };
    }),
};

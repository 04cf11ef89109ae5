import type { Redesign, Redesigned } from "../design";
import { checkList, checkNumber, checkObject, checkOptions } from "../errors/internal";
import { fragment, type Entries } from "../network";
import { describePart, isDriver } from "../parts/internal";
import { listOf, percent } from "../quantity/internal";
import { checkText } from "./markup";
import { textTable, type TextTableOptions } from "./text-table";
import { columnsOf, wrapText } from "./text-width";

const WHAT_WAS_DRAWN = "what drawn loudspeakers come to";

/** Which columns stand only where networks were chosen by drawn loudspeakers. */
interface Drawn {
  readonly loss: boolean;
  readonly yield: boolean;
}

const columnsFor = (drawn: Drawn): readonly TextTableOptions["columns"][number][] => [
  { label: "Parts", align: "right" },
  { label: "Loss, dB", align: "right" },
  ...(drawn.loss ? ([{ label: "Drawn, dB", align: "right" }] as const) : []),
  ...(drawn.yield ? ([{ label: "Good", align: "right" }] as const) : []),
  { label: "Level, dB", align: "right" },
  { label: "Price", align: "right" },
  { label: "Topology" },
  { label: "What is in it" },
];

/**
 * The networks that a redesign found as a table for the terminal: for each its parts, loss, level, what it costs, and what is in it, with `robust` the loss and the share of good ones of the loudspeakers drawn; below it what is proven of each, and what each of its parts does: the loss without it.
 *
 * @param found from `redesign`: losses in dB, levels in dB re 20 µPa, prices in the stock's currency
 * @param options `width` of the terminal in columns (dimensionless), default 100
 * @returns text, lines of at most `width` columns
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { capacitor, network, resistor } from "dividing-network";
 * import { redesignText } from "dividing-network/report";
 *
 * const one = network({ C1: [capacitor("6.8 µF"), "in", "t"], tweeter: [resistor(6), "t", "gnd"] });
 * const member = { network: one, lossDb: 1.2, parts: 1, levelDb: 87, taken: {}, topology: "high-pass", polarity: {}, lossWithoutDb: {}, lowerBoundDb: 1.2, proven: true, networks: 40, proof: "none of 40 networks of up to 1 parts (2 topologies) is better" } as const;
 * redesignText({ front: [member], topologies: 1, unfinished: 0, complete: true }).includes("C1 Capacitor 6.8 µF"); // true
 * ```
 */
export function redesignText(found: Redesign, options: { readonly width?: number | undefined } = {}): string {
  const caller = "redesignText";
  const { front, floor } = checkObject(caller, "found", found, "what redesign found");
  const { width: columns = 100 } = checkOptions(caller, options, ["width"]);
  const width = checkNumber(caller, "width", columns, { min: 20, max: 1000, integer: true });
  const members = checkList<Redesigned>(caller, "found.front", front, "networks");
  const drawn: Drawn = {
    loss: members.some((member) => member?.robust !== undefined),
    yield: members.some((member) => member?.robust?.yield !== undefined),
  };
  const rows = members.map((member, index) => row(caller, `found.front[${index}]`, member, drawn));
  const table = textTable({ columns: columnsFor(drawn), rows, width });
  const proofs = members.map(({ parts, proof, heldBackDb }, index) => {
    const place = `found.front[${index}]`;
    const held =
      heldBackDb === undefined
        ? ""
        : ` ${checkNumber(caller, `${place}.heldBackDb`, heldBackDb, { min: 0 }).toFixed(2)} dB at the places held back.`;
    return `${parts} parts: ${checkText(caller, `${place}.proof`, proof)}.${held}`;
  });
  const limits =
    floor === undefined
      ? []
      : [`All: ${checkText(caller, "found.floor.says", checkObject(caller, "found.floor", floor, "what driverFloor gives").says)}.`];
  return `${table}\n${[...drawnWords(caller, members), ...new Set(proofs), ...withoutWords(caller, members), ...limits].flatMap((words) => wrapText(words, width, columnsOf)).join("\n")}\n`;
}

/** What each part does: the loss without it. */
function withoutWords(caller: string, members: readonly Redesigned[]): readonly string[] {
  return members.flatMap(({ parts, lossDb, lossWithoutDb }, index) => {
    const place = `found.front[${index}].lossWithoutDb`;
    const all = Object.entries(checkObject(caller, place, lossWithoutDb, "dB by designator")).map(([name, without]) => {
      const said = without === Infinity ? "silence" : `${checkNumber(caller, `${place}.${name}`, without, { min: 0 }).toFixed(2)} dB`;
      return `${checkText(caller, place, name)} ${said}`;
    });
    return all.length === 0 ? [] : [`${parts} parts, ${lossDb.toFixed(2)} dB; without one of them: ${all.join(", ")}.`];
  });
}

/** What the columns of drawn loudspeakers hold. */
function drawnWords(caller: string, members: readonly Redesigned[]): readonly string[] {
  const counts = [
    ...new Set(
      members.flatMap(({ robust }, index) =>
        robust === undefined
          ? []
          : [checkNumber(caller, `found.front[${index}].robust.samples`, robust.samples, { min: 1, integer: true })],
      ),
    ),
  ];
  if (counts.length === 0) return [];
  const good = members.some(({ robust }) => robust?.yield !== undefined)
    ? ', "Good" how many of them keep the loss asked for and all limits'
    : "";
  return [
    `"Drawn" is the loss to be expected: root mean square over ${listOf(counts.map(String))} loudspeakers drawn of each within the tolerances of parts and drivers${good}.`,
  ];
}

function row(caller: string, place: string, member: Redesigned, drawn: Drawn): readonly string[] {
  const {
    parts,
    lossDb,
    robust,
    levelDb,
    price,
    topology,
    network,
    taken,
    combined = {},
  } = checkObject(caller, place, member, "a network that redesign found");
  const number = (name: string, value: number, digits: number): string =>
    checkNumber(caller, `${place}.${name}`, value, { min: -1e6, max: 1e9 }).toFixed(digits);
  const many = robust === undefined ? undefined : checkObject(caller, `${place}.robust`, robust, WHAT_WAS_DRAWN);
  const lines = checkObject(caller, `${place}.taken`, taken, "lines of a stock by designator");
  const wholes = checkObject(caller, `${place}.combined`, combined, "combinations by designator");
  const entries: Entries = fragment(network as never);
  const held = Object.entries(entries)
    .filter(([, [part]]) => !isDriver(part))
    .map(([name, [part]]) => {
      const whole: { readonly says?: unknown } | null | undefined = Object.hasOwn(wholes, name) ? wholes[name] : undefined;
      if (typeof whole?.says === "string") return `${name} ${describePart(part)[0]} (${whole.says})`;
      const line: { readonly name?: unknown } | null | undefined = Object.hasOwn(lines, name) ? lines[name] : undefined;
      return `${name} ${typeof line?.name === "string" ? line.name : describePart(part)[0]}`;
    });
  return [
    number("parts", parts, 0),
    number("lossDb", lossDb, 2),
    ...(drawn.loss ? [many === undefined ? "–" : number("robust.expectedLossDb", many.expectedLossDb, 2)] : []),
    ...(drawn.yield
      ? [many?.yield === undefined ? "–" : percent(checkNumber(caller, `${place}.robust.yield`, many.yield, { min: 0, max: 1 }), 2)]
      : []),
    number("levelDb", levelDb, 1),
    price === undefined ? "–" : number("price", price, 2),
    checkText(caller, `${place}.topology`, topology),
    held.join("; "),
  ];
}

import { DividingNetworkError } from "../../errors";
import { checkNumber, checkObject, checkOneOf, checkOptions, isProven, proved, show } from "../../errors/internal";
import { formatQuantity } from "../../quantity";
import { inSi, relativeTolerance, toleranceText } from "../../quantity/internal";
import { capacitor } from "../capacitor";
import { describePart } from "../describe";
import { inductor } from "../inductor";
import { resistor } from "../resistor";
import { mainValue, type BoughtPart, type StockLine, type StockPart } from "./stock-part";

const KINDS = ["resistor", "inductor", "capacitor"] as const;
const UNITS = { resistor: "Ω", inductor: "H", capacitor: "F" } as const;
const FACTS = ["name", "tolerance", "power", "voltage", "current", "price", "count"] as const;
const LOSSES = { resistor: [], inductor: ["dcr"], capacitor: ["esr", "dissipationFactor"] } as const;
/** Characters of a name. */
const LONGEST_NAME = 200;

/** Reads one line, with quantities in SI or as text; `what` names it in messages. */
export function readStockLine(caller: string, what: string, given: unknown): StockPart {
  if (isProven("line of a stock", given)) return given as StockPart;
  const line = checkObject(
    caller,
    what,
    given as StockLine,
    "an object of kind and value",
    'Write { kind: "capacitor", value: "6.8 µF" }',
  ) as Partial<Record<string, unknown>>;
  const at = (key: string) => (what === "" ? key : `${what}.${key}`);
  if (line["kind"] === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${at("kind")}" must be one of ${KINDS.map((kind) => `"${kind}"`).join(", ")}, got nothing`,
      "Say of each line what it is",
    );
  const kind = checkOneOf(caller, at("kind"), line["kind"], KINDS);
  const own = checkOptions(caller, line, ["kind", "value", ...LOSSES[kind], ...FACTS]);
  if (own["value"] === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${at("value")}" must be the part's value with its unit, got nothing`,
      `Write it as in ${show(kind === "resistor" ? "4.7 Ω" : kind === "inductor" ? "0.47 mH" : "6.8 µF")}`,
    );
  const value = inSi(caller, at("value"), own["value"], UNITS[kind], { above: 0 });
  const si = (key: string, unit: "Ω" | "W" | "V" | "A") =>
    own[key] === undefined ? undefined : inSi(caller, at(key), own[key], unit, unit === "Ω" ? {} : { above: 0 });
  const [dcr, esr] = [si("dcr", "Ω"), si("esr", "Ω")];
  const dissipationFactor =
    own["dissipationFactor"] === undefined ? undefined : checkNumber(caller, at("dissipationFactor"), own["dissipationFactor"], { min: 0 });
  if (esr !== undefined && dissipationFactor !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${at("esr")}" and "${at("dissipationFactor")}" describe the same loss, got both`,
      "Give the one that the data sheet states",
    );
  const [power, voltage, current] = [si("power", "W"), si("voltage", "V"), si("current", "A")];
  const tolerance = own["tolerance"] === undefined ? undefined : relativeTolerance(caller, at("tolerance"), own["tolerance"]);
  const part: BoughtPart =
    kind === "resistor"
      ? resistor(value, { power, tolerance })
      : kind === "inductor"
        ? inductor(value, { dcr: dcr ?? 0, current, tolerance })
        : capacitor(value, { ...(dissipationFactor === undefined ? { esr: esr ?? 0 } : { dissipationFactor }), voltage, tolerance });
  const lossKnown = kind === "resistor" || dcr !== undefined || esr !== undefined || dissipationFactor !== undefined;
  return proved(
    "line of a stock",
    Object.freeze({
      name: nameOf(caller, at("name"), own["name"], part),
      part,
      lossKnown,
      ...absent({
        tolerance,
        power,
        voltage,
        current,
        price: own["price"] === undefined ? undefined : checkNumber(caller, at("price"), own["price"], { min: 0 }),
        count: own["count"] === undefined ? undefined : checkNumber(caller, at("count"), own["count"], { min: 0, integer: true }),
      }),
    }),
  );
}

/** A line as it is written, quantities as text: what `readStockLine` reads back to the last bit. */
export function writeStockLine({ name, part, lossKnown, tolerance, power, voltage, current, price, count }: StockPart): StockLine {
  const text = (value: number | undefined, unit: "Ω" | "H" | "F" | "W" | "V" | "A") =>
    value === undefined ? undefined : formatQuantity(value, unit, { digits: "exact" });
  const loss = !lossKnown
    ? {}
    : part.kind === "inductor"
      ? { dcr: text(part.dcr, "Ω") }
      : part.kind === "capacitor"
        ? part.dissipationFactor > 0
          ? { dissipationFactor: part.dissipationFactor }
          : { esr: text(part.esr, "Ω") }
        : {};
  return Object.freeze({
    name,
    kind: part.kind,
    value: text(mainValue(part), UNITS[part.kind]),
    ...loss,
    ...absent({
      tolerance: tolerance === undefined ? undefined : toleranceText(tolerance),
      power: text(power, "W"),
      voltage: text(voltage, "V"),
      current: text(current, "A"),
      price,
      count,
    }),
  }) as unknown as StockLine;
}

function nameOf(caller: string, argument: string, value: unknown, part: BoughtPart): string {
  if (value === undefined)
    return describePart(part)
      .filter((word) => word !== "")
      .join(", ");
  if (typeof value !== "string" || value.trim() === "" || value.length > LONGEST_NAME || /\p{Cc}/u.test(value)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be text of 1 to ${LONGEST_NAME} characters on one line, got ${show(value)}`,
      "Leave it out to have it named by its value",
    );
  }
  return value.trim();
}

function absent<T extends object>(facts: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

import type { Capacitance, Current, Inductance, Power, Resistance, Voltage } from "../../quantity";
import type { Capacitor } from "../capacitor";
import type { Inductor } from "../inductor";
import type { Resistor } from "../resistor";

/** What a stock holds. */
export type StockKind = "resistor" | "inductor" | "capacitor";

/** A part without a driver in it, as it can be bought. */
export type BoughtPart = Resistor | Inductor | Capacitor;

/** What one line of a stock says beside the kind and the value of its part; all of it may be left out. */
export interface StockFacts {
  /** What it is called, or where it lies; default its value in words. */
  readonly name?: string | undefined;
  /** Largest deviation from its value: relative (0.05, dimensionless), or text with a percent sign (`"5 %"`). */
  readonly tolerance?: number | string | undefined;
  /** W that it bears in the long run. */
  readonly power?: Power | undefined;
  /** V that it bears. */
  readonly voltage?: Voltage | undefined;
  /** A that it bears. */
  readonly current?: Current | undefined;
  /** Of one piece, in whatever currency all prices have; dimensionless. */
  readonly price?: number | undefined;
  /** How many there are, dimensionless; left out: as many as are wanted. */
  readonly count?: number | undefined;
}

/** One line of a stock as it is written: quantities are numbers in SI or text with their unit. */
export type StockLine = StockFacts
  & (
    | {
        /** Marks a resistor. */
        readonly kind: "resistor";
        /** Ω. */
        readonly value: Resistance;
      }
    | {
        /** Marks a coil. */
        readonly kind: "inductor";
        /** H. */
        readonly value: Inductance;
        /** Ω: direct-current resistance. */
        readonly dcr?: Resistance | undefined;
      }
    | {
        /** Marks a capacitor. */
        readonly kind: "capacitor";
        /** F. */
        readonly value: Capacitance;
        /** Ω: equivalent series resistance; not beside a dissipation factor. */
        readonly esr?: Resistance | undefined;
        /** tan δ, dimensionless. */
        readonly dissipationFactor?: number | undefined;
      }
  );

/** One line of a stock as it was read; what isn't known is absent. */
export interface StockPart {
  /** What it is called, or where it lies. */
  readonly name: string;
  /** The part with its losses: Ω, H, F. */
  readonly part: BoughtPart;
  /** Whether the stock says what it loses; else it stands here without loss. A resistor has none. */
  readonly lossKnown: boolean;
  /** Largest deviation from its value, relative, dimensionless. */
  readonly tolerance?: number;
  /** W. */
  readonly power?: number;
  /** V. */
  readonly voltage?: number;
  /** A. */
  readonly current?: number;
  /** Of one piece, in the stock's currency; dimensionless. */
  readonly price?: number;
  /** How many there are, dimensionless; absent: as many as are wanted. */
  readonly count?: number;
}

/** Parts that can be had, each with its losses, ratings, price and count. */
export interface Stock {
  /** One for each line. */
  readonly parts: readonly StockPart[];
}

/** The kind under which a stock holds a part; `undefined` for what no stock holds. */
export function stockedKind(part: { readonly kind: string }): StockKind | undefined {
  return (["resistor", "inductor", "capacitor"] as const).find((kind) => kind === part.kind);
}

/** Whether a part is of a kind of stock. */
export function isStockKind(part: BoughtPart, kind: StockKind): boolean {
  return part.kind === kind;
}

/** Ω that a part loses at 1 kHz beside what it is bought for. */
export function lossAtOneKilohertz(part: BoughtPart): number {
  return part.kind === "inductor"
    ? part.dcr
    : part.kind === "capacitor"
      ? part.esr + part.dissipationFactor / (2 * Math.PI * 1000 * part.capacitance)
      : 0;
}

/** The value that a part is bought by: Ω, H or F. */
export function mainValue(part: BoughtPart): number {
  return part.kind === "resistor" ? part.resistance : part.kind === "inductor" ? part.inductance : part.capacitance;
}

import { DividingNetworkError } from "../errors";
import { valuesOfCoils, type CoilLaw, type PlainOptions, type RedesignPlan, type ValuesPlan } from "../design/internal";
import type { Loudspeaker } from "../loudspeaker";

/** What a worker must know before it can look at topologies: plain data alone. */
export interface Order {
  readonly caller: string;
  readonly loudspeaker: Loudspeaker;
  readonly options: PlainOptions;
  /** H and Ω of every coil that may be looked at, where a law of one's own says so: a function can't be sent. */
  readonly coils: readonly (readonly [number, number])[] | undefined;
}

/** The same of a search of values. */
export interface ValuesOrder {
  readonly caller: string;
  readonly loudspeaker: Loudspeaker;
  readonly options: ValuesPlan["order"]["options"];
}

/** What is sent to every worker. */
export function orderOf({ caller, order: { loudspeaker, options, law } }: RedesignPlan): Order {
  return { caller, loudspeaker, options, coils: law === undefined ? undefined : tableOf(law, options) };
}

function tableOf(law: CoilLaw, options: PlainOptions): readonly (readonly [number, number])[] {
  return valuesOfCoils(options).flatMap((inductance) => {
    try {
      return [[inductance, law(inductance)] as const];
    } catch {
      // A law may not reach as far as this list; what is asked for and missing is refused below.
      return [];
    }
  });
}

/** The law of an order's coils. */
export function lawOf({ caller, coils }: Order): CoilLaw | undefined {
  if (coils === undefined) return undefined;
  const known = new Map(coils);
  return (inductance) => {
    const resistance = known.get(inductance);
    if (resistance !== undefined) return resistance;
    throw new DividingNetworkError("invalid-argument", `${caller}: "coilResistance" must give Ω for a coil of ${inductance} H, and didn't`);
  };
}

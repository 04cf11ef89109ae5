import type { SuspectedFault } from "./suspected-fault";

/** A single fault that would explain why the loudspeaker isn't what the drawing says. */
export interface Suspect extends SuspectedFault {
  /** What is left, root mean square, in units of the repeatability; dimensionless. */
  readonly misfit: number;
  /** Whether this fault alone leaves no more than the repeatability, of pressures and of impedance. Where the first suspect doesn't, more than one thing is wrong, or a measurement is. */
  readonly explains?: boolean;
  /** Faults that this measurement can't tell from this one, each with its own best value. */
  readonly alike?: readonly SuspectedFault[];
  /** Which one measurement would tell them apart, in words; absent where nothing is alike. */
  readonly wouldTell?: string;
}

/** A fault that was tried. */
export interface Found extends SuspectedFault {
  readonly misfit: number;
  readonly residuals: Float64Array;
  /** What was fitted. */
  readonly unknowns: readonly number[];
  /** The same for the same fault on another grid. */
  readonly key: string;
  /** More than the tenth by which parts are bought, or no matter of value at all. */
  readonly beyondTolerance: boolean;
  /** Whether the part would be as it is drawn: its own value, and no ohms beside it. */
  readonly unchanged: boolean;
}

const MOST = 10;

/** Best first; what differs from a better one by less than the measurement tells is named beside it. */
export function groups(
  ranked: readonly Found[],
  count: number,
  measured: { readonly pressures: readonly unknown[]; readonly impedance?: unknown },
  within: (residuals: Float64Array) => boolean,
): readonly Suspect[] {
  const leaders: { readonly lead: Found; readonly alike: Found[] }[] = [];
  for (const found of ranked) {
    const group = leaders.find(
      ({ lead }) => distance(lead.residuals, found.residuals) < Math.max(0.02, 6 * lead.misfit * Math.sqrt(3 / count)),
    );
    if (group !== undefined) group.alike.push(found);
    else if (leaders.length < MOST) leaders.push({ lead: found, alike: [] });
  }
  return Object.freeze(
    leaders.map(({ lead, alike }) => {
      const plain = ({ parts, fault, value, unit, capacitance, to }: Found) =>
        Object.freeze({
          parts: Object.freeze([...parts]),
          fault,
          ...(value === undefined ? {} : { value }),
          ...(unit === undefined ? {} : { unit }),
          ...(capacitance === undefined ? {} : { capacitance }),
          ...(to === undefined ? {} : { to }),
        });
      return Object.freeze({
        ...plain(lead),
        misfit: lead.misfit,
        explains: within(lead.residuals),
        ...(alike.length === 0 ? {} : { alike: Object.freeze(alike.map(plain)), wouldTell: wouldTell([lead, ...alike], measured) }),
      });
    }),
  );
}

function distance(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i]! - b[i]!) ** 2;
  return Math.sqrt(sum);
}

/** The one measurement that would tell a group apart. */
function wouldTell(
  group: readonly Found[],
  { pressures, impedance }: { readonly pressures: readonly unknown[]; readonly impedance?: unknown },
): string {
  const across = group.find(({ unknowns, fault }) => fault === "short" && unknowns.length > 0);
  if (across !== undefined)
    return `Take the wires off behind the terminals, with no charge left in any capacitor, and measure the resistance from ${across.parts.join(" to ")}: what stays lies before the parts that are drawn`;
  const parts = [...new Set(group.flatMap(({ parts: named }) => named))].join(", ");
  if (group.some(({ fault }) => fault === "drive"))
    return `Measure ${parts} once more, with a meter at the terminals: what was noted of its voltage, or the gain of the input, may be wrong`;
  if (impedance === undefined) return "The impedance of the whole would tell most of these apart";
  if (group.every(({ fault }) => fault === "reversed"))
    return `One driver alone, measured through the network on the same time zero, shows its sign; so does a look at which wire goes to the + of ${parts}`;
  if (pressures.length === 0)
    return "The sound pressure on the axis would tell those apart that change the sum; impedance can't see a driver's polarity";
  return `Lift one lead of each and measure ${parts} alone, with no charge left in any capacitor`;
}

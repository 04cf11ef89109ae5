/** What stands between the filter and a driver that is too loud: nothing, a resistor in series, or a resistor in series and one across. */
export type Pad = "none" | "series" | "divider";

/** How one group of drivers is fed. */
export interface BranchTopology {
  /** `"woofer"`, `"midrange"` or `"tweeter"`. */
  readonly role: string;
  /** Elements of the high-pass, 0 where there is none. */
  readonly highPass: number;
  /** Elements of the low-pass, 0 where there is none. */
  readonly lowPass: number;
  /** Whether a resistor and a capacitor across the driver level its coil. */
  readonly zobel: boolean;
  readonly pad: Pad;
  /** Whether the resistors stand before the filter. */
  readonly padFirst?: boolean;
  /** Whether a capacitor bridges the first coil of the low-pass, or else the resistor in series. */
  readonly bypass?: boolean;
  /** A coil, a capacitor and a resistor that take a peak away: one after the other across the driver, or beside one another before it. */
  readonly trap?: "across" | "series";
  /** How two drivers of one role hang together: the second after the first, or beside it behind a coil of its own; absent: side by side. */
  readonly pair?: "in series" | "rolled off";
}

/** How many parts are bought for it. */
export function partCount(way: BranchTopology): number {
  return (
    way.highPass
    + way.lowPass
    + (way.zobel ? 2 : 0)
    + (way.pad === "none" ? 0 : way.pad === "series" ? 1 : 2)
    + (way.bypass === true ? 1 : 0)
    + (way.trap === undefined ? 0 : 3)
    + (way.pair === "rolled off" ? 1 : 0)
  );
}

/** A topology in a few words. */
export function saysWay({ role, highPass, lowPass, zobel: flat, pad, padFirst, bypass, trap, pair }: BranchTopology): string {
  const says = [
    highPass > 0 ? `high-pass of ${highPass}` : "",
    lowPass > 0 ? `low-pass of ${lowPass}` : "",
    flat ? "Zobel network" : "",
    pad === "none"
      ? ""
      : `${pad === "series" ? "series resistor" : "resistors in series and across"}${padFirst === true ? " before it" : ""}`,
    bypass === true ? (lowPass > 0 ? "coil bridged by a capacitor" : "resistor bridged by a capacitor") : "",
    trap === undefined ? "" : trap === "across" ? "trap across" : "trap in series",
    pair === undefined ? "" : pair === "in series" ? "drivers in series" : "second driver rolled off lower",
  ];
  return `${role}: ${says.filter((word) => word !== "").join(", ")}`;
}

/** One word for a branch. */
export function keyOf({ role, highPass, lowPass, zobel: flat, pad, padFirst, bypass, trap, pair }: BranchTopology): string {
  const more = [padFirst === true ? "first" : "", bypass === true ? "bypass" : "", trap ?? "", pair ?? ""]
    .filter((word) => word !== "")
    .map((word) => `/${word}`)
    .join("");
  return `${role}/${highPass}/${lowPass}/${flat ? "zobel" : ""}/${pad}${more}`;
}

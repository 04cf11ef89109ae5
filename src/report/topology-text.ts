import { listOf } from "../quantity/internal";
import { fragment, type Entries } from "../network";
import { driverPaths, type DriverPath, type Shunt, type Step } from "./build-sheet/driver-paths";

/**
 * How a network feeds its drivers, in sentences: what each is fed through, what stands across it, which of them are in series, and
 * which is connected with its + away from `in`. Read from the same nested chains and groups as the ladders of `schematic`.
 *
 * @param network entries keyed by designator; dimensionless
 * @returns sentences without numbers; for a network with a bridge, a loose end or a second winding, one that says so
 * @throws DividingNetworkError `malformed-network`
 * @example
 * ```ts
 * import { capacitor, driverImpedance, network } from "dividing-network";
 * import { topologyText } from "dividing-network/report";
 *
 * topologyText(network({ C3: [capacitor("6.8 µF"), "in", "t"], tweeter: [driverImpedance({ re: 6 }), "t", "gnd"] })); // ["C3 feeds the tweeter."]
 * ```
 */
export function topologyText(network: Entries): readonly string[] {
  const paths = driverPaths(fragment(network as never));
  if (paths === undefined)
    return Object.freeze(["This network is no ladder: it has a bridge, a loose end or a second winding. Follow the joints one by one."]);
  if (paths.length === 0) return Object.freeze(["No part of this network is a driver."]);
  const input = new Map(paths.flatMap(({ shunts }) => shunts.filter(atInput).map((shunt) => [shunt.what, shunt] as const)));
  return Object.freeze([
    ...paths.map(sentence),
    ...Array.from(input.values(), ({ what, plural }) => `${what} ${plural ? "stand" : "stands"} across the input, from in to gnd.`),
  ]);
}

function atInput({ nodes: [from, to], acrossDriver }: Shunt): boolean {
  return from === "in" && to === "gnd" && !acrossDriver;
}

function sentence({ driver, reversed, feeds, returns, shunts, inSeriesWith }: DriverPath): string {
  const chain = feeds.map(({ what, plural }) => (plural && feeds.length > 1 ? `(${what})` : what)).join(", then ");
  const series = inSeriesWith.length === 0 ? "" : ` in series with ${listOf(inSeriesWith.map((name) => `the ${name}`))}`;
  const fed =
    feeds.length > 0
      ? `${chain} ${several(feeds) ? "feed" : "feeds"} the ${driver}${series}`
      : series === "" && returns.length === 0
        ? `The ${driver} stands at the input, from in to gnd`
        : `The ${driver} stands${series === "" ? " at in" : series}`;
  const back =
    returns.length === 0
      ? []
      : [`${listOf(returns.map(({ what }) => what))} ${several(returns) ? "stand" : "stands"} between it and the return`];
  const across = shunts
    .filter((shunt) => !atInput(shunt))
    .map(({ what, plural, after, acrossDriver, nodes }) => {
      const where = acrossDriver ? "across it" : after === 0 ? "across what follows" : `after ${feeds[after - 1]!.what}`;
      return `${what} ${plural ? "stand" : "stands"} ${where}, from ${nodes[0]} to ${nodes[1]}`;
    });
  const turned = reversed ? [`its − looks towards in: it is connected the other way round`] : [];
  return `${[fed, ...back, ...across, ...turned].join("; ")}.`;
}

function several(steps: readonly Step[]): boolean {
  return steps.length > 1 || steps.some(({ plural }) => plural);
}

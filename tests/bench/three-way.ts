// The network of the bench with its drivers as tables: 13 unknown nodes, 25 branches, four outputs.
import { driverImpedance, join, network, solve, type Entries } from "dividing-network";
import { drivers, expanded, grid, passive } from "./three-way-parts";

export { asParts, grid, OUTPUTS, POINTS } from "./three-way-parts";

/** Drivers as tables on the bench's own grid. */
export const tabulated: Entries = network(
  join(
    passive,
    Object.fromEntries(
      Object.entries(drivers).map(([name, { node, ...values }]) => {
        const alone = solve(
          Object.fromEntries(
            Object.entries(expanded(name, node, values)).map(([part, [kind, ...nodes]]) => [
              part,
              [kind, ...nodes.map((at) => (at === node ? "in" : at))],
            ]),
          ) as unknown as Entries,
          grid,
        );
        return [name, [driverImpedance(alone.impedance), node, "gnd"]];
      }),
    ) as Entries,
  ),
);

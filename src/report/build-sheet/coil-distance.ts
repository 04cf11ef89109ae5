import type { Entries } from "../../network";
import { couplingFromPlacement, smallestCoil } from "../../parts";
import { isCoil } from "../../parts/internal";

/** The coupling factor that is taken as none, dimensionless: what it does is computed and said. */
export const SMALL = 0.01;

/** m between the middles of two coils that lie the same way, side by side, beyond which they couple by less than `SMALL`: the pair that needs most. */
export function distanceApart(
  network: Entries,
  coils: readonly string[],
): { readonly distance: number; readonly pair: readonly [string, string] } | undefined {
  const shapes = coils
    .flatMap((name) => {
      const [part] = network[name]!;
      if (!isCoil(part) || part.dcr === 0) return [];
      const { innerRadius: side, turns } = smallestCoil({ inductance: part.inductance, dcr: part.dcr });
      // Beyond half a metre across it is no coil of a loudspeaker, and its data are a slip.
      return side < 0.125 ? [{ name, winding: { turns: Math.max(1, turns), meanRadius: 1.5 * side, length: side, depth: side } }] : [];
    })
    .sort((a, b) => b.winding.meanRadius - a.winding.meanRadius);
  const [first, second] = shapes;
  if (first === undefined || second === undefined) return undefined;
  const outer = 2 * (first.winding.length + second.winding.length);
  const close = (distance: number) =>
    Math.abs(couplingFromPlacement(first.winding, second.winding, { x: distance, y: 0, z: 0, axis: { x: 0, y: 0, z: 1 } }).k) >= SMALL;
  if (!close(outer)) return { distance: outer, pair: [first.name, second.name] };
  // It falls with about the third power of the distance, so that 20 diameters are always far enough.
  let [near, far] = [outer, 20 * outer];
  while (far - near > 0.002) {
    const middle = (near + far) / 2;
    if (close(middle)) near = middle;
    else far = middle;
  }
  return { distance: far, pair: [first.name, second.name] };
}

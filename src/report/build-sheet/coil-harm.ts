import { compile, type Entries } from "../../network";
import { coupling } from "../../parts";
import { isCoil } from "../../parts/internal";
import { levelDb } from "../../response";

/** What is left of coupling, in words; empty where it wasn't computed. */
export function harmText(harm: number | undefined): string {
  return harm === undefined
    ? ""
    : `, and no driver’s voltage changes by more than ${harm < 0.01 ? "0.01" : harm.toFixed(2)} dB in its passband`;
}

/** dB: by how much the drivers' voltages change where they are within 10 dB of their highest, with one coupling factor between all coils. */
export function harmOf(
  network: Entries,
  wound: readonly string[],
  drivers: readonly string[],
  frequencies: Float64Array,
  factor: number,
): number | undefined {
  // What isn't a plain coil can't be coupled in a network.
  const coils = wound.filter((name) => isCoil(network[name]![0]));
  if (coils.length < wound.length || coils.length > 6 || frequencies.length === 0) return undefined;
  const pairs = coils.flatMap((a, index) => coils.slice(index + 1).map((b) => [a, b] as const));
  const worst = [1, -1].map((sign) => {
    const couplings = Object.fromEntries(pairs.map(([a, b], index) => [unusedName(network, index), [coupling(sign * factor), a, b]]));
    const [plain, close] = [network, { ...network, ...couplings } as Entries].map((entries) =>
      compile<Entries>(entries as never).sweep(frequencies),
    );
    return Math.max(
      ...drivers.map((name) => {
        const [a, b] = [levelDb(plain!.voltage(name)), levelDb(close!.voltage(name))];
        const top = a.reduce((most, value) => Math.max(most, value), -Infinity);
        return a.reduce((most, value, index) => (value > top - 10 ? Math.max(most, Math.abs(value - b[index]!)) : most), 0);
      }),
    );
  });
  return Math.max(...worst);
}

/** A designator that neither a part nor a node of the network has. */
function unusedName(network: Entries, index: number): string {
  const taken = new Set(Object.entries(network).flatMap(([name, [, ...nodes]]) => [name, ...nodes]));
  let name = `K${index}`;
  while (taken.has(name)) name = `K${name}`;
  return name;
}

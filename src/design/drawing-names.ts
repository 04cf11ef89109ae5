import type { Drawing } from "./drawing-data";

/** What a drawing's parts and nodes are called when it is handed over: L1, C1, R1 and n1 and so on, none of them a driver's name. */
export function namesFor({ network, slots }: Drawing): ReadonlyMap<string, string> {
  const drivers = new Set(Object.keys(network).filter((name) => !Object.hasOwn(slots, name)));
  const counts: Record<string, number> = {};
  const names = new Map<string, string>([
    ["in", "in"],
    ["gnd", "gnd"],
  ]);
  const give = (own: string, letter: string) => {
    if (names.has(own)) return;
    do counts[letter] = (counts[letter] ?? 0) + 1;
    while (drivers.has(`${letter}${counts[letter]}`));
    names.set(own, `${letter}${counts[letter]}`);
  };
  for (const [name, [, ...nodes]] of Object.entries(network)) {
    if (drivers.has(name)) names.set(name, name);
    else give(name, { inductor: "L", capacitor: "C", resistor: "R" }[slots[name]!.kind]);
    for (const node of nodes) give(node, "n");
  }
  return names;
}

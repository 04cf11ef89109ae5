import { capacitor, inductor, type Entries } from "dividing-network";

/** A low-pass ladder with so many nodes, the last of them `n${nodes - 1}`. */
export function ladderOf(nodes: number): Entries {
  return Object.fromEntries(
    Array.from({ length: nodes }, (_, k) => [
      [`L${k}`, [inductor(1e-3, { dcr: 0.1 }), k === 0 ? "in" : `n${k - 1}`, `n${k}`]],
      [`C${k}`, [capacitor(1e-6, { esr: 0.01 }), `n${k}`, "gnd"]],
    ]).flat(),
  ) as Entries;
}

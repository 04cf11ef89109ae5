// Coupling of two coils from their places: time of a call and its stated error, for coils apart, close, tilted and touching; the self-inductance of a section.
import { couplingFromPlacement, leastCoupling, windingInductance, type CoilPlace, type Winding } from "dividing-network/parts";

const large: Winding = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" };
const small: Winding = { turns: 90, meanRadius: "13 mm", length: "15 mm", depth: "8 mm" };
const places: readonly (readonly [string, Winding, Winding, CoilPlace])[] = [
  ["side by side, 80 mm", large, large, { x: "80 mm", y: 0, z: 0 }],
  ["at right angles, off both planes", large, small, { x: "50 mm", y: "10 mm", z: "30 mm", axis: { x: 1, y: 0, z: 0 } }],
  ["skew, 0.3 m", large, small, { x: "0.3 m", y: "0.1 m", z: "0.2 m", axis: { x: 1, y: 2, z: 3 } }],
  ["coaxial, touching", large, large, { x: 0, y: 0, z: "20 mm" }],
  ["side by side, 0.1 mm apart", large, large, { x: "58.1 mm", y: 0, z: 0 }],
];

/** Milliseconds of processor time of a call, which other programs on the machine do not lengthen much: the mean of many. */
function time(call: () => void, times: number): number {
  for (let i = 0; i < times; i++) call();
  const start = process.cpuUsage().user;
  for (let i = 0; i < times; i++) call();
  return (process.cpuUsage().user - start) / 1e3 / times;
}

export function bench(): { name: string; lines: string[] } {
  const rows = places.map(([name, a, b, place]) => {
    const { k, error } = couplingFromPlacement(a, b, place);
    return `| ${name} | ${time(() => void couplingFromPlacement(a, b, place), 20).toFixed(1)} ms | ${k.toPrecision(4)} | ${Math.abs(error / k).toExponential(0)} |`;
  });
  const board = time(() => void leastCoupling({ coils: [large, small, small], board: { width: "20 cm", depth: "12 cm" } }), 1);
  return {
    name: "Coupling of coils from their places",
    lines: [
      "`couplingFromPlacement` of two air coils, both self-inductances included: processor time of a call, k, and the stated error relative to it.",
      "",
      "| place | time | k | error/k |",
      "|---|---|---|---|",
      ...rows,
      "",
      `A self-inductance (\`windingInductance\`) takes ${time(() => void windingInductance(large), 50).toFixed(2)} ms; \`leastCoupling\` of three coils ${(board / 1000).toFixed(1)} s.`,
    ],
  };
}

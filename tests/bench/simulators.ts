// Two general circuit simulators on the network with its drivers as parts: the native one where it is installed, and the
// same family compiled to WebAssembly. Start, parsing and printing are taken out by differences of repeats.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Entries } from "dividing-network";
import { OUTPUTS } from "./three-way";

function netlist(entries: Entries): string[] {
  const node = (name: string) => (name === "gnd" ? "0" : `n_${name}`);
  const lines = [`V1 ${node("in")} 0 DC 0 AC 1`];
  for (const [name, [part, first, second]] of Object.entries(entries)) {
    const [a, b] = [node(first), node(second)];
    const lossy = (letter: string, value: number, loss: number) =>
      lines.push(
        ...(loss === 0
          ? [`${letter}${name} ${a} ${b} ${value}`]
          : [`${letter}${name} ${a} x_${name} ${value}`, `R${name} x_${name} ${b} ${loss}`]),
      );
    if (part.kind === "resistor") lines.push(`R${name} ${a} ${b} ${part.resistance}`);
    else if (part.kind === "inductor") lossy("L", part.inductance, part.dcr);
    else if (part.kind === "capacitor") lossy("C", part.capacitance, part.esr);
  }
  return lines;
}

// 1 000 points: 333 a decade over three decades, and one more.
const AC = "dec 333 20 20000";

/** Milliseconds per sweep of the native simulator; undefined where it isn't installed. */
export function nativeSimulator(entries: Entries): number | undefined {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  try {
    const time = (repeats: number): number => {
      const file = join(folder, `run${repeats}.cir`);
      writeFileSync(
        file,
        [
          "bench",
          ...netlist(entries),
          `.save ${OUTPUTS.map((name) => `v(n_${name})`).join(" ")}`,
          ".control",
          `repeat ${repeats}`,
          `ac ${AC}`,
          "destroy all",
          "end",
          "quit 0",
          ".endc",
          ".end",
          "",
        ].join("\n"),
      );
      const start = performance.now();
      execFileSync("ngspice", ["-b", file], { stdio: "ignore" });
      return performance.now() - start;
    };
    time(5);
    const per = Array.from({ length: 5 }, () => (time(220) - time(20)) / 200).sort((a, b) => a - b);
    return per[2]!;
  } catch {
    return undefined;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Milliseconds per sweep of the simulator in WebAssembly: a netlist with the analysis of 1 000 points less one of few. */
export async function wasmSimulator(entries: Entries): Promise<number> {
  const { Simulation } = await import("eecircuit-engine");
  const simulation = new Simulation();
  await simulation.start();
  const run = async (points: string): Promise<number> => {
    simulation.setNetList(
      [
        "bench",
        ...netlist(entries),
        `.save ${OUTPUTS.map((name) => `v(n_${name})`).join(" ")}`,
        ".options noopac",
        `.ac ${points}`,
        ".end",
        "",
      ].join("\n"),
    );
    const start = performance.now();
    await simulation.runSim();
    return performance.now() - start;
  };
  await run(AC);
  const per: number[] = [];
  for (let i = 0; i < 9; i++) per.push((await run(AC)) - (await run("dec 3 20 20000")));
  return per.sort((a, b) => a - b)[4]!;
}

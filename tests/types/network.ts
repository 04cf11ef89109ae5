// Compiled, never run: each @ts-expect-error must be an error, and everything else must compile.
import {
  compile,
  fragment,
  join,
  network,
  solve,
  type Entries,
  type Entry,
  type Network,
  type NodeName,
  type PartName,
} from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";

declare const grid: Float64Array;
declare const anyText: string;

// Wrong units.
// @ts-expect-error a capacitance is no inductance
inductor("6.8 µF");
// @ts-expect-error an inductance is no resistance
inductor("0.33 mH", { dcr: "0.24 mH" });
// @ts-expect-error a resistor's marking is no capacitance
capacitor("4R7");
// @ts-expect-error a frequency is no inductance
driverImpedance({ re: "5 Ω", le: "800 Hz" });
// @ts-expect-error an unknown option
capacitor("6.8 µF", { tanDelta: 0.01 });
// @ts-expect-error ohms are given with their unit
network({ R1: [resistor("4.7"), "in", "gnd"] });

// Designators and nodes type the answers.
const highPass = network({
  C1: [capacitor("6.8 µF"), "in", "a"],
  L1: [inductor("0.33 mH"), "a", "gnd"],
  L2: [inductor("0.1 mH"), "a", "t"],
  K1: [coupling(0.01), "L1", "L2"],
  tweeter: [driverImpedance({ re: "5 Ω" }), "t", "gnd"],
});
const sweep = solve(highPass, grid);
sweep.voltage("tweeter");
sweep.voltage("a");
sweep.voltage("in");
sweep.voltage("gnd");
sweep.voltageBetween("a", "t");
sweep.voltageBetween("in", "gnd");
sweep.current("C1");
compile(highPass).sweep(grid).voltage("tweeter");
solve(highPass, [100, 200], { sourceImpedance: { resistance: "0.1 Ω", inductance: "2 µH" } });
// @ts-expect-error no such part or node
sweep.voltage("tweeetr");
// @ts-expect-error no such node
compile(highPass).sweep(grid).voltage("b");
// @ts-expect-error no such part
sweep.current("C2");
// @ts-expect-error a node carries no current
sweep.current("a");
// @ts-expect-error a coupling carries no current
sweep.current("K1");
// @ts-expect-error a coupling has no voltage
sweep.voltage("K1");
// @ts-expect-error a part is not a node
sweep.voltageBetween("a", "tweeter");
// @ts-expect-error an unknown option
solve(highPass, grid, { sourceImpedence: 0.1 });
// @ts-expect-error a capacitance is no source impedance
solve(highPass, grid, { sourceImpedance: "1 µF" });

// The number of terminals.
// @ts-expect-error one terminal too few
network({ R1: [resistor(1), "in"] });
// @ts-expect-error one terminal too many
network({ R1: [resistor(1), "in", "a", "gnd"] });
// @ts-expect-error an L-pad has three
network({ P1: [lPad({ attenuationDb: 3, load: 8 }), "in", "gnd"], R1: [resistor(8), "in", "gnd"] });
// @ts-expect-error a transformer has four
network({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s"], R1: [resistor(8), "s", "gnd"] });
// @ts-expect-error a node is text
network({ R1: [resistor(1), "in", 0] });
// @ts-expect-error no part
network({ R1: [{ kind: "diode" }, "in", "gnd"] });
network({
  P1: [lPad({ attenuationDb: 3, load: 8 }), "in", "t", "gnd"],
  T1: [transformer({ ratio: 2 }), "t", "gnd", "s", "gnd"],
  R1: [resistor(8), "s", "gnd"],
});

// Couplings.
// @ts-expect-error a coupling to a part that isn't there
network({ L1: [inductor("1 mH"), "in", "a"], R1: [resistor(1), "a", "gnd"], K1: [coupling(0.1), "L1", "L2"] });
// @ts-expect-error a coupling to a capacitor
network({ L1: [inductor("1 mH"), "in", "a"], C1: [capacitor("1 µF"), "a", "gnd"], K1: [coupling(0.1), "L1", "C1"] });
// @ts-expect-error a coupling of one coil
network({ L1: [inductor("1 mH"), "in", "a"], R1: [resistor(1), "a", "gnd"], K1: [coupling(0.1), "L1"] });
// @ts-expect-error a coupling to a node
network({ L1: [inductor("1 mH"), "in", "a"], R1: [resistor(1), "a", "gnd"], K1: [coupling(0.1), "L1", "a"] });

// Names.
// @ts-expect-error nothing touches the amplifier
network({ R1: [resistor(1), "inn", "gnd"] });
// @ts-expect-error nothing at all
network({});
// @ts-expect-error a part named as a node
network({ R1: [resistor(1), "in", "R2"], R2: [resistor(1), "R2", "gnd"] });
// @ts-expect-error a part named as the amplifier's terminal
network({ in: [resistor(1), "in", "gnd"] });
// @ts-expect-error a part named as the return
network({ R1: [resistor(1), "in", "gnd"], gnd: [resistor(1), "in", "gnd"] });
// @ts-expect-error a part of a fragment named as a node
fragment({ R1: [resistor(1), "a", "R1"] });
// @ts-expect-error a fragment's coupling to nothing
fragment({ L1: [inductor("1 mH"), "in", "a"], K1: [coupling(0.1), "L1", "L9"] });

// Joining.
const low = fragment({ L1: [inductor("1 mH"), "in", "w"], woofer: [resistor(6), "w", "gnd"] });
const high = fragment({ C1: [capacitor("10 µF"), "in", "x"], tweeter: [resistor(6), "x", "gnd"] });
const constant = { R9: [resistor(10), "x", "gnd"] } as const;
const both = solve(network(join(join(low, high), constant)), grid);
both.voltage("w");
both.voltage("x");
both.current("R9");
// @ts-expect-error no such name in either piece
both.voltage("y");
// @ts-expect-error both pieces have a woofer
join(low, { woofer: [resistor(4), "w", "gnd"] });
// @ts-expect-error both pieces have a C1
join(high, high);
solve(join(low, high), grid).voltage("tweeter");

// Networks made at run time.
const made: Record<string, Entry> = {};
made[anyText] = [resistor(1), "in", anyText];
const runtime = network(made);
solve(runtime, grid).voltage(anyText);
solve(runtime, grid).current(anyText);
solve(made, grid).voltageBetween(anyText, "gnd");
solve(join(made, low), grid).impedance;
join(made, made);
compile(Object.fromEntries([["R1", [resistor(1), "in", "gnd"] as const]]))
  .sweep(grid)
  .voltage("anything");
const entries: Entries = made;
network(entries);
const nodesAtRunTime = network({ R1: [resistor(1), "in", anyText], R2: [resistor(1), anyText, "gnd"] });
solve(nodesAtRunTime, grid).voltage(anyText);
// @ts-expect-error not a part of it
solve(nodesAtRunTime, grid).current("R3");
const anyNetwork: Network = highPass;
solve(anyNetwork, grid).voltage(anyText);

// The names as types.
const part: PartName<typeof highPass> = "L2";
const node: NodeName<typeof highPass> = "t";
// @ts-expect-error a coupling is not a part
const notPart: PartName<typeof highPass> = "K1";
// @ts-expect-error a coil named by a coupling is not a node
const notNode: NodeName<typeof highPass> = "L1";
void [part, node, notPart, notNode];

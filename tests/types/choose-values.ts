// Compiled, never run: what must compile and what must not where values are chosen for a network written out in code.
import { capacitor, inductor, loudspeaker, resistor, type PressurePerVolt } from "dividing-network";
import { chooseValues } from "dividing-network/design";

declare const pressures: readonly PressurePerVolt[];
const box = loudspeaker({
  network: {
    C1: [capacitor("10 µF"), "in", "t"],
    L1: [inductor("1 mH"), "t", "gnd"],
    R1: [resistor(8), "t", "gnd"],
    tweeter: [resistor(6), "t", "gnd"],
  },
  drivers: [{ name: "tweeter", pressures }],
});
const goal = { frequencies: [500, 1000] };

export const good = () =>
  chooseValues(box, {
    goal,
    values: { C1: ["6.8 µF", 1e-5, "open", capacitor("4.7 µF")], L1: [inductor("0.47 mH", { dcr: 0.2 })], R1: ["4R7", "short"] },
    polarity: { tweeter: "either" },
  });
export const bad = () => [
  // @ts-expect-error no such part
  chooseValues(box, { goal, values: { C2: ["6.8 µF"] } }),
  // @ts-expect-error a unit of another kind of part
  chooseValues(box, { goal, values: { C1: ["6.8 mH"] } }),
  // @ts-expect-error another kind of part
  chooseValues(box, { goal, values: { L1: [resistor(4)] } }),
  // @ts-expect-error no such polarity
  chooseValues(box, { goal, values: { R1: [1] }, polarity: { tweeter: "both" } }),
];
